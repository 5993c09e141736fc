"""Files that are changed in place: whole or not at all, with the mode that they had."""

import contextlib
import os
import shutil
import tempfile
from pathlib import Path


def write_whole(path: Path, data: bytes, *, mode: int | None = None) -> None:
    """Put `data` in the place of the file at `path`, or beside a link at what it points to.

    mode: of a file that is new. Raises OSError, and leaves the file as it was.
    """
    place = path.resolve()
    handle, aside = tempfile.mkstemp(dir=place.parent, prefix=f".{place.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        if place.exists():
            shutil.copymode(place, aside)
        else:
            Path(aside).chmod(0o644 if mode is None else mode)
        Path(aside).replace(place)
    except BaseException:
        with contextlib.suppress(OSError):
            Path(aside).unlink()
        raise
