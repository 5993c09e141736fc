"""Where texts come from: the disk under one folder, standard input, or a mapping in memory."""

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import BinaryIO, Protocol

MARKER = ".castlang"
LARGEST = 64 * 1024 * 1024
"""No build or mesh file is larger, in bytes; a slip such as naming a device is stopped."""


class Library(Protocol):
    """Gives bytes by name. A name is counted from the file that uses it."""

    def read(self, name: str, beside: str) -> bytes | str:
        """The bytes of `name`, used in the file `beside`; or why not, to stand behind the file's name."""
        ...

    def resolve(self, name: str, beside: str) -> str:
        """The name by which the file is known in messages and told apart from others."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Texts:
    """Files held in memory, by name; for tests and standard input."""

    texts: Mapping[str, bytes] = field(default_factory=dict)

    def resolve(self, name: str, beside: str) -> str:
        return os.path.normpath(PurePosixPath(beside).parent / name)

    def read(self, name: str, beside: str) -> bytes | str:
        return self.texts.get(self.resolve(name, beside), "cannot be found")


@dataclass(frozen=True, slots=True, kw_only=True)
class Disk:
    """Files under the project's folder: the nearest above the main file that holds `.castlang`, else the
    main file's own. `main` is the main file as given; one from standard input counts as lying in the
    folder that castlang runs in."""

    main: Path

    def root(self) -> Path:
        """The project's folder."""
        folder = self.main.absolute().parent.resolve()
        for above in (folder, *folder.parents):
            if (above / MARKER).is_file():
                return above
        return folder

    def resolve(self, name: str, beside: str) -> str:
        folder = self.main.parent if beside == "<stdin>" else Path(beside).parent
        return os.path.normpath(folder / name)

    def read(self, name: str, beside: str) -> bytes | str:
        path = Path(self.resolve(name, beside))
        try:
            refusal = "lies outside the project's folder" if Path(name).is_absolute() else self._refusal(path)
            if refusal is not None:
                return refusal
            if not path.is_file():
                return "is not a file" if path.exists() else "cannot be found"
            with path.open("rb") as file:
                return read_whole(file)
        except (OSError, ValueError, RuntimeError) as error:
            return _unreadable(error)

    def _refusal(self, path: Path) -> str | None:
        """Why a path may not be read: it leaves the project's folder, or a link stands in it."""
        folder = self.main.absolute().parent
        written = Path(os.path.normpath(folder.resolve() / os.path.relpath(path.absolute(), folder)))
        if not written.is_relative_to(self.root()):
            return "lies outside the project's folder"
        return None if path.absolute().resolve() == written else "lies behind a link"


def main_text(path: Path) -> bytes | str:
    """The bytes of the main file, or why it cannot be read."""
    try:
        if path.is_dir():
            return "is a folder, not a file"
        with path.open("rb") as file:
            return read_whole(file)
    except (OSError, ValueError) as error:
        return _unreadable(error)


def read_whole(file: BinaryIO) -> bytes | str:
    """Everything in an open file or pipe; or why not, when it is too large to be a build."""
    data = file.read(LARGEST + 1)
    return data if len(data) <= LARGEST else f"is larger than {LARGEST // 1024**2} MiB"


def _unreadable(error: Exception) -> str:
    if isinstance(error, FileNotFoundError):
        return "cannot be found"
    return f"cannot be read ({getattr(error, 'strerror', None) or error})"
