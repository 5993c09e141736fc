"""Right-to-left words in a left-to-right line, put in the order in which they are read from the paper.

The plain case of the Unicode Bidirectional Algorithm (Unicode Standard Annex 9): a line that runs from left
to right and holds runs of Hebrew or Arabic with spaces and figures between. Letters are not joined.
"""

import re
import unicodedata

_LETTERS = ("R", "AL")
_INSIDE = ("R", "AL", "AN", "EN", "NSM", "WS", "ON", "CS", "ES", "ET")
_FIGURES = re.compile(r"\d+(?:[.,:/]\d+)*")
_MIRRORED = str.maketrans("()[]{}<>«»", ")(][}{><»«")


def visual(line: str) -> str:
    """The line with each right-to-left run turned round; any other line unchanged."""
    if line.isascii() or not any(unicodedata.bidirectional(c) in _LETTERS for c in line):
        return line
    out: list[str] = []
    at = 0
    while at < len(line):
        end = _run_end(line, at)
        out.append(_turned(line[at:end]) if end > at else line[at])
        at = max(end, at + 1)
    return "".join(out)


def _run_end(line: str, start: int) -> int:
    """Past the last right-to-left letter of the run that starts here; `start` where none does."""
    if unicodedata.bidirectional(line[start]) not in _LETTERS:
        return start
    end = start
    for at in range(start, len(line)):
        kind = unicodedata.bidirectional(line[at])
        if kind in _LETTERS or (kind == "NSM" and end == at):
            end = at + 1
        elif kind not in _INSIDE:
            break
    return end


def _turned(run: str) -> str:
    back = run[::-1].translate(_MIRRORED)
    return _FIGURES.sub(lambda figure: figure.group()[::-1], back)
