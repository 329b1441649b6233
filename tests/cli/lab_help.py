"""A JupyterLab started by `cutopt open`, with homes of its own, and what it says about itself."""

from __future__ import annotations

import json
import re
import signal
import subprocess
import time
import urllib.request
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

HOMES = ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR")


@dataclass(frozen=True, slots=True, kw_only=True)
class Lab:
    """A server that answers: its address, its token, the folder that it shows, the page that it opens."""

    url: str
    token: str
    root: Path
    page: str

    def ask(
        self, path: str, data: Mapping[str, object] | None = None
    ) -> dict[str, object]:
        """The answer of one request, a POST where there is data."""
        body = None if data is None else json.dumps(data).encode()
        request = urllib.request.Request(f"{self.url}{path}", data=body)
        request.add_header("Authorization", f"token {self.token}")
        with urllib.request.urlopen(request) as answer:
            return dict(json.load(answer))


@contextmanager
def lab(
    words: Sequence[str], environment: Mapping[str, str], home: Path, where: Path
) -> Iterator[Lab]:
    """Start the command `words` in the folder `where`, wait until its server answers, and end it."""
    own = {name: str(home / name.lower()) for name in HOMES}
    home.mkdir(exist_ok=True)
    said = home / "said.txt"
    with said.open("w") as out:
        process = subprocess.Popen(
            words, env={**environment, **own}, cwd=where, stdout=out, stderr=out
        )
    try:
        server = _waited_for(home / "jupyter_runtime_dir", process, said)
        page = re.search(r"http://127\.0\.0\.1:\d+/doc/\S+", said.read_text())
        assert page is not None
        yield Lab(
            url=server["url"],
            token=server["token"],
            root=Path(server["root_dir"]),
            page=page[0],
        )
    finally:
        process.send_signal(signal.SIGTERM)
        try:
            process.wait(timeout=20)
        except (
            subprocess.TimeoutExpired
        ):  # it waits for a kernel that has not come up yet
            process.kill()
            process.wait()


def _waited_for(
    runtime: Path, process: subprocess.Popen[bytes], said: Path
) -> dict[str, str]:
    """What the server writes about itself once it is up."""
    while True:
        assert process.poll() is None, said.read_text()
        for path in runtime.glob("jpserver-*.json"):
            text = path.read_text()
            if text.strip():
                server = json.loads(text)
                try:
                    with urllib.request.urlopen(
                        f"{server['url']}api/status?token={server['token']}"
                    ):
                        return dict(server)
                except OSError:
                    pass
        time.sleep(0.2)
