"""docs/reference/findings.md is a copy of what the compiler can find.

`python tests/test_docs_findings.py` renews it.
"""

from collections.abc import Iterable
from pathlib import Path

from castlang.catalogue import FINDINGS, RULE_NAMES
from castlang.problems.model import Finding

PAGE = Path(__file__).parent.parent / "docs" / "reference" / "findings.md"
REFRESH = "to renew the page: python tests/test_docs_findings.py"

HEAD = """\
# Findings

What `castlang` can say about a build, by the name that stands in brackets behind the message.
`castlang why NAME` prints one of these on the screen. How a message is laid out is told in
[reading a message](../how-to/reading-a-message.md).

An **error** stops the binder. A **warning** does not, but the build is not clean, and the exit status is 1.
A **note** is only told; the exit status stays 0. Names are never used again for something else.

This page is made from the compiler's own list: """

RULES = """
## Rules of the trade

What a builder may know better about. Each of these can be waived, with a reason, where it is found:
`waive NAME on STEP "reason"`.
"""

OTHERS = """
## The language, the quantities and the plan

What cannot be understood, worked out or kept. It is mended, not waived.
"""


def page() -> str:
    """The whole page."""
    rules = [FINDINGS[name] for name in sorted(RULE_NAMES)]
    others = [finding for name, finding in FINDINGS.items() if name not in RULE_NAMES]
    told = f"{len(rules)} rules of the trade and {len(others)} others.\n"
    first = f"{RULES}{table(rules)}" if rules else ""
    return f"{HEAD}{told}{first}{OTHERS}{table(others)}"


def table(findings: Iterable[Finding]) -> str:
    rows = ["", "| name | weight | what | why | what to do | source |", "|---|---|---|---|---|---|"]
    for one in findings:
        cells = (f"`{one.name}`", str(one.severity), one.says, one.why, one.remedy, one.source)
        rows.append(f"| {' | '.join(plain(cell) for cell in cells)} |")
    return "".join(f"{row}\n" for row in rows)


def plain(text: str) -> str:
    """Text for one cell: nothing in it ends the cell or reads as a tag."""
    return text.replace("|", "\\|").replace("<", "&lt;").replace("\n", " ")


def test_the_page_of_findings_says_what_the_compiler_says() -> None:
    written = PAGE.read_text(encoding="utf-8")

    assert written == page(), REFRESH


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
