"""What opens a page in the browser, so many dots wide."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from playwright.sync_api import Page

OpenPage: TypeAlias = Callable[[int], Page]
