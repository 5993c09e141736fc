"""What a commit would hold, checked and looked over before it is made; called by the hook."""

import os
import sys
from argparse import Namespace
from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from castlang.cli.builds import tell
from castlang.cli.trouble import Trouble
from castlang.documents import Read, read_all
from castlang.pipeline import Compiled, compile_build
from castlang.problems.as_text import in_order
from castlang.problems.model import Severity
from castlang.source.git import git, line_of
from castlang.source.model import SourceFile
from castlang.source.revisions import Revision
from castlang.syntax.model import Statement
from castlang.tidy.from_source import tidied

READ = (".pour", ".stl", ".obj", ".3mf")
"""Endings of the files that a build is read from."""


def staged(words: Namespace) -> int:
    """`castlang git staged`: every staged file tidy, every build that reads one clean. The files of the
    index are read, never those beside it."""
    repo = Path(line_of(_printed(Path.cwd(), "rev-parse", "--show-toplevel")))
    changed = [name for name in _changed(repo) if name.endswith(READ)]
    if not changed:
        return 0
    tree = Revision(repo=repo, rev=line_of(_printed(repo, "write-tree")), main="")
    kept = _names(_printed(repo, "ls-tree", "-r", "-z", "--name-only", "--full-tree", tree.rev))
    files = {name: _bytes(tree, name) for name in kept if name.endswith(".pour")}
    untidy = [name for name in changed if name in files and not _is_tidy(name, files[name])]
    for name in untidy:
        print(f"{name} is not tidy; next: castlang tidy {name}, and stage it again", file=sys.stderr)
    builds = _concerned(tree, files, frozenset(changed))
    for build in builds:
        grave = tuple(p for p in build.problems if p.finding.severity is not Severity.NOTE)
        tell(replace(build, problems=grave))
    return 0 if not untidy and all(build.clean for build in builds) else 1


def _changed(repo: Path) -> list[str]:
    """The staged files, gone ones among them; all, where there is no commit yet."""
    head = git(repo, "rev-parse", "--verify", "--quiet", "HEAD", as_called=True)
    base = head if isinstance(head, bytes) else _printed(repo, "hash-object", "-t", "tree", "--stdin")
    return _names(_printed(repo, "diff-index", "--cached", "--name-only", "-z", line_of(base)))


def _concerned(tree: Revision, files: Mapping[str, bytes], changed: frozenset[str]) -> list[Compiled]:
    """Every build that reads a changed file; and a changed file that no build reads, as far as it goes."""
    builds: list[Compiled] = []
    alone: dict[str, Compiled] = {}
    seen: set[str] = set()
    for name, data in files.items():
        library = replace(tree, main=name)
        outcome = read_all(name, data, library)
        read = outcome.value or Read(documents=(), texts={})
        if not changed.intersection(_asked(name, read, library)):
            continue
        if any(s.kind == "build" for document in read.documents[:1] for s in document.statements):
            seen.update(read.texts)
            builds.append(compile_build(name, data, library))
        elif name in changed:
            problems = in_order(outcome.problems, tuple(read.texts))
            alone[name] = Compiled(problems=problems, texts=read.texts)
    return [*builds, *(found for name, found in alone.items() if name not in seen)]


def _asked(main: str, read: Read, library: Revision) -> Iterator[str]:
    """The files that a build is read from, found or not."""
    yield main
    for document in read.documents:
        for line in _lines(document.statements):
            text = line.body.word("text")
            if line.kind in ("use", "mesh", "logger") and text is not None:
                yield library.resolve(text.text[1:-1], document.file)


def _lines(statements: tuple[Statement, ...]) -> Iterator[Statement]:
    for statement in statements:
        yield statement
        yield from statement.under


def _is_tidy(name: str, data: bytes) -> bool:
    """Whether a file is in the style; one that cannot be read is told by its build."""
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        return True
    return tidied(SourceFile(name=name, text=text)).value in (None, text)


def _bytes(tree: Revision, name: str) -> bytes:
    data = replace(tree, main=name).read_main()
    return b"" if isinstance(data, str) else data


def _names(listed: bytes) -> list[str]:
    return [os.fsdecode(name) for name in listed.split(b"\0") if name]


def _printed(folder: Path, *words: str) -> bytes:
    told = git(folder, *words, as_called=True)
    if isinstance(told, str):
        raise Trouble(told)
    return told
