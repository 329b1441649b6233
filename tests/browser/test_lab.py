"""`cutopt open` in a browser: the notebook at once, the tables to be changed, the mistakes told, the plan drawn."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.opened import OpenPage
from tests.cli.lab_help import Lab, lab
from tests.places import ROOT

pytestmark = pytest.mark.browser
PATIENT = 120_000  # milliseconds: a guard only
JOB = {
    "job.toml": 'name = "small"\nunit = "in"\n',
    "pile.txt": "pear 9 x 9\noat 8 x 6 less 3 x 2\n",
    "cuts.csv": "cut,count,width,length,fabrics\nsquare,6,3,3,pear\nleaf,2,2 1/2,4,oat\n",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    folder = tmp_path / "pears 🍐"
    folder.mkdir()
    for name, text in JOB.items():
        (folder / name).write_text(text, encoding="utf-8")
    return folder


@pytest.fixture
def server(folder: Path, tmp_path: Path) -> Iterator[Lab]:
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    words = [sys.executable, "-P", "-m", "cutopt", "open", str(folder), "--no-browser"]
    with lab(words, environment, tmp_path / "homes", tmp_path) as running:
        yield running


def shown(page: Page, server: Lab) -> None:
    page.set_default_timeout(PATIENT)
    page.goto(server.page)
    page.wait_for_selector(".jp-Notebook")


def run_tables(page: Page) -> None:
    """Run the first code cell once the kernel listens: the tables appear."""
    page.wait_for_selector("text=/Python 3 .* Idle/")
    page.locator(".jp-CodeCell .cm-content").first.click()
    page.keyboard.press("Shift+Enter")
    page.wait_for_selector(".cutopt-tables")


def test_tables_are_changed_and_read_again(
    server: Lab, open_page: OpenPage, folder: Path
) -> None:
    page = open_page(1280)
    shown(page, server)
    run_tables(page)
    said = page.locator(".cutopt-said")
    expect(said).to_contain_text("The job reads well: 2 leftovers, 2 rows")

    page.locator(".cutopt-tables textarea").fill("pear 9 by\n")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(said).to_contain_text("Saved pile.txt")
    expect(page.locator(".cutopt-mistakes li").first).to_contain_text("pile.txt row 1")
    assert (folder / "pile.txt").read_text() == "pear 9 by\n"

    page.locator(".cutopt-tables textarea").fill("pear 9 x 9\noat 8 x 6\nplum 4 x 4\n")
    page.get_by_role("tab", name="cuts.csv").click()
    page.get_by_label("count", exact=True).first.fill("5")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(said).to_contain_text("The job reads well: 3 leftovers, 2 rows")
    assert (folder / "cuts.csv").read_text() == JOB["cuts.csv"].replace(
        "square,6", "square,5"
    )


@pytest.mark.slow
def test_what_another_program_wrote_is_not_written_over(
    server: Lab, open_page: OpenPage, folder: Path
) -> None:
    page = open_page(1280)
    shown(page, server)
    run_tables(page)
    (folder / "pile.txt").write_text("pear 10 x 10\noat 8 x 6\n")
    page.locator(".cutopt-tables textarea").fill("pear 5 x 5\n")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.locator(".cutopt-said")).to_contain_text("changed by another program")
    assert "10 x 10" in (folder / "pile.txt").read_text()
    page.get_by_role("button", name="Read again").click()
    expect(page.locator(".cutopt-tables textarea")).to_have_value(
        "pear 10 x 10\noat 8 x 6\n"
    )


@pytest.mark.slow
def test_a_phone_shows_the_notebook(server: Lab, open_page: OpenPage) -> None:
    """At 390 points the words have most of the width, and no list of files lies over them."""
    page = open_page(390)
    shown(page, server)
    box = page.locator(".jp-Notebook").bounding_box()
    assert box is not None
    assert box["width"] > 250
    assert not page.locator(".jp-DirListing").is_visible()


@pytest.mark.slow
def test_the_guide_is_read_beside_the_job(server: Lab, open_page: OpenPage) -> None:
    """As a page, not as its Markdown; from its list to another page."""
    page = open_page(1280)
    shown(page, server)
    page.get_by_role("link", name="the guide").click()
    read = page.locator(".jp-MarkdownViewer")
    expect(read.get_by_role("heading", name="The guide")).to_be_visible()
    read.get_by_role("link", name="How you do it").click()
    expect(page.get_by_role("heading", name="How you do it")).to_be_visible()
