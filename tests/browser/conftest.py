"""A page of the system's chromium, wide as a desk or narrow as a phone; nothing may be asked of the network."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Request, sync_playwright

from tests.browser.opened import OpenPage

FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@pytest.fixture(scope="session")
def browser() -> str:
    """The program; where CUTOPT_BROWSER names it, it has to be there."""
    named = os.environ.get("CUTOPT_BROWSER")
    found = (
        named
        or shutil.which("chromium")
        or shutil.which("chromium-browser")
        or shutil.which("google-chrome")
    )
    if not found:
        pytest.skip("no chromium on this machine")
    return found


@pytest.fixture
def open_page(browser: str, tmp_path: Path) -> Iterator[OpenPage]:
    contexts: list[BrowserContext] = []
    strangers: list[str] = []

    def note(request: Request) -> None:
        if not request.url.startswith(
            ("http://127.0.0.1:", "ws://127.0.0.1:", "data:", "blob:")
        ):
            strangers.append(request.url)

    with sync_playwright() as playwright:

        def opened(width: int) -> Page:
            home = tmp_path / f"browser-{len(contexts)}"
            context = playwright.chromium.launch_persistent_context(
                str(home),
                executable_path=browser,
                args=list(FLAGS),
                viewport={"width": width, "height": 860},
            )
            contexts.append(context)
            context.on("request", note)
            return context.pages[0]

        yield opened
        for context in contexts:
            context.close()
    assert strangers == []
