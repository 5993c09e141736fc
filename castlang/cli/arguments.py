"""The words of the command line."""

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from castlang.cli.trouble import Trouble

if TYPE_CHECKING:
    Commands = argparse._SubParsersAction[argparse.ArgumentParser]

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
    _search(check)
    _close_to(check)
    check.add_argument("--json", action="store_true", help="print the findings as JSON")
    binder = _command(
        commands, "binder", "check a build and write its binder: PDF, CSV and JSON in one folder"
    )
    binder.add_argument(
        "specs",
        metavar="SPEC",
        nargs="+",
        help="the build; several are planned in one shop, each in its binder",
    )
    _search(binder)
    _close_to(binder)
    _printing(binder)
    binder.add_argument(
        "--out",
        metavar="DIR",
        help="the folder to write (default: NAME-binder beside the build); of several builds the one for all",
    )
    binder.add_argument(
        "--paper", choices=("a4", "letter"), help="the paper (default: letter for us units, else a4)"
    )
    binder.add_argument("--revision", metavar="NAME", help="the revision printed on each page")
    for name in TABLES:
        table = _command(commands, name, _HELP[name])
        if name == "order":
            table.add_argument(
                "specs", metavar="SPEC", nargs="+", help="the build; several are ordered for together"
            )
        elif name == "plan":
            table.add_argument(
                "specs", metavar="SPEC", nargs="+", help="the build; several are planned in one shop"
            )
        else:
            _spec(table)
        _search(table)
        _printing(table)
        if name == "plan":
            _close_to(table)
            table.add_argument(
                "--one-more", action="store_true", help="print what one more of each thing would save"
            )
        form = table.add_mutually_exclusive_group()
        form.add_argument("--csv", action="store_true", help="print CSV (RFC 4180)")
        form.add_argument("--json", action="store_true", help="print JSON")
        if name == "plan":
            form.add_argument(
                "--calendar", action="store_true", help="print a calendar to read in (iCalendar, RFC 5545)"
            )
    trace = _command(commands, "trace", "print where a figure comes from")
    _spec(trace)
    trace.add_argument(
        "name", metavar="NAME", nargs="?", help="the name that a sheet prints with the figure; none lists all"
    )
    _printing(trace)
    trace.add_argument("--depth", type=_depth, metavar="N", help="only N figures deep (default: all the way)")
    begin = _command(commands, "begin", "write a small commented build to start from")
    begin.add_argument("file", metavar="FILE", help="the file to write, such as bench.pour; `-` prints it")
    why = _command(commands, "why", "explain a finding")
    why.add_argument(
        "name", metavar="NAME", nargs="?", help="the name in brackets behind a message; none lists all"
    )
    tidy = _command(commands, "tidy", "set builds in one style; what they mean is kept")
    tidy.add_argument("files", metavar="FILE", nargs="+", help="the files to tidy; `-` is standard input")
    tidy.add_argument("--check", action="store_true", help="write nothing; status 1 when a file would change")
    _compare(_command(commands, "compare", "tell what changed between two builds, and what follows from it"))
    _git(_command(commands, "git", "have git show builds tidied and check each commit"))
    return top


def parse(words: Sequence[str]) -> argparse.Namespace:
    """The command line taken apart; argparse ends the run itself (status 2) when it cannot.

    Trouble: a first word that is no command.
    """
    top = parser()
    if words and not words[0].startswith("-") and words[0] not in _commands_of(top):
        raise Trouble(_no_command(words[0], _commands_of(top)))
    return top.parse_args(words)


def _commands_of(top: argparse.ArgumentParser) -> tuple[str, ...]:
    return tuple(name for action in top._actions for name in action.choices or () if isinstance(name, str))


def _no_command(word: str, known: Sequence[str]) -> str:
    from difflib import get_close_matches

    near = get_close_matches(word.lower(), known, n=1)
    hint = f"did you mean `castlang {near[0]}`?" if near else f"there are {', '.join(known)}"
    return f"there is no command `{word}`; {hint}"


def _command(commands: "Commands", name: str, text: str) -> argparse.ArgumentParser:
    made: argparse.ArgumentParser = commands.add_parser(
        name, help=text, description=text[0].upper() + text[1:] + ".", epilog=EPILOG, allow_abbrev=False
    )
    return made


def _close_to(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--close-to", metavar="BINDER", help="of plans that end alike, take the one closest to this binder's"
    )


def _compare(command: argparse.ArgumentParser) -> None:
    command.epilog = "exit status: 0 same, 1 different, 2 trouble"
    command.add_argument(
        "what",
        metavar="OLD NEW [FILE]",
        nargs="+",
        help="two files; or two git revisions and a file; or a git revision and a file as it lies there",
    )
    _search(command)
    _printing(command)
    form = command.add_mutually_exclusive_group()
    form.add_argument("--markdown", action="store_true", help="print Markdown, for a review")
    form.add_argument("--json", action="store_true", help="print JSON")
    command.add_argument(
        "--notice", metavar="FILE", help="write a change notice as PDF, for the front of the binder"
    )


def _git(command: argparse.ArgumentParser) -> None:
    actions = command.add_subparsers(dest="action", metavar="on|off|state", required=True)
    said = (("on", "set this repository up"), ("off", "take it all out"), ("state", "tell what is on"))
    for name, text in said:
        actions.add_parser(name, help=text, allow_abbrev=False)
    # Called by git, not by people, so the help does not list them.
    actions.add_parser("textconv").add_argument("file")
    actions.add_parser("staged")


def _spec(command: argparse.ArgumentParser) -> None:
    command.add_argument("spec", metavar="SPEC", help="the build, a .pour file; `-` reads standard input")


def _search(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--search",
        choices=("quick", "normal", "thorough"),
        default="normal",
        help="how hard to look for a plan (default: normal; thorough wants the solver)",
    )


def _depth(text: str) -> int:
    if not text.isascii() or not text.isdigit() or int(text) < 1:
        raise argparse.ArgumentTypeError(f"`{text}` is not a whole number from 1")
    return int(text)


def _printing(command: argparse.ArgumentParser) -> None:
    command.add_argument("--units", choices=("metric", "us"), help="the units printed (default: the build's)")
