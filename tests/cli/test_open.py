"""`cutopt open`: a job where it is, the lessons in a folder of their own, and nothing run from either."""

from __future__ import annotations

import json
import os
from pathlib import Path

import nbformat
import pytest
from jupyter_client.kernelspec import KernelSpecManager
from jupyter_client.manager import KernelManager

from cutopt.app.lab import command_of
from cutopt.app.lab import environment as lab_environment
from cutopt.app.workshop import open_job, open_lessons
from cutopt.cli import BAD_INPUT
from cutopt.errors import JobError, Problem
from cutopt.tables import read_job, save_job
from tests.cli.cli_help import Write, run
from tests.cli.lab_help import lab
from tests.places import ROOT
from tests.written import PAGES, Page

NAMES = ("small", 'my "first" {quilt}', "pears 🍐", "two words")
# names under which programs look for modules and settings where they are started
TRAPS = (
    "json.py",
    "jupyterlab.py",
    "ipykernel_launcher.py",
    "numpy.py",
    "sitecustomize.py",
    "traitlets.py",
    "jupyter_config.py",
    "jupyter_lab_config.py",
    "jupyter_server_config.py",
    "ipython_config.py",
    "ipython_kernel_config.py",
)


def cells(notebook: Path) -> list[str]:
    book = nbformat.read(notebook, as_version=4)
    nbformat.validate(book)
    return [cell.source for cell in book.cells if cell.cell_type == "code"]


@pytest.mark.parametrize("name", NAMES)
def test_a_job_is_opened_where_it_is(write: Write, name: str) -> None:
    folder = write(name)
    opened = open_job(folder)
    assert opened.root == folder
    assert opened.notebook.parent == folder
    code = cells(opened.notebook)
    for source in code:
        compile(source, "cell", "exec")
    assert any('co.edit_tables(".")' in source for source in code)
    assert read_job(folder).name == "small"  # the notebook is no table


def test_what_was_changed_in_the_notebook_stays(write: Write) -> None:
    folder = write()
    notebook = open_job(folder).notebook
    notebook.write_text("my own")
    assert open_job(folder).notebook.read_text() == "my own"


def test_two_jobs_of_one_name_are_two(write: Write, here: Path) -> None:
    """Each is read where it is: no copy of the first is shown for the second."""
    first = write()
    (here / "other").mkdir()
    second = first.rename(here / "other" / "small")
    again = write()
    assert open_job(second).notebook.parent != open_job(again).notebook.parent


def test_the_settings_file_stands_for_its_folder(write: Write) -> None:
    folder = write()
    assert open_job(folder / "job.toml") == open_job(folder)


def test_a_workbook_has_its_notebook_beside_it(write: Write, here: Path) -> None:
    save_job(read_job(write()), here / "pears 🍐.xlsx")
    opened = open_job(here / "pears 🍐.xlsx")
    assert opened.notebook == here / "pears 🍐.ipynb"
    assert any(
        'co.read_job("pears 🍐.xlsx")' in source for source in cells(opened.notebook)
    )


@pytest.mark.parametrize("what", ["nowhere", "empty", "nowhere.xlsx"])
def test_where_there_is_no_job_nothing_is_made(here: Path, what: str) -> None:
    (here / "empty").mkdir()
    before = sorted(here.rglob("*"))
    assert run("open", what, "--no-browser") == BAD_INPUT
    assert sorted(here.rglob("*")) == before


def test_a_job_with_mistakes_is_opened_to_mend_them(write: Write) -> None:
    folder = write(pile_txt="pear 9 by\n")
    assert open_job(folder).notebook.is_file()
    with pytest.raises(JobError, match="pile"):
        read_job(folder)


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write anywhere"
)
def test_a_folder_that_cannot_be_written(write: Write) -> None:
    folder = write()
    folder.chmod(0o500)
    with pytest.raises(Problem, match="copy the job"):
        open_job(folder)


def test_the_lessons_are_copied_once(here: Path) -> None:
    assert open_lessons(here / "shop").notebook.name == "01_use_up_scraps.ipynb"
    assert read_job(here / "shop" / "data" / "orchard") == read_job(
        ROOT / "data" / "orchard"
    )
    assert read_job(here / "shop" / "data" / "orchard-back").backs
    (here / "shop" / "data" / "orchard" / "pile.txt").write_text("pear 5 x 5\n")
    open_lessons(here / "shop")
    assert (
        here / "shop" / "data" / "orchard" / "pile.txt"
    ).read_text() == "pear 5 x 5\n"


def test_the_guide_of_this_version_lies_beside_the_job(write: Write) -> None:
    """A page of an older version is written anew; what a maker put beside the pages stays."""
    folder = write()
    guide = folder / "cutopt-guide"
    assert "](cutopt-guide/index.md)" in open_job(folder).notebook.read_text()
    pages = {path.name: path.read_text() for path in guide.glob("*.md")}
    assert pages == {name: told.text for name, told in shipped_pages().items()}
    pictures = {path.name for path in guide.iterdir()} - set(pages)
    assert pictures == {"blocks.png"}
    (guide / "settings.md").write_text("an older one")
    (guide / "mine.md").write_text("my own")
    open_job(folder)
    assert (guide / "settings.md").read_text() == pages["settings.md"]
    assert (guide / "mine.md").read_text() == "my own"
    assert read_job(folder).cuts


def shipped_pages() -> dict[str, Page]:
    return {f"{name}.md": told for name, told in PAGES.items()}


def test_a_guide_that_cannot_be_written_is_told(write: Write) -> None:
    folder = write()
    (folder / "cutopt-guide").write_text("a file in its place")
    with pytest.raises(Problem, match="copy the job"):
        open_job(folder)


def test_the_lessons_have_the_guide_beside_them(here: Path) -> None:
    opened = open_lessons(here / "shop")
    assert (opened.root / "cutopt-guide" / "index.md").is_file()


def test_the_command_asks_nothing_of_the_network() -> None:
    words = " ".join(command_of(Path("shop"), Path("shop/a.ipynb"), browser=False))
    for option in (
        "ip=127.0.0.1",
        "NeverCheckForUpdate",
        "extension_manager=readonly",
        "news_url=None",
        " -P ",
    ):
        assert option in words
    assert ("--allow-root" in words) == (os.name == "posix" and os.geteuid() == 0)


def test_nothing_of_the_folder_is_run(
    write: Write, environment: dict[str, str], here: Path, command: list[str]
) -> None:
    """Started in a folder full of traps, the server and a kernel come up, and no trap has been sprung."""
    folder = write("pears 🍐")
    for name in TRAPS:
        (folder / name).write_text(
            f"open({str(here / 'sprung')!r}, 'a').write({name!r})\n"
        )
    words = [command[0], "-P", *command[1:], "open", ".", "--no-browser"]
    with lab(words, environment, here / "homes", folder) as server:
        assert server.root == folder.resolve()
        assert server.ask("api/contents/notebook.ipynb?content=0")["type"] == "notebook"
        news = json.loads(
            next(here.rglob("notification.jupyterlab-settings")).read_text()
        )
    assert news["fetchNews"] == "false"
    (kernels,) = here.rglob("kernels")
    assert (
        ran(
            kernels,
            folder,
            "import json, numpy; print(json.dumps(numpy.arange(2).tolist()))",
        )
        == "[0, 1]\n"
    )
    assert not (here / "sprung").exists(), (here / "sprung").read_text()


def ran(kernels: Path, folder: Path, code: str) -> str:
    """What code prints in a kernel that works in the folder, started as the server starts it."""
    manager = KernelManager(
        kernel_name="python3",
        kernel_spec_manager=KernelSpecManager(kernel_dirs=[str(kernels)]),
    )
    manager.start_kernel(cwd=str(folder), env=lab_environment())
    client = manager.client()
    client.start_channels()
    printed: list[str] = []
    try:
        client.wait_for_ready(timeout=120)
        client.execute_interactive(
            code, timeout=120, output_hook=lambda told: printed.append(text_of(told))
        )
    finally:
        client.stop_channels()
        manager.shutdown_kernel(now=True)
    return "".join(printed)


def text_of(told: dict[str, dict[str, str]]) -> str:
    content = told["content"]
    return content.get("text", "") or content.get("evalue", "")
