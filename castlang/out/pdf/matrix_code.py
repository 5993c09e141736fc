"""The matrix code of a sheet: its build, revision, code and stamps, for a camera. Source: ISO/IEC 18004.

A shop's paper gets wet and dirty: of its code about 15 % may be lost (error correction M).
"""

from castlang.out.pdf.pen import MM, Pen
from castlang.sheets.model import Binder
from castlang.sheets.stamps import SheetStamp

SIDE = 16 * MM  # with the quiet zone; the modules of a common sheet are then 0.39 mm wide
QUIET = 4  # modules left white round the code, ISO/IEC 18004
MORE = "~"  # behind a text that is cut short
MOST = {"build": 24, "revision": 16, "code": 40}  # bytes: what the side has room for, with 0.3 mm a module

Run = tuple[int, int, int]  # column and row of its first module from the upper left, and how many are dark


def code_text(binder: Binder, stamp: SheetStamp) -> str:
    """What the code says, as four short lines."""
    revision = f" revision {_short(binder.revision, MOST['revision'])}" if binder.revision else ""
    lines = (
        f"{_short(binder.build, MOST['build'])}{revision}",
        _short(stamp.code, MOST["code"]),
        f"facts {stamp.facts or 'none'}",
        f"dates {stamp.dates or 'none'}",
    )
    return "\n".join(lines)


def matrix_of(text: str) -> tuple[bytearray, ...]:
    """The rows of the code of a text, 1 where a module is dark, without the quiet zone."""
    import segno

    return segno.make_qr(text, error="m", mode="byte", encoding="utf-8").matrix


def runs_of(matrix: tuple[bytearray, ...]) -> list[Run]:
    """The dark modules of each row, those side by side as one."""
    runs: list[Run] = []
    for down, row in enumerate(matrix):
        across = row.find(1)
        while across >= 0:
            end = row.find(0, across)
            end = len(row) if end < 0 else end
            runs.append((across, down, end - across))
            across = row.find(1, end)
    return runs


def draw_code(pen: Pen, left: float, top: float, text: str) -> None:
    """The code in a square of `SIDE`, its quiet zone inside."""
    matrix = matrix_of(text)
    module = SIDE / (len(matrix) + 2 * QUIET)
    low = top - SIDE + QUIET * module
    rows = len(matrix)
    cells = [(across, rows - 1 - down, many) for across, down, many in runs_of(matrix)]
    pen.cells(left + QUIET * module, low, module, cells)


def _short(text: str, most: int) -> str:
    """A text as one line of at most so many bytes, marked where it is cut."""
    line = " ".join(text.encode("utf-8", "replace").decode("utf-8").split())
    data = line.encode("utf-8")
    if len(data) <= most:
        return line
    return data[: most - len(MORE)].decode("utf-8", "ignore") + MORE
