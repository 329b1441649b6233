"""JupyterLab started for this machine alone: nothing asked of the network, nothing run from the folder it shows."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path
from urllib.parse import quote

_KERNEL = {
    "argv": [
        sys.executable,
        "-P",
        "-m",
        "ipykernel_launcher",
        "-f",
        "{connection_file}",
        "--IPKernelApp.ignore_cwd=1",
    ],
    "display_name": "Python 3 (cutopt)",
    "language": "python",
}
_SETTINGS: Mapping[str, Mapping[str, object]] = {
    # no box that asks for news, and no look for newer versions
    "@jupyterlab/apputils-extension/notification": {
        "fetchNews": "false",
        "checkForUpdates": False,
    },
    # a table opens as text that can be changed, not in the view that can only be read; a page of the guide set
    "@jupyterlab/docmanager-extension/plugin": {
        "defaultViewers": {"csv": "Editor", "markdown": "Markdown Preview"}
    },
}


def command_of(root: Path, notebook: Path, *, browser: bool = True) -> list[str]:
    """The words that start JupyterLab.

    Parameters
    ----------
    root : Path
        The folder that its list of files shows.
    notebook : Path
        Opened first; lies in `root` or below.
    browser : bool
        Whether a browser is opened, or only the address printed.

    Returns
    -------
    list of str
        With ``-P``, so that no ``jupyterlab.py`` or ``json.py`` of the current folder is taken for the real one.
    """
    inside = quote(notebook.resolve().relative_to(root.resolve()).as_posix())
    command = [
        sys.executable,
        "-P",
        "-m",
        "jupyterlab",
        f"--ServerApp.root_dir={root.resolve()}",
        "--ServerApp.ip=127.0.0.1",
        # the notebook alone: beside a list of files a phone has no room
        f"--LabApp.default_url=/doc/tree/{inside}",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        "--LabApp.extension_manager=readonly",
        "--LabApp.news_url=None",
        f"--LabApp.user_settings_dir={_home() / 'settings'}",
        f"--LabApp.workspaces_dir={_home() / 'workspaces'}",
    ]
    if not browser:
        command.append("--no-browser")
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        command.append("--allow-root")
    return command


def environment() -> dict[str, str]:
    """The surroundings of the server and of its kernels: none looks for modules in the folder where it works."""
    paths = [str(_home()), *filter(None, (os.environ.get("JUPYTER_PATH"),))]
    return os.environ | {"PYTHONSAFEPATH": "1", "JUPYTER_PATH": os.pathsep.join(paths)}


def start(command: list[str]) -> int:
    """Hand over to JupyterLab: it takes this process's place where the system can do that.

    It begins in a folder of our own, because programs look for their settings where they are started.
    """
    _prepare()
    sys.stdout.flush()
    if os.name == "posix":
        os.chdir(_home())
        os.execve(command[0], command, environment())
    return subprocess.call(command, env=environment(), cwd=_home())


def _prepare() -> None:
    """Write the kernel's command and the settings; settings that are there stay as the maker left them."""
    kernel = _home() / "kernels" / "python3" / "kernel.json"
    kernel.parent.mkdir(parents=True, exist_ok=True)
    kernel.write_text(json.dumps(_KERNEL, indent=1), encoding="utf-8")
    for plugin, entries in _SETTINGS.items():
        path = _home() / "settings" / f"{plugin}.jupyterlab-settings"
        path.parent.mkdir(parents=True, exist_ok=True)
        if not path.exists():
            path.write_text(json.dumps(entries, indent=1), encoding="utf-8")


def _home() -> Path:
    """Where our own settings of JupyterLab are kept: beside Jupyter's, or for now only where that cannot be."""
    from jupyter_core.paths import jupyter_data_dir

    home = Path(jupyter_data_dir()) / "cutopt"
    try:
        home.mkdir(parents=True, exist_ok=True)
    except OSError:
        home = (
            Path(tempfile.gettempdir())
            / f"cutopt-lab-{os.getuid() if hasattr(os, 'getuid') else 0}"
        )
        home.mkdir(mode=0o700, exist_ok=True)
    return home
