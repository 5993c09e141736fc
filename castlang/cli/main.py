"""The door from the shell: words in, exit status out; no traceback for anything that a person can do."""

import gc
import os
import sys
from argparse import Namespace
from collections.abc import Sequence

from castlang.cli.arguments import parse, parser
from castlang.cli.trouble import Trouble

REPORT = "this is a mistake in castlang, not in the build; please report it with the build and these lines"


def run() -> None:
    """The console script."""
    few_collections()
    sys.exit(main(sys.argv[1:]))


def few_collections() -> None:
    """Have Python look for circles of dead objects after 100,000 new ones, not 700. Nearly all that is made
    of a build stays until the end; to look through it again and again was a sixth of the time at 1,000
    pieces, and more the longer the build."""
    gc.set_threshold(100_000, 10, 10)


def main(words: Sequence[str]) -> int:
    """Run one command. 0 clean, 1 findings, 2 trouble."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace", newline="")
    try:
        told = parse(words)
    except Trouble as trouble:
        print(f"castlang: {trouble}", file=sys.stderr)
        return 2
    if told.version:
        from importlib.metadata import version

        print(f"castlang {version('castlang')}")
        return 0
    if told.command is None:
        parser().print_help()
        return 0
    return _guarded(told)


def _guarded(told: Namespace) -> int:
    try:
        from castlang.cli.commands import COMMANDS

        status = COMMANDS[told.command](told)
        sys.stdout.flush()
        return status
    except Trouble as trouble:
        print(f"castlang: {trouble}", file=sys.stderr)
    except BrokenPipeError:
        # The reader of our output went away (a pager was closed); nothing more can be said to it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except KeyboardInterrupt:
        print("castlang: stopped", file=sys.stderr)
    except Exception as error:
        import traceback

        where = traceback.extract_tb(error.__traceback__)[-1]
        place = os.path.basename(where.filename)
        print(f"castlang: {type(error).__name__}: {error} ({place}:{where.lineno})", file=sys.stderr)
        print(f"castlang: {REPORT}", file=sys.stderr)
    return 2
