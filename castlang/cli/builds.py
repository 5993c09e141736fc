"""Reading the build that a command names, and telling what was found."""

import sys
from datetime import datetime
from pathlib import Path

from castlang.cli.previous import previous_starts
from castlang.cli.terminal import Progress, bold
from castlang.cli.trouble import Trouble
from castlang.pipeline import Compiled, compile_build
from castlang.problems.as_text import problem_text, tally
from castlang.problems.model import Severity
from castlang.source.files import Disk, main_text, read_whole

STDIN = "<stdin>"


def compiled(
    spec: str,
    search: str = "normal",
    units: str | None = None,
    close_to: str | None = None,
    *,
    since: datetime | None = None,
    again: Compiled | None = None,
) -> Compiled:
    """Compile the build that `spec` names; `-` is standard input. units: in place of the build's own.
    close_to: a binder to whose plan the new one is to keep. since: up to when work is told in other builds.
    again: the build as it was compiled before, to be read no second time. Raises Trouble when it cannot be
    read."""
    before = None if close_to is None else previous_starts(close_to)
    data: bytes | str
    if again is not None:
        name, main = (STDIN, Path("stdin.pour")) if spec == "-" else (spec, Path(spec))
        data = again.texts[name].encode()
    elif spec == "-":
        name, main = STDIN, Path("stdin.pour")
        data = read_whole(sys.stdin.buffer)
    else:
        name, main = spec, Path(spec)
        data = main_text(main)
    if isinstance(data, str):
        raise Trouble(f"{name} {data}")
    with Progress() as progress:
        return compile_build(
            name,
            data,
            Disk(main=main),
            progress,
            search=search,
            units=units,
            previous=before,
            since=since,
        )


def tell(build: Compiled, *, notes: bool = True) -> None:
    """Every finding, on standard error, in the order of the files; `notes`: also those that mend nothing."""
    strong = bold(sys.stderr)
    problems = [p for p in build.problems if notes or p.finding.severity is not Severity.NOTE]
    for problem in problems:
        print(problem_text(problem, build.texts, bold=strong), file=sys.stderr)
    if problems:
        print(tally(problems), file=sys.stderr)


def status(build: Compiled) -> int:
    """0 when no error and no warning remains, else 1."""
    return 0 if build.clean else 1
