"""People: gangs by role, the crew, who is away."""

from collections.abc import Sequence

from castlang.spec import findings
from castlang.spec.amounts import count_of
from castlang.spec.block import Block
from castlang.spec.days import days_of
from castlang.spec.ledger import Ledger
from castlang.spec.model import Away, Gang
from castlang.syntax.model import Part

ANYBODY = ("person", "people", "men", "workers", "hands")


def gangs_of(ledger: Ledger, part: Part) -> tuple[Gang, ...]:
    """People by role from `2 caster, 1 finisher`."""
    gangs: list[Gang] = []
    for one in part.parts("gang"):
        count = count_of(ledger, one, least=1)
        role = one.word("role")
        if count is None:
            continue
        if role is not None and role.text in ANYBODY:
            ledger.say(
                findings.OUT_OF_PLACE,
                f"`{role.text}` is no role; a number alone means people of any role",
                role.span,
                f"take `{role.text}` out",
            )
            role = None
        if any(g.role == (role.text if role else None) for g in gangs):
            ledger.say(findings.SAID_TWICE, "the same role stands twice", one.span)
            continue
        gangs.append(Gang(count=count, role=role.text if role is not None else None))
    return tuple(gangs)


def crew_of(ledger: Ledger, block: Block) -> tuple[Gang, ...]:
    """The crew by role; a second line that differs is told."""
    lines = list(block.all("crew"))
    for line in lines[1:]:
        if line.body == lines[0].body:
            continue
        ledger.say(
            findings.SAID_TWICE,
            "the crew is told twice",
            line.span,
            "write it on one line: `crew 2 caster, 1 finisher`",
            related=((lines[0].span, "the first one"),),
        )
    return gangs_of(ledger, lines[0].body) if lines else ()


def away_of(ledger: Ledger, block: Block, crew: Sequence[Gang]) -> tuple[Away, ...]:
    """The `away` lines; more people than the crew has are told."""
    away: list[Away] = []
    for line in block.all("away"):
        days = days_of(ledger, line)
        gang = gangs_of(ledger, line.body)
        if days is None or not gang:
            continue
        there = sum(g.count for g in crew if gang[0].role in (None, g.role))
        if crew and gang[0].count > there:
            who = gang[0].role or "people"
            ledger.say(
                findings.BAD_VALUE, f"{gang[0].count} are away, and the crew has {there} {who}", line.span
            )
            continue
        away.append(Away(count=gang[0].count, days=days, role=gang[0].role))
    return tuple(away)
