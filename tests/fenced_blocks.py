"""The fenced blocks of the documents, and the builds that they stand for.

A fenced block tells what it is behind its backticks:

    ```castlang                     a whole build
    ```castlang fragment=top        blocks: added to the build at the foot of language.md, or put in the place
                                    of its blocks of the same name
    ```castlang fragment=WORD       lines: put in place of those between `# WORD` and the next comment there
    ```castlang ... error=NAME,NAME is refused with these findings and no other
    ```castlang file=NAME           a whole build, kept under this name for the commands that follow
    ```castlang file=NAME change    blocks put into that file as above
    ```castlang file=NAME lines     each line put in place of the one that begins most like it
    ```console                      `$ command` lines, each with all that it prints; a line `...` stands for
                                    any lines
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

ROOT = Path(__file__).parent.parent
PAGES = sorted((ROOT / "docs").rglob("*.md"))
LANGUAGE = ROOT / "docs" / "reference" / "language.md"


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A fenced block: where it stands (line of its first row), what stands behind the backticks, its text."""

    page: Path
    line: int
    info: tuple[str, ...]
    text: str

    @property
    def place(self) -> str:
        return f"{self.page.relative_to(ROOT)}:{self.line}"

    def told(self, key: str) -> str | None:
        return next((word.partition("=")[2] for word in self.info if word.startswith(f"{key}=")), None)

    @property
    def refused_for(self) -> set[str]:
        return set((self.told("error") or "").split(",")) - {""}


def blocks_of(page: Path) -> Iterator[Block]:
    info: tuple[str, ...] | None = None
    start = 0
    rows: list[str] = []
    for number, row in enumerate(page.read_text(encoding="utf-8").splitlines(), 1):
        if info is not None and row == "```":
            yield Block(page=page, line=start, info=info, text="".join(f"{r}\n" for r in rows))
            info = None
        elif info is not None:
            rows.append(row)
        elif row.startswith("```"):
            info, start, rows = tuple(row.strip("`").split()) or ("",), number + 1, []


BLOCKS = [block for page in PAGES for block in blocks_of(page)]


# ---------------------------------------------------------------- builds


@lru_cache(maxsize=1)
def base() -> str:
    """The build at the foot of the language's reference, in which short examples stand."""
    return next(b.text for b in blocks_of(LANGUAGE) if b.info == ("castlang", "base"))


def parted(text: str) -> list[tuple[str, str]]:
    """The text cut at its left edge: (keyword and name, lines) of each block, in order."""
    parts: list[tuple[str, str]] = []
    for row in text.splitlines(keepends=True):
        if not parts or (row.strip() and not row.startswith((" ", "#"))):
            words = row.split()
            name = words[1] if len(words) > 1 and words[0] not in ("build", "done", "waive") else ""
            parts.append((f"{words[0] if words else ''} {name}".strip(), row))
        else:
            parts[-1] = (parts[-1][0], parts[-1][1] + row)
    return parts


def with_blocks(text: str, changed: str) -> str:
    """`text` with each block of `changed` in the place of its namesake, or at the end."""
    parts = parted(text)
    for name, lines in parted(changed):
        at = [k for k, (other, _) in enumerate(parts) if other == name and name]
        if at:
            parts[at[0]] = (name, lines)
        else:
            parts.append(("", lines))
    return "".join(lines if lines.endswith("\n") else f"{lines}\n" for _, lines in parts)


def with_lines(text: str, changed: str) -> str:
    """`text` with each line of `changed` in the place of the one that it has most of its first words from."""
    rows = text.splitlines()
    for line in changed.splitlines():
        alike = [shared(row.split(), line.split()) for row in rows]
        if not max(alike) or alike.count(max(alike)) > 1:
            raise AssertionError(f"no single line begins as `{line.strip()}` does")
        rows[alike.index(max(alike))] = line
    return "".join(f"{row}\n" for row in rows)


def shared(one: Sequence[str], other: Sequence[str]) -> int:
    """How many words both begin with."""
    return next(
        (k for k, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other))
    )


def at_mark(text: str, mark: str, lines: str) -> str:
    """`text` with `lines` in place of what stands between the comment `# mark` and the next one."""
    found = re.search(rf"^( *)# {re.escape(mark)}\n(?:(?! *# ).*\n)*", text, re.MULTILINE)
    if found is None:
        raise AssertionError(f"the build at the foot of the reference has no comment `# {mark}`")
    return f"{text[: found.start()]}{found.group(1)}# {mark}\n{lines}{text[found.end() :]}"


def build_of(block: Block) -> str:
    fragment = block.told("fragment")
    if fragment is None:
        return block.text
    return with_blocks(base(), block.text) if fragment == "top" else at_mark(base(), fragment, block.text)
