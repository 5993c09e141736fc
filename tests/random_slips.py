"""Random slips of the pen: what hands, merges and broken files do to a text."""

import re
from collections.abc import Callable

from hypothesis import strategies as st

MARKS = st.sampled_from(
    ("\t", "\0", "\ufeff", "\u202e", "\u00a0", "\u2028", "\r", "\x0c", "\x1b[31m", '"', "'", "#", ",", ".",
     "-", "/", "0", "-1", "1/0", "9" * 40, "1e9", "1,200", "\u00bd", "\u2033", "\u00b0C", "\u00e9",
     "\u6df7\u51dd\u571f", "\U0001f525", "..", "a.b.c.d", "mm", "of", "on", "to", "by", "all", "each", "full",
     "fill", "2027-02-30", "0000-00-00", "9999-12-31", "24:00", "99:99", "%", "degK", "*", "+", "=", "{",
     "$5")
)  # fmt: skip
"""Words and signs that belong nowhere, or only just."""

BLOCKS = st.sampled_from(
    ('use "main.pour"', 'use "../secret"', 'use "\0"', 'use ""', 'use "/"', 'use "part.pour"', "size a a",
     "size a 1 mm - 2 mm", "build", "piece p", "shop", "mix m from m", "stock s", "job j",
     "done x 2027-03-01", 'waive all on all "so"', "waive heavy-lift on x",
     'measured density of x 0 kg/m3 "so"', "assume laps 0 mm")
)  # fmt: skip
"""Lines for the outermost level, few of them right."""


@st.composite
def slipped(draw: st.DrawFn, text: str) -> bytes:
    """`text` with one to six slips, as bytes that need not be text any more."""
    lines = text.split("\n")
    for _ in range(draw(st.sampled_from((1, 1, 1, 2, 3, 6)))):
        draw(st.sampled_from(_SLIPS))(draw, lines)
        lines = lines or [""]
    data = "\n".join(lines).encode("utf-8", "surrogatepass")
    if draw(st.integers(0, 11)) == 0:
        at = draw(st.integers(0, len(data)))
        return data[:at] + draw(st.binary(max_size=6)) + data[at + draw(st.integers(0, 6)) :]
    return data


Slip = Callable[[st.DrawFn, list[str]], None]


def _row(draw: st.DrawFn, lines: list[str]) -> int:
    return draw(st.integers(0, len(lines) - 1))


def _cut(draw: st.DrawFn, lines: list[str]) -> None:
    del lines[_row(draw, lines)]


def _cut_off(draw: st.DrawFn, lines: list[str]) -> None:
    row = _row(draw, lines)
    lines[row] = lines[row][: draw(st.integers(0, len(lines[row])))]
    if draw(st.integers(0, 4)) == 0:
        del lines[row + 1 :]


def _twice(draw: st.DrawFn, lines: list[str]) -> None:
    row = _row(draw, lines)
    lines.insert(_row(draw, lines), lines[row])


def _indent(draw: st.DrawFn, lines: list[str]) -> None:
    row = _row(draw, lines)
    lines[row] = draw(st.sampled_from(("", "  ", "    ", "        ", "\t", " \t "))) + lines[row].lstrip()


def _block(draw: st.DrawFn, lines: list[str]) -> None:
    lines.insert(_row(draw, lines), draw(BLOCKS))


def _letters(draw: st.DrawFn, lines: list[str]) -> None:
    row = _row(draw, lines)
    at = draw(st.integers(0, len(lines[row])))
    strange = draw(st.text(max_size=4))
    lines[row] = lines[row][:at] + strange + lines[row][at + draw(st.integers(0, 3)) :]


def _words(change: Callable[[st.DrawFn, list[str], int], None]) -> Slip:
    def slip(draw: st.DrawFn, lines: list[str]) -> None:
        row = _row(draw, lines)
        words = lines[row].split(" ")
        change(draw, words, draw(st.integers(0, len(words) - 1)))
        lines[row] = " ".join(words)

    return slip


def _drop(draw: st.DrawFn, words: list[str], at: int) -> None:
    del words[at]


def _double(draw: st.DrawFn, words: list[str], at: int) -> None:
    words.insert(at, words[at])


def _swap(draw: st.DrawFn, words: list[str], at: int) -> None:
    other = draw(st.integers(0, len(words) - 1))
    words[at], words[other] = words[other], words[at]


def _mark(draw: st.DrawFn, words: list[str], at: int) -> None:
    words[at] = draw(MARKS)


def _join(draw: st.DrawFn, words: list[str], at: int) -> None:
    words[at] += draw(MARKS)


def _borrow(draw: st.DrawFn, lines: list[str]) -> None:
    """A word of one line in the place of a word of another: a name or unit of the wrong kind."""
    word = draw(st.sampled_from(lines[_row(draw, lines)].split(" ")))
    row = _row(draw, lines)
    words = lines[row].split(" ")
    words[draw(st.integers(0, len(words) - 1))] = word
    lines[row] = " ".join(words)


def _move(draw: st.DrawFn, lines: list[str]) -> None:
    """A line to another place, mostly near by: a step before or after its time."""
    row = _row(draw, lines)
    line = lines.pop(row)
    lines.insert(
        row + draw(st.integers(-3, 3)) if draw(st.integers(0, 3)) else draw(st.integers(0, row)), line
    )


NUMBER = re.compile(r"(?<![\w.':-])\d+(?:\.\d+)?(?![\w.:-])")
NUMBERS = st.sampled_from(
    ("0", "1", "2", "3", "5", "12", "45", "99", "120", "1000", "100000", "0.5", "0.001", "1/3", "-1", "24",
     "60", "10" * 20, "0.0000000000000001")
)  # fmt: skip


def _number(draw: st.DrawFn, lines: list[str]) -> None:
    """Another number in the place of one: a slip that reads well and means nonsense."""
    rows = [row for row, line in enumerate(lines) if NUMBER.search(line)]
    if rows:
        row = draw(st.sampled_from(rows))
        found = draw(st.sampled_from(list(NUMBER.finditer(lines[row]))))
        lines[row] = lines[row][: found.start()] + draw(NUMBERS) + lines[row][found.end() :]


_SLIPS: tuple[Slip, ...] = (
    _number, _number, _number, _number, _number, _move, _move, _move,
    _cut, _cut_off, _twice, _indent, _block, _letters, _borrow, _borrow, _borrow,
    _words(_drop), _words(_drop), _words(_double), _words(_swap), _words(_mark), _words(_mark), _words(_join),
)  # fmt: skip
