"""What a merge left undecided: two answers to one place, between the marks that git writes.

The marks are git's (git-merge(1), "How conflicts are presented"): seven signs at the left edge.
"""

import re
from collections.abc import Sequence

from castlang.problems.model import Problem
from castlang.source.model import Span
from castlang.syntax import findings

_MARK = re.compile(r"(<{7}|\|{7}|={7}|>{7})(?: (.*))?\Z")


def undecided(rows: Sequence[str], file: str) -> tuple[frozenset[int], tuple[Problem, ...]]:
    """The numbers (from 1) of the lines to leave unread, and one problem for each place left undecided.

    Marks are left unread, and so is all but the first answer, so that nothing is told twice for standing in
    both. A mark without its fellows is told by itself.
    """
    unread: set[int] = set()
    problems: list[Problem] = []
    opened: list[tuple[int, str]] = []
    for number, row in enumerate(rows, 1):
        mark = _MARK.match(row.rstrip(" \t"))
        if mark is None:
            continue
        sign, name = mark.group(1)[0], mark.group(2) or ""
        unread.add(number)
        if sign == "<" or not opened:
            problems += _alone(file, opened)
            opened = [(number, sign + name)]
        else:
            opened.append((number, sign + name))
        if sign == ">":
            signs = "".join(told[0] for _, told in opened)
            if signs in ("<=>", "<|=>"):
                problems.append(_conflict(file, opened))
                unread.update(range(opened[1][0], number))
            else:
                problems += _alone(file, opened)
            opened = []
    return frozenset(unread), (*problems, *_alone(file, opened))


def _conflict(file: str, opened: Sequence[tuple[int, str]]) -> Problem:
    first, between, last = opened[0], opened[-2], opened[-1]
    ours, theirs = (f"what `{name[1:]}` says" if name[1:] else "one answer" for _, name in (first, last))
    return Problem(
        finding=findings.MERGE_CONFLICT,
        message=f"a merge left lines {first[0]} to {last[0]} undecided",
        span=_place(file, first[0]),
        related=(
            (_place(file, first[0] + 1), f"{ours} begins here"),
            (_place(file, between[0] + 1), f"{theirs} begins here"),
        ),
    )


def _alone(file: str, opened: Sequence[tuple[int, str]]) -> list[Problem]:
    return [
        Problem(
            finding=findings.MERGE_CONFLICT,
            message=f"the mark `{told[0] * 7}` of a merge stands here without the others",
            span=_place(file, number),
            remedy="take the mark out",
        )
        for number, told in opened
    ]


def _place(file: str, number: int) -> Span:
    return Span(file=file, line=number, column=1, end=8)
