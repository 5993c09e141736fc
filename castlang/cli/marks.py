"""Lines of ours in a file of another's, between two marks, taken out again to the byte."""

import re
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from castlang.cli.writing import write_whole

BEGIN = b"# >>> castlang git on"
END = b"# <<< castlang git on"
FOLDER_TOO = b" (file and folder made here)"
FILE_TOO = b" (file made here)"

_BLOCK = re.compile(
    rb"\n?%b([^\n]*)\n(.*?)%b(?:\n|\Z)" % (re.escape(BEGIN), re.escape(END)),
    re.DOTALL,
)


class State(StrEnum):
    ON = "on"
    OFF = "off"
    OTHER = "changed"  # our marks are there, and not the lines that stand between them today


@dataclass(frozen=True, slots=True, kw_only=True)
class Marked:
    """Lines that are to stand in a file. lines: with their ends. first: what a file made for them begins
    with; mode: of such a file."""

    path: Path
    lines: bytes
    first: bytes = b""
    mode: int = 0o644


def state(marked: Marked) -> State:
    """Whether the lines stand in their file. Raises OSError."""
    data = _read(marked.path)
    if data is None or (BEGIN not in data and END not in data):
        return State.OFF
    found = _BLOCK.search(data)
    return State.ON if found is not None and found.group(2) == marked.lines else State.OTHER


def put_in(marked: Marked, *, behind_first_line: bool = False) -> None:
    """Put the lines into the file, or in the place of an older text of them. Raises OSError."""
    data = _read(marked.path)
    if data is None:
        made = FILE_TOO if marked.path.parent.is_dir() else FOLDER_TOO
        marked.path.parent.mkdir(exist_ok=True)
        write_whole(marked.path, marked.first + _block(marked, made), mode=marked.mode)
        return
    found = _BLOCK.search(data)
    if found is not None:
        text = data[: found.start(2)] + marked.lines + data[found.end(2) :]
    elif behind_first_line:
        end = data.index(b"\n") + 1
        text = data[:end] + _block(marked, b"") + data[end:]
    else:
        text = data + _block(marked, b"")
    write_whole(marked.path, text)


def take_out(marked: Marked) -> bool:
    """Take the lines out of the file, and the file away if it was made for them and holds no more.

    False when one mark stands there without the other: then nothing is done. Raises OSError.
    """
    data = _read(marked.path)
    if data is None:
        return True
    found = _BLOCK.search(data)
    if found is None:
        return BEGIN not in data and END not in data
    rest = data[: found.start()] + data[found.end() :]
    made = found.group(1)
    if made in (FILE_TOO, FOLDER_TOO) and rest == marked.first:
        marked.path.unlink()
        if made == FOLDER_TOO and not any(marked.path.parent.iterdir()):
            marked.path.parent.rmdir()
    else:
        write_whole(marked.path, rest)
    return True


def _block(marked: Marked, made: bytes) -> bytes:
    """The line end in front closes a last line that has none; it goes out with the block."""
    return b"\n" + BEGIN + made + b"\n" + marked.lines + END + b"\n"


def _read(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except FileNotFoundError:
        return None
