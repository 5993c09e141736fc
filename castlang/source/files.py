"""Where texts come from: the disk under one folder, standard input, or a mapping in memory."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import Protocol

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
        return str(PurePosixPath(beside).parent / name)

    def read(self, name: str, beside: str) -> bytes | str:
        return self.texts.get(self.resolve(name, beside), "cannot be found")


@dataclass(frozen=True, slots=True, kw_only=True)
class Disk:
    """Files under the project's folder: the nearest above the main file that holds `.castlang`, else the
    main file's own. `main` is the main file as given."""

    main: Path

    def root(self) -> Path:
        """The project's folder."""
        folder = self.main.resolve().parent
        for above in (folder, *folder.parents):
            if (above / MARKER).is_file():
                return above
        return folder

    def resolve(self, name: str, beside: str) -> str:
        folder = Path(beside).parent if beside != "<stdin>" else self.main.parent
        joined = folder / name
        try:
            return str(Path(*_plain(joined.parts)))
        except (ValueError, TypeError):
            return str(joined)

    def read(self, name: str, beside: str) -> bytes | str:
        path = Path(self.resolve(name, beside))
        try:
            root = self.root()
            if Path(name).is_absolute() or not path.absolute().resolve().is_relative_to(root):
                return "lies outside the project's folder"
            if any(p.is_symlink() for p in (path, *path.parents) if p.absolute().is_relative_to(root) and p.absolute() != root):
                return "lies behind a link"
            if not path.is_file():
                return "cannot be found" if not path.exists() else "is not a file"
            if path.stat().st_size > LARGEST:
                return "is larger than 64 MiB"
            return path.read_bytes()
        except (OSError, ValueError) as error:
            return f"cannot be read ({getattr(error, 'strerror', None) or error})"


def _plain(parts: tuple[str, ...]) -> list[str]:
    """The parts of a path with `x/..` taken out, as a person would write it."""
    plain: list[str] = []
    for part in parts:
        if part == ".." and plain and plain[-1] not in ("..", "/"):
            plain.pop()
        elif part != ".":
            plain.append(part)
    return plain


def main_text(path: Path) -> bytes | str:
    """The bytes of the main file, or why it cannot be read."""
    try:
        if path.is_dir():
            return "is a folder, not a file"
        if path.stat().st_size > LARGEST:
            return "is larger than 64 MiB"
        return path.read_bytes()
    except (OSError, ValueError) as error:
        return f"cannot be read ({getattr(error, 'strerror', None) or error})"
