"""Tables that are dear to make, kept beside what they are made from, as Python keeps its bytecode."""

import contextlib
import os
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

T = TypeVar("T")


def kept(place: Path, make: Callable[[], bytes], read: Callable[[bytes], T]) -> T:
    """What `read` makes of the bytes at `place`; where they are missing or spoilt they are made again.

    They are stored whole or not at all; a folder that cannot be written is no trouble.
    """
    with contextlib.suppress(Exception):
        return read(place.read_bytes())
    made = make()
    with contextlib.suppress(OSError):
        place.parent.mkdir(exist_ok=True)
        handle, aside = tempfile.mkstemp(dir=place.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(made)
        Path(aside).replace(place)
    return read(made)
