"""A folder of made files: written aside, then moved into place whole.

The list of files in it says which are castlang's. A folder that holds anything else is left alone.
"""

import os
import shutil
import stat
import tempfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

LIST = "castlang-files.txt"
_FIRST_LINE = "Made by castlang. This folder is replaced whole by the next run; keep nothing else in it."


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """Why a folder was not written; what stood there before still stands there."""

    path: Path
    message: str


def write_folder(target: Path, files: Mapping[str, bytes]) -> Refusal | None:
    """Make `target` a folder of just these files (relative names, "/" between parts) and their list.

    None when done. The old folder is kept until the new one is complete, and put back if the exchange
    fails; only a process killed between the two renames leaves it aside, in ".NAME.castlang-..." next to it.
    Links are not followed. Raises ValueError for a name that leads out of the folder: a user's text is
    never a name.
    """
    for name in files:
        _check(name)
    place = Path(os.path.abspath(target))
    try:
        foreign = _foreign(place)
        if foreign is not None:
            return foreign
        place.parent.mkdir(parents=True, exist_ok=True)
        aside = Path(tempfile.mkdtemp(prefix=f".{place.name}.castlang-", dir=place.parent))
        try:
            _fill(aside / "new", files)
            _exchange(place, aside)
        finally:
            if not (aside / "old").exists() or place.exists():
                shutil.rmtree(aside, ignore_errors=True)
    except OSError as error:
        return Refusal(path=target, message=f"the folder could not be written: {_said(error)}")
    return None


def _check(name: str) -> None:
    path = PurePosixPath(name)
    bad = path.is_absolute() or not path.parts or ".." in path.parts or "\\" in name or ":" in name
    if bad or name == LIST or str(path) != name:
        raise ValueError(f"not a name of a file in the folder: {name!r}")


def _fill(folder: Path, files: Mapping[str, bytes]) -> None:
    folder.mkdir()
    listed = "".join(f"{name}\n" for name in sorted(files))
    for name, data in [*files.items(), (LIST, f"{_FIRST_LINE}\n{listed}".encode())]:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)


def _exchange(place: Path, aside: Path) -> None:
    old = aside / "old"
    if place.exists():
        place.rename(old)
    try:
        (aside / "new").rename(place)
    except OSError:
        if old.exists():
            old.rename(place)
        raise


def _foreign(place: Path) -> Refusal | None:
    """A refusal if what stands at the place is not a folder that castlang made, or not only that."""
    if place.is_symlink():
        return Refusal(path=place, message="the folder is a link; name the folder itself")
    if not place.exists():
        return None
    if not place.is_dir():
        return Refusal(path=place, message="a file of this name stands in the way of the folder")
    strangers = sorted(_strangers(place))
    if not strangers:
        return None
    told = ", ".join(strangers[:3]) + (f" and {len(strangers) - 3} more" if len(strangers) > 3 else "")
    return Refusal(path=place, message=f"the folder holds what castlang did not make: {told}")


def _strangers(place: Path) -> Iterable[str]:
    """The names in the folder that its list does not have; links and odd files are always strangers."""
    listed = _listed(place)
    folders = {str(parent) for name in listed for parent in PurePosixPath(name).parents}
    for base, names, files in os.walk(place):
        for name in [*names, *files]:
            path = Path(base, name)
            relative = path.relative_to(place).as_posix()
            mode = path.lstat().st_mode
            ours = relative in folders if stat.S_ISDIR(mode) else stat.S_ISREG(mode) and relative in listed
            if not ours:
                yield relative


def _listed(place: Path) -> frozenset[str]:
    path = place / LIST
    if path.is_symlink() or not path.is_file():
        return frozenset()
    first, *names = path.read_text(encoding="utf-8", errors="replace").split("\n")
    return frozenset([LIST, *names]) if first == _FIRST_LINE else frozenset()


def _said(error: OSError) -> str:
    reason = (error.strerror or str(error)).lower()
    return f"{reason} ({error.filename})" if error.filename else reason
