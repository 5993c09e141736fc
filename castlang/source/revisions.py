"""Files as they stood in a revision that git keeps: nothing is checked out, nothing is written."""

import os
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from castlang.source.files import LARGEST, MARKER
from castlang.source.git import git, line_of

_FILES = ("100644", "100755")
_LINK = "120000"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    """What git keeps at a path. mode: of a file, a link, a folder; size in bytes, None for no file."""

    mode: str
    object: str
    size: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """A Library of the files in one revision.

    repo: a folder of the repository. rev: a commit, or a tree, best by its full name, so that it cannot move
    between two readings. main: the main file; like every name given out here it is counted from the
    repository's top folder, with `/`. Files are under the project's folder: the nearest above the main file
    that holds `.castlang` in that revision, else the main file's own.
    """

    repo: Path
    rev: str
    main: str

    def root(self) -> str:
        """The project's folder, "." for the top folder."""
        folders = [str(folder) for folder in PurePosixPath(self.main).parents]
        kept = self._entries([_joined(folder, MARKER) for folder in folders])
        if isinstance(kept, dict):
            for folder in folders:
                marker = kept.get(_joined(folder, MARKER))
                if marker is not None and marker.mode in _FILES:
                    return folder
        return folders[0]

    def resolve(self, name: str, beside: str) -> str:
        return _joined(str(PurePosixPath(beside).parent), name)

    def read(self, name: str, beside: str) -> bytes | str:
        path = PurePosixPath(self.resolve(name, beside))
        outside = path.is_absolute() or ".." in path.parts or not path.is_relative_to(self.root())
        return "lies outside the project's folder" if outside else self._content(str(path))

    def read_main(self) -> bytes | str:
        """The bytes of the main file, or why it cannot be read."""
        return self._content(self.main)

    def _content(self, path: str) -> bytes | str:
        above = [str(folder) for folder in PurePosixPath(path).parents if str(folder) != "."]
        kept = self._entries([path, *above])
        if isinstance(kept, str):
            return f"cannot be read ({kept})"
        if any(entry.mode == _LINK for entry in kept.values()):
            return "lies behind a link"
        entry = kept.get(path)
        if entry is None:
            return "cannot be found"
        if entry.mode not in _FILES or entry.size is None:
            return "is not a file"
        if entry.size > LARGEST:
            return "is larger than 64 MiB"
        data = git(self.repo, "cat-file", "blob", entry.object)
        return f"cannot be read ({data})" if isinstance(data, str) else data

    def _entries(self, paths: list[str]) -> dict[str, _Entry] | str:
        """What is kept at each path that there is; or why git cannot tell."""
        if any("\0" in path for path in paths):
            return "a name with a zero byte"
        told = git(self.repo, "ls-tree", "-t", "-l", "-z", "--full-tree", self.rev, "--", *paths)
        if isinstance(told, str):
            return told
        found = {}
        for row in told.split(b"\0")[:-1]:
            front, path = row.split(b"\t", 1)
            mode, _, name, size = front.decode("ascii").split()
            known = None if size == "-" else int(size)
            found[os.fsdecode(path)] = _Entry(mode=mode, object=name, size=known)
        return {path: entry for path, entry in found.items() if path in paths}


def revision_of(file: Path, rev: str) -> Revision | str:
    """The revision that `rev` names now in the repository around `file`, with `file` as its main file; or
    why there is none. The file itself need not be there any more, its folder must."""
    folder = file.parent
    top = git(folder, "rev-parse", "--show-toplevel")
    if isinstance(top, str):
        return f"{file}: {top}"
    commit = git(folder, "rev-parse", "--verify", "--quiet", f"{rev}^{{commit}}")
    if isinstance(commit, str) or rev.startswith("-"):
        return f"`{rev}` is no revision of this repository"
    repo = Path(line_of(top))
    main = (folder.resolve() / file.name).relative_to(repo.resolve())
    return Revision(repo=repo, rev=line_of(commit), main=main.as_posix())


def _joined(folder: str, name: str) -> str:
    """The path of a name counted from a folder, with `x/..` taken out, as git writes it."""
    plain: list[str] = []
    for part in (PurePosixPath(folder) / name).parts:
        if part == ".." and plain and plain[-1] not in ("..", "/"):
            plain.pop()
        else:
            plain.append(part)
    return str(PurePosixPath(*plain))
