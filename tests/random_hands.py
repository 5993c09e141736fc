"""The same build as other hands would have typed it: spaces, spellings, comments, indents, clauses."""

import random
import re

from castlang.spec.units import SPELLED, unit_of

STEPS = frozenset(
    ("layer", "press", "pour", "load", "scrim", "insert", "pass", "work", "test", "place", "move", "take",
     "free", "demold", "release", "cure", "done")
)  # fmt: skip
"""The lines that may say their clauses in any order."""

CLAUSE = re.compile(
    r" +(?=(?:on|into|sprayed|laid|brushed|rolled|wet|dry|takes|rate|by|using|at|covered|open"
    r"|laps|between|waste|earliest|latest|may-pause|no-pause|through-breaks|overlap|each|tend)(?: |$))"
)

SPELLINGS: dict[str, list[str]] = {}
for spelled, unit in SPELLED.items():
    SPELLINGS.setdefault(unit, []).append(spelled)

REMARKS = (
    "# as the last time",
    "#  two   spaces, a\ttab",
    "## 3/8 in, 20 °C, not `on`",
    "#",
    "# ends here:  #",
)


def retyped(text: str, hand: random.Random) -> tuple[str, list[str]]:
    """The text, set otherwise, and the comments that were added to it."""
    step, tabs = hand.choice((2, 3, 4, 8)), hand.random() < 0.2
    rows: list[str] = []
    remarks: list[str] = []
    for row in text.split("\n"):
        body = row.lstrip(" ")
        if not body or body.startswith("#"):
            rows.append(row)
            continue
        depth = (len(row) - len(body)) // 4
        front = "\t" * depth if tabs else " " * (step * depth)
        line = front + _line(body, hand)
        if hand.random() < 0.1:
            remark = f"{hand.choice(REMARKS)} {len(remarks)}"
            remarks.append(remark)
            if hand.random() < 0.5 and "#" not in line:
                line += f"{' ' * hand.randint(1, 9)}{remark}"
            else:
                rows.append(front + remark)
        if hand.random() < 0.1:
            rows.append(hand.choice(("", "  ", "\t")))
        rows.append(line + hand.choice(("", "", " ", "\t ")))
    end = hand.choice(("\n", "\n", "\r\n"))
    return hand.choice(("", "", "\ufeff")) + end.join(rows), remarks


def _line(body: str, hand: random.Random) -> str:
    """One line: what stands in front of its text or comment, retyped."""
    cut = re.search(r' +(?:"|#)', body)
    words, rest = (body, "") if cut is None else (body[: cut.start()], body[cut.start() :].lstrip())
    keyword = words.split(" ")[0]
    words = re.sub(r"(?<=[\d ])(\d) ([^\s\d][^\s,]*)", lambda m: _amount(m, keyword, hand), words)
    if keyword in STEPS:
        head, *clauses = CLAUSE.split(words)
        clauses = _joined_tend(clauses)
        hand.shuffle(clauses)
        words = " ".join([head, *clauses])
    words = re.sub(r"(?<!\d) | (?!\d)", lambda _: " " * hand.choice((1, 1, 1, 2, 7)), words)
    return words + (" " * hand.randint(1, 4) + rest if rest else "")


def _amount(found: re.Match[str], keyword: str, hand: random.Random) -> str:
    """A number with its unit, spelled or set otherwise; a package's word is left."""
    number, unit = found.groups()
    if keyword == "have" or unit_of(unit) is None:
        return found.group(0)
    ways = [unit, *SPELLINGS.get(unit, [])]
    if "/" in unit:
        ways.append(unit.replace("m3", "m³").replace("m2", "m²").replace("/h", "/hr"))
    return number + hand.choice((" ", "")) + hand.choice(ways)


def _joined_tend(clauses: list[str]) -> list[str]:
    """`tend 4 h` and its `by 1` stay together."""
    joined: list[str] = []
    for clause in clauses:
        if joined and joined[-1].startswith("tend") and " by " not in joined[-1] and clause.startswith("by"):
            joined[-1] += f" {clause}"
        else:
            joined.append(clause)
    return joined
