"""Texts on paper: made printable, measured, wrapped, shortened. A builder's text is never markup here."""

import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from castlang.out.pdf.face import face, shown

MARKER = "[?]"  # in place of a character that the typeface lacks
ELLIPSIS = "…"
# Where a word that is wider than its line is broken first: step names are long and have no spaces.
JOINTS = "-./_,;:)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """A size in points and a weight. leading: from base line to base line, in points."""

    size: float
    bold: bool = False

    @property
    def leading(self) -> float:
        return self.size * 1.26


BODY = Style(size=10.5)
BODY_BOLD = Style(size=10.5, bold=True)
SMALL = Style(size=9.5)
SMALL_BOLD = Style(size=9.5, bold=True)
WORK = Style(size=11)
WORK_BOLD = Style(size=12, bold=True)
HEADING = Style(size=13, bold=True)


def lacking(text: str) -> tuple[str, ...]:
    """The characters of a text that print as the marker, each once, in order."""
    composed = unicodedata.normalize("NFC", text)
    return tuple(dict.fromkeys(c for c in composed if not c.isspace() and c not in shown()))


@lru_cache(maxsize=1 << 16)
def printable(text: str) -> str:
    """The text in characters that the typeface has; line ends become "\\n", other odd spaces a space."""
    if text.isascii() and text.isprintable():
        return text
    lines = unicodedata.normalize("NFC", text).splitlines()
    known = shown()
    return "\n".join(
        "".join(c if c in known else " " if c.isspace() else MARKER for c in line) for line in lines
    )


@lru_cache(maxsize=1 << 16)
def width(text: str, style: Style) -> float:
    """How long a printable text of one line is, in points."""
    return sum(map(face(style.bold).widths.__getitem__, text)) * style.size / 1000


def wrapped(text: str, style: Style, room: float) -> tuple[str, ...]:
    """A text as lines of at most `room` points; at least one line, which may be empty."""
    lines: list[str] = []
    for paragraph in printable(text).split("\n"):
        if width(paragraph, style) <= room:
            lines.append(paragraph)
        else:
            lines.extend(_broken(paragraph, style, room))
    return tuple(lines)


def one_line(text: str) -> str:
    """A text as one printable line."""
    return printable(text).replace("\n", " ")


def cut(text: str, style: Style, room: float) -> str:
    """A text as one line, shortened with an ellipsis where it is longer than `room` points."""
    line = one_line(text)
    return line if width(line, style) <= room else _shortened(line, style, room)


def limited(text: str, style: Style, room: float, most: int) -> tuple[str, ...]:
    """A text as at most `most` lines; where more is left, the last ends with an ellipsis."""
    lines = wrapped(text, style, room)
    if len(lines) <= most:
        return lines
    return (*lines[: most - 1], _shortened(lines[most - 1], style, room))


def longest_word(text: str, style: Style) -> float:
    """The width of the widest word, in points: the least room in which nothing is broken."""
    return max((width(word, style) for word in printable(text).split()), default=0.0)


def _shortened(line: str, style: Style, room: float) -> str:
    return line[: _fitting(line, style, room - width(ELLIPSIS, style))].rstrip() + ELLIPSIS


def _broken(paragraph: str, style: Style, room: float) -> list[str]:
    lines: list[str] = []
    line = ""
    space = width(" ", style)
    used = 0.0
    for word in paragraph.split(" "):
        long = width(word, style)
        if line and used + space + long <= room:
            line += " " + word
            used += space + long
            continue
        if line:
            lines.append(line)
        while long > room:
            end = _break(word, style, room)
            lines.append(word[:end])
            word = word[end:]
            long = width(word, style)
        line, used = word, long
    lines.append(line)
    return lines


def _break(word: str, style: Style, room: float) -> int:
    """Where a too long word ends on this line: behind the last joint that fits, if not too early."""
    end = max(1, _fitting(word, style, room))
    joint = max(word.rfind(j, 0, end) for j in JOINTS) + 1
    return joint if joint > end // 3 else end


def _fitting(text: str, style: Style, room: float) -> int:
    """How many characters fit into the room."""
    widths = face(style.bold).widths
    left = room * 1000 / style.size
    for count, character in enumerate(text):
        left -= widths[character]
        if left < 0:
            return count
    return len(text)
