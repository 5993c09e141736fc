"""The documents keep their word: every build in them compiles, every command in them prints what they show.

What stands behind the backticks of a block is told in `fenced_blocks`. `python tests/test_docs.py` writes
anew what the commands print, and tells where a line `...` no longer fits.
"""

import contextlib
import io
import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest
from fenced_blocks import BLOCKS, PAGES, Block, build_of, with_blocks, with_lines

from castlang.cli.main import main
from castlang.pipeline import Compiled, compile_build
from castlang.problems.as_text import problem_text
from castlang.problems.model import Severity
from castlang.source.files import Texts

REFRESH = "to write the printed lines anew: python tests/test_docs.py"
EXAMPLES = [b for b in BLOCKS if b.info[0] == "castlang" and b.told("file") is None]

TETRAHEDRON = [[(0, 0, 0), (0, 90, 0), (90, 0, 0)], [(0, 0, 0), (90, 0, 0), (0, 0, 90)],
               [(0, 0, 0), (0, 0, 90), (0, 90, 0)], [(90, 0, 0), (0, 90, 0), (0, 0, 90)]]  # fmt: skip
STL = "solid body\n" + "".join(
    "facet normal 0 0 0\nouter loop\n"
    + "".join(f"vertex {x} {y} {z}\n" for x, y, z in corners)
    + "endloop\nendfacet\n"
    for corners in TETRAHEDRON
) + "endsolid body\n"  # fmt: skip
BESIDE = {
    "stores.pour": b'stock clay "Modeling clay"\n    sold  block of 10 kg\n',
    "body.stl": STL.encode(),
    "shop-temperatures.csv": b"time,temperature degC\n2027-02-01T07:00,14.2\n2027-02-01T07:15,14.4\n",
}
"""The files that an example may name."""

GIT = {"GIT_CONFIG_NOSYSTEM": "1"} | {
    f"GIT_{who}_{what}": "builder" for who in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")
}
"""What git wants to know of a person before it keeps anything."""


def compiled(text: str) -> Compiled:
    return compile_build("build.pour", text.encode(), Texts(texts=BESIDE))


def said(build: Compiled) -> str:
    return "\n".join(problem_text(p, build.texts) for p in build.problems)


@pytest.mark.parametrize("block", EXAMPLES, ids=lambda block: block.place)
def test_every_build_in_the_documents_is_clean_or_refused_as_told(block: Block) -> None:
    build = compiled(build_of(block))
    found = {p.finding.name for p in build.problems if p.finding.severity is not Severity.NOTE}

    assert found == block.refused_for, said(build)


# ---------------------------------------------------------------- commands


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A command of a console block, what the page prints below it, and what it printed."""

    command: str
    shown: str
    printed: str

    @property
    def equal(self) -> bool:
        pattern = "".join("(?:.*\n)*?" if r == "...\n" else re.escape(r) for r in self.shown.splitlines(True))
        return re.fullmatch(pattern, self.printed) is not None


def commands_in(block: Block) -> list[tuple[str, str]]:
    """(command, what is printed below it) of a console block."""
    parts = re.split(r"^\$ (.*)\n", block.text, flags=re.MULTILINE)
    return list(zip(parts[1::2], parts[2::2], strict=True))


def run(command: str, folder: Path, status: int) -> tuple[str, int]:
    """All that `command` prints in `folder`, and its status; `status` is that of the command before."""
    if command == "echo $?":
        return f"{status}\n", 0
    if command.startswith("castlang ") and not re.search(r"[|<>;&]", command):
        words, out = shlex.split(command)[1:], io.StringIO()
        with contextlib.chdir(folder), contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
            try:
                status = main(words)
            except SystemExit as end:
                status = int(end.code or 0)
        return out.getvalue(), status
    paths = f"{Path(sys.executable).parent}{os.pathsep}{os.environ.get('PATH', '')}"
    done = subprocess.run(
        ["sh", "-c", f"exec 2>&1; {command}"],
        cwd=folder,
        capture_output=True,
        check=False,
        encoding="utf-8",
        env={"PATH": paths, "HOME": str(folder), "LC_ALL": "C.UTF-8", **GIT},
    )
    return done.stdout, done.returncode


def followed(blocks: Sequence[Block], folder: Path, begins: str = "") -> Iterator[tuple[Block, list[Shown]]]:
    """Do what a page says, in order: keep its files and run its commands, or those alone that begin so."""
    status = 0
    for block in blocks:
        name = block.told("file")
        if block.info[0] == "castlang" and name is not None:
            path, text = folder / name, block.text
            if "change" in block.info:
                text = with_blocks(path.read_text(encoding="utf-8"), text)
            if "lines" in block.info:
                text = with_lines(path.read_text(encoding="utf-8"), text)
            path.write_text(text, encoding="utf-8")
        elif block.info[0] == "console":
            told = []
            for command, shown in commands_in(block):
                if not command.startswith(begins):
                    continue
                printed, status = run(command, folder, status)
                told.append(Shown(command=command, shown=shown, printed=printed))
            yield block, told


def with_consoles(page: Path) -> bool:
    return any(b.info[0] == "console" for b in BLOCKS if b.page == page)


@pytest.mark.parametrize("page", [*filter(with_consoles, PAGES)], ids=lambda page: page.name)
def test_every_command_in_the_documents_prints_what_they_show(
    page: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "100")
    for block, told in followed([b for b in BLOCKS if b.page == page], tmp_path):
        for one in told:
            if not one.equal:
                place = f"{block.place}: $ {one.command}"

                assert one.printed == one.shown, f"{place}; {REFRESH}"


@pytest.mark.parametrize(
    "block", [b for b in BLOCKS if b.info[0] == "castlang" and b.told("file")], ids=lambda block: block.place
)
def test_every_build_that_a_page_goes_on_with_is_clean_or_refused_as_told(
    block: Block, tmp_path: Path
) -> None:
    mine = [b for b in BLOCKS if b.page == block.page and b.line <= block.line]
    for _ in followed(mine, tmp_path, begins="castlang begin"):
        pass
    text = (tmp_path / (block.told("file") or "")).read_text(encoding="utf-8")
    build = compiled(text)
    found = {p.finding.name for p in build.problems if p.finding.severity is not Severity.NOTE}

    assert found == block.refused_for, said(build)


def refresh(folder: Path) -> None:
    """Write anew what the commands print; a block with a line `...` that no longer fits is only told."""
    for page in filter(with_consoles, PAGES):
        rows = page.read_text(encoding="utf-8").splitlines(keepends=True)
        inside = folder / page.stem
        inside.mkdir()
        for block, told in reversed(list(followed([b for b in BLOCKS if b.page == page], inside))):
            text = ""
            for one in told:
                if "a mistake in castlang" in one.printed:
                    sys.exit(f"{block.place}: $ {one.command}\n{one.printed}{page.name} is left as it was")
                if "...\n" in one.shown and not one.equal:
                    print(f"{block.place}: $ {one.command}\n{one.printed}")
                text += f"$ {one.command}\n{one.shown if one.equal else one.printed}"
            rows[block.line - 1 : block.line - 1 + block.text.count("\n")] = [text]
        page.write_text("".join(rows), encoding="utf-8")


if __name__ == "__main__":
    import tempfile

    os.environ["NO_COLOR"] = "1"
    with tempfile.TemporaryDirectory() as place:
        refresh(Path(place))
