"""`castlang git`: what it puts into a repository, and how that is taken out again.

All of it lies in the repository's own folder, so nothing of it is committed, and by git's published
contracts: gitattributes(5) "Performing text diffs of binary files" and "Defining a custom hunk-header",
git-config(1), githooks(5) "pre-commit" and "pre-merge-commit".
"""

import contextlib
import os
import re
import shutil
import stat
import sys
from argparse import Namespace
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from castlang.cli.marks import Marked, State, put_in, state, take_out
from castlang.cli.trouble import Trouble
from castlang.source.git import git, line_of

HOOK = b"""\
if command -v castlang >/dev/null 2>&1; then
    castlang git staged || [ $? -ne 1 ] || exit 1
else
    echo "castlang cannot be found: the .pour files of this commit were not checked" >&2
fi
"""
"""Findings stop a commit, trouble does not."""

_SHELL = re.compile(rb"#![^\n]*\b(?:sh|bash|dash|ksh|zsh)\b[^\n]*\n")

MEANS = {
    "config": "how git shows .pour files, and names their blocks",
    "attributes": "which files that holds for",
    "pre-commit": "each commit is checked and tidy",
    "pre-merge-commit": "each merge too",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """One file of the repository that carries lines of ours. left: why it is left alone."""

    name: str
    marked: Marked
    behind_first_line: bool = False
    left: str | None = None


def on(words: Namespace) -> int:
    """`castlang git on`: 1 when something had to be left alone."""
    parts = _parts()
    for part in parts:
        if part.left is None:
            with _told(part):
                put_in(part.marked, behind_first_line=part.behind_first_line)
    status = _tell(parts)
    print("nothing was put among your own files; `castlang git off` takes all of it out again")
    return status


def off(words: Namespace) -> int:
    """`castlang git off`: 1 when something was changed by hand, and is left as it is."""
    whole = True
    for part in reversed(_parts()):  # what made a folder comes out last
        with _told(part):
            if not take_out(part.marked):
                print(f"{_shown(part)}: one of castlang's two marks is gone; take its lines out by hand")
                whole = False
    if whole:
        print("off: nothing of castlang's is left in this repository")
    return 0 if whole else 1


def tell_state(words: Namespace) -> int:
    """`castlang git state`: 0 when all is on, else 1."""
    return _tell(_parts())


def textconv(words: Namespace) -> int:
    """`castlang git textconv FILE`, called by git: the file tidied; on any trouble as it is. Always 0."""
    data = Path(words.file).read_bytes()
    shown = data
    with contextlib.suppress(Exception):  # git stops a whole `git diff` when a conversion fails
        from castlang.source.model import SourceFile
        from castlang.tidy.from_source import tidied

        text = tidied(SourceFile(name=words.file, text=data.decode("utf-8"))).value
        shown = data if text is None else text.encode("utf-8")
    sys.stdout.buffer.write(shown)
    return 0


def staged(words: Namespace) -> int:
    """`castlang git staged`, called by the hook."""
    from castlang.cli.staged import staged as check_staged

    return check_staged(words)


ACTIONS = {"on": on, "off": off, "state": tell_state, "textconv": textconv, "staged": staged}


def _tell(parts: Sequence[_Part]) -> int:
    """Each part with its state, on standard output."""
    states = []
    for part in parts:
        with _told(part):
            found = state(part.marked)
        states.append(found)
        print(f"{found:8} {_shown(part)}: {MEANS[part.name]}")
        if part.left is not None and found is not State.ON:
            print(f"         left alone: {part.left}; let your own hook call `castlang git staged`")
    if shutil.which("castlang") is None:
        print("castlang is not on the PATH: git shows .pour files as they are, and checks nothing")
        return 1
    return 0 if all(found is State.ON for found in states) else 1


def _parts() -> tuple[_Part, ...]:
    here = Path.cwd()
    told = git(here, "rev-parse", "--git-common-dir")
    if isinstance(told, str):
        raise Trouble(told)
    common = here / line_of(told)
    return (
        _Part(name="config", marked=Marked(path=common / "config", lines=_config())),
        _Part(
            name="attributes",
            marked=Marked(path=common / "info" / "attributes", lines=b"*.pour diff=castlang\n"),
        ),
        _hook("pre-commit", here, common),
        _hook("pre-merge-commit", here, common),
    )


def _config() -> bytes:
    """The driver: what it converts by, and what a hunk is headed by."""
    from castlang.syntax.from_source import UNDER
    from castlang.syntax.grammar import openers

    blocks = "|".join(word for word in openers("top") if word in UNDER)
    convert = 'sh -c \'castlang git textconv \\"$1\\" 2>/dev/null || cat \\"$1\\"\' castlang'
    text = f'[diff "castlang"]\n\ttextconv = "{convert}"\n\txfuncname = "^(({blocks})( .*)?)$"\n'
    return text.encode()


def _hook(name: str, here: Path, common: Path) -> _Part:
    """The hook, beside or within the one that is there; one that is not ours to change is left alone."""
    path = common / "hooks" / name
    marked = Marked(path=path, lines=HOOK, first=b"#!/bin/sh\n", mode=0o755)
    elsewhere = git(here, "config", "--get", "core.hooksPath")
    left = None
    if isinstance(elsewhere, bytes):
        left = f"core.hooksPath is {line_of(elsewhere)}"
    elif path.is_symlink():
        left = "it is a link to a hook that is kept elsewhere"
    elif path.exists():
        if not stat.S_IMODE(path.stat().st_mode) & 0o111:
            left = "it may not be run, so git does not run it"
        elif not _SHELL.match(path.read_bytes()):
            left = "it is no shell script"
    return _Part(name=name, marked=marked, behind_first_line=True, left=left)


@contextlib.contextmanager
def _told(part: _Part) -> Iterator[None]:
    """A file that cannot be read or written is told as trouble."""
    try:
        yield
    except OSError as error:
        raise Trouble(f"{_shown(part)} cannot be read or changed ({error.strerror})") from None


def _shown(part: _Part) -> str:
    return os.path.relpath(part.marked.path)
