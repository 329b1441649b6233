"""The command line with all its words; what a command does stands in :mod:`cutopt.cli`."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Final, TypeAlias

Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"

# of a search for which nothing is said
SECONDS: Final = 20.0
_EXIT_CODES = (
    "Exit codes: 0 done; 1 something that must be cut cannot be (the plan for the rest is written, with the reason); "
    "2 bad input, or a plan that does not hold; 3 an error of the program itself; 130 stopped before there were pages."
)


def parser() -> argparse.ArgumentParser:
    """The command line with all its words."""
    top = argparse.ArgumentParser(
        prog="cutopt",
        description="Plans straight cuts through a pile of leftovers and the least new fabric.",
        epilog=_EXIT_CODES,
    )
    top.add_argument(
        "--version", action=_Version, nargs=0, help="say which version this is"
    )
    commands = top.add_subparsers(title="commands", metavar="COMMAND", required=True)
    _add_plan(commands)
    _add_check(commands)
    _add_print(commands)
    _add_bench(commands)
    _add_new(commands)
    _add_name(commands)
    _add_open(commands)
    return top


class _Version(argparse.Action):
    """Says the version when it is asked for, and not before it is looked up."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        import cutopt

        sys.stdout.write(f"cutopt {cutopt.__version__}\n")
        parser.exit()


def _add_plan(commands: Commands) -> None:
    plan = commands.add_parser("plan", help="plan a job and write its cutting pages")
    plan.add_argument(
        "folder", metavar="FOLDER", type=Path, help="the job folder (or one .xlsx file)"
    )
    stop = plan.add_mutually_exclusive_group()
    stop.add_argument(
        "--seconds",
        metavar="S",
        type=float,
        help=f"search so long ({SECONDS:g} unless told)",
    )
    stop.add_argument(
        "--work",
        metavar="N",
        type=int,
        help="search so many rounds: the same plan every time",
    )
    plan.add_argument(
        "--seed",
        metavar="K",
        type=int,
        default=0,
        help="another number tries it another way (0)",
    )
    plan.add_argument(
        "--out",
        metavar="DIR",
        type=Path,
        help="where the pages go (out/NAME OF THE JOB FOLDER)",
    )
    plan.add_argument(
        "--all",
        action="store_true",
        help="pages for the other ways to do it too, in folders inside",
    )
    plan.set_defaults(command="plan")


def _add_bench(commands: Commands) -> None:
    bench = commands.add_parser(
        "bench", help="solve published instances and compare with what is known"
    )
    bench.add_argument(
        "--data",
        metavar="DIR",
        type=Path,
        help="folder of instances (else CUTOPT_BENCH_DATA)",
    )
    bench.add_argument(
        "--family", metavar="NAME", help="only this family, such as classic"
    )
    bench.add_argument(
        "--seconds", metavar="S", type=float, default=5.0, help="for each instance (5)"
    )
    bench.add_argument(
        "--json", metavar="FILE", type=Path, help="write the figures there too"
    )
    bench.set_defaults(command="bench")


def _add_check(commands: Commands) -> None:
    check = commands.add_parser(
        "check", help="check a plan against its job, cut by cut"
    )
    check.add_argument("folder", metavar="FOLDER", type=Path, help="the job folder")
    check.add_argument("plan", metavar="PLAN.json", type=Path)
    check.set_defaults(command="check")


def _add_print(commands: Commands) -> None:
    again = commands.add_parser(
        "print", help="write the cutting pages of a saved plan again"
    )
    again.add_argument(
        "folder", metavar="FOLDER", type=Path, help="the job folder (or one .xlsx file)"
    )
    again.add_argument("plan", metavar="PLAN.json", type=Path)
    again.add_argument(
        "--out",
        metavar="DIR",
        type=Path,
        help="where the pages go (out/NAME OF THE JOB FOLDER)",
    )
    again.set_defaults(command="print")


def _add_new(commands: Commands) -> None:
    new = commands.add_parser("new", help="write a commented job to begin with")
    new.add_argument(
        "folder",
        metavar="FOLDER",
        type=Path,
        help="made where it is not there (or one .xlsx file)",
    )
    new.add_argument(
        "--unit",
        choices=("in", "cm"),
        default="in",
        help="inches (the default) or centimetres",
    )
    new.add_argument(
        "--quilt", action="store_true", help="with a quilt in sentences to fill in"
    )
    new.set_defaults(command="new")


def _add_name(commands: Commands) -> None:
    name = commands.add_parser(
        "name", help="write the names of the pieces into pile.txt, so that they stay"
    )
    name.add_argument("folder", metavar="FOLDER", type=Path, help="the job folder")
    name.set_defaults(command="name")


def _add_open(commands: Commands) -> None:
    start = commands.add_parser(
        "open", help="work on a job in the browser, where it is, or with the lessons"
    )
    start.add_argument(
        "folder",
        metavar="FOLDER",
        type=Path,
        nargs="?",
        help="a job folder or workbook of your own (without one: the lessons)",
    )
    start.add_argument(
        "--no-browser", action="store_true", help="only print the address"
    )
    start.set_defaults(command="open")
