"""What the tests of the commands share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from cutopt.cli import main

QUICK = ("--work", "300")
SMALL = {
    "job.toml": 'name = "small"\nunit = "in"\n',
    "pile.txt": "pear 9 x 9\noat 8 x 6 less 3 x 2\n",
    "cuts.csv": "cut,count,width,length,fabrics\nsquare,6,3,3,pear\nleaf,2,2 1/2,4,oat\n",
}

Write = Callable[..., Path]


def run(*arguments: object) -> int:
    """The exit code of a command."""
    return main([str(argument) for argument in arguments])
