"""Reading the build that a command names, and telling what was found."""

import sys
from collections.abc import Mapping
from pathlib import Path

from castlang.cli.terminal import Progress, bold
from castlang.pipeline import Compiled, compile_build
from castlang.problems.as_text import problem_text, tally
from castlang.source.files import Disk, main_text

STDIN = "<stdin>"


class Trouble(Exception):  # noqa: N818  (it is told as trouble)
    """Something outside the build went wrong; the message stands behind `castlang:`, and the status is 2."""


def compiled(spec: str) -> Compiled:
    """Compile the build that `spec` names; `-` is standard input. Raises Trouble when it cannot be read."""
    if spec == "-":
        name, data, main = STDIN, sys.stdin.buffer.read(), Path("stdin.pour")
    else:
        main = Path(spec)
        found = main_text(main)
        if isinstance(found, str):
            raise Trouble(f"{spec} {found}")
        name, data = spec, found
    with Progress() as progress:
        return compile_build(name, data, Disk(main=main), progress)


def tell(build: Compiled, *, verbose: bool = True) -> None:
    """Every finding, on standard error, in the order of the files."""
    strong = bold(sys.stderr)
    texts: Mapping[str, str] = build.texts
    for problem in build.problems:
        print(problem_text(problem, texts, bold=strong), file=sys.stderr)
    if verbose and build.problems:
        print(f"{tally(build.problems)}", file=sys.stderr)


def status(build: Compiled) -> int:
    """0 when no error and no warning remains, else 1."""
    return 0 if build.clean else 1
