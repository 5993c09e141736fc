"""Tables that are dear to make, kept in the person's own cache folder.

Not beside the package: what an installer does not know there it leaves behind, and the empty folder would
hide a later installation.
"""

import contextlib
import os
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

T = TypeVar("T")


def cache_folder() -> Path:
    """`$XDG_CACHE_HOME/castlang` (XDG Base Directory Specification), else `~/.cache/castlang`."""
    told = os.environ.get("XDG_CACHE_HOME", "")
    base = Path(told) if told.startswith("/") else Path("~/.cache").expanduser()
    return base / "castlang"


def kept(name: str, make: Callable[[], bytes], read: Callable[[bytes], T]) -> T:
    """What `read` makes of the bytes kept under `name`; where they are missing or spoilt they are made again.

    They are stored whole or not at all; a folder that cannot be written is no trouble.
    """
    with contextlib.suppress(Exception):
        return read((cache_folder() / name).read_bytes())
    made = make()
    with contextlib.suppress(OSError, RuntimeError):
        place = cache_folder() / name
        place.parent.mkdir(parents=True, exist_ok=True)
        handle, aside = tempfile.mkstemp(dir=place.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(made)
        Path(aside).replace(place)
    return read(made)
