"""Sections of docs/benchmarks.md, each between two comments, so that each script renews its own."""

from collections.abc import Sequence
from pathlib import Path


def renewed(
    page: Path, section: str, title: str, text: str, head: Sequence[str], rows: Sequence[Sequence[str]]
) -> None:
    """Write one section of `page`, in place of what stands between its comments, else at the end. Rows whose
    first two cells stand there already replace those, and others are kept."""
    begin, end = f"<!-- {section} -->", f"<!-- end of {section} -->"
    whole = page.read_text(encoding="utf-8") if page.exists() else "# Benchmarks\n"
    before, _, rest = whole.partition(begin)
    old, _, after = rest.partition(end)
    cells = [
        [cell.strip() for cell in line.strip("|").split("|")]
        for line in old.splitlines()
        if line.startswith("| ")
    ]
    kept = {tuple(row[:2]): row for row in cells[1:]}
    kept |= {tuple(row[:2]): list(row) for row in rows}
    lines = [begin, "", f"## {title}", "", text, "", f"| {' | '.join(head)} |", "|---" * len(head) + "|"]
    lines += [f"| {' | '.join(row)} |" for row in kept.values()]
    lines += ["", end]
    if not rest:
        before, after = before.rstrip("\n") + "\n\n", "\n"
    page.write_text(before + "\n".join(lines) + after, encoding="utf-8")
