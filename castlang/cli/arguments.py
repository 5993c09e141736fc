"""The words of the command line."""

import argparse
from collections.abc import Sequence

EPILOG = "exit status: 0 clean, 1 findings, 2 trouble"
TABLES = ("order", "batches", "plan", "weights")
_HELP = {
    "order": "print what to buy, by when, in whole packages",
    "batches": "print every batch with its weights",
    "plan": "print when each step is done, by how many",
    "weights": "print what pieces weigh, and what each lift asks of people",
}


def parser() -> argparse.ArgumentParser:
    """The parser of the whole command line."""
    top = argparse.ArgumentParser(
        prog="castlang",
        description="Check a build of cast pieces and print the crew's binder.",
        epilog=EPILOG,
        allow_abbrev=False,
    )
    top.add_argument("--version", action="store_true", help="print the version")
    commands = top.add_subparsers(dest="command", metavar="COMMAND")
    check = _command(commands, "check", "check a build: read it, measure it, plan it")
    _spec(check)
    check.add_argument("--json", action="store_true", help="print the findings as JSON")
    binder = _command(commands, "binder", "check a build and write its binder: PDF, CSV and JSON in one folder")
    _spec(binder)
    _printing(binder)
    binder.add_argument("--out", metavar="DIR", help="the folder to write (default: NAME-binder beside the build)")
    binder.add_argument("--paper", choices=("a4", "letter"), help="the paper (default: letter for us units, else a4)")
    binder.add_argument("--revision", metavar="NAME", help="the revision printed on each page")
    for name in TABLES:
        table = _command(commands, name, _HELP[name])
        _spec(table)
        _printing(table)
        form = table.add_mutually_exclusive_group()
        form.add_argument("--csv", action="store_true", help="print CSV (RFC 4180)")
        form.add_argument("--json", action="store_true", help="print JSON")
    begin = _command(commands, "begin", "write a small commented build to start from")
    begin.add_argument("file", metavar="FILE", help="the file to write, such as bench.pour; `-` prints it")
    why = _command(commands, "why", "explain a finding")
    why.add_argument("name", metavar="NAME", nargs="?", help="the name in brackets behind a message; none lists all")
    return top


def parse(words: Sequence[str]) -> argparse.Namespace:
    """The command line taken apart; argparse ends the run itself (status 2) when it cannot."""
    return parser().parse_args(words)


def _command(commands, name: str, text: str) -> argparse.ArgumentParser:  # type: ignore[no-untyped-def, type-arg]
    made: argparse.ArgumentParser = commands.add_parser(
        name, help=text, description=text[0].upper() + text[1:] + ".", epilog=EPILOG, allow_abbrev=False
    )
    return made


def _spec(command: argparse.ArgumentParser) -> None:
    command.add_argument("spec", metavar="SPEC", help="the build, a .pour file; `-` reads standard input")


def _printing(command: argparse.ArgumentParser) -> None:
    command.add_argument("--units", choices=("metric", "us"), help="the units printed (default: the build's)")
