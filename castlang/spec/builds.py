"""The build block and the shop block: dates, hours, people, climate, money."""

from collections.abc import Sequence
from datetime import time
from fractions import Fraction

from castlang.source.model import Span
from castlang.spec import findings
from castlang.spec.amounts import (
    clock_of,
    count_of,
    date_of,
    money_an_hour,
    money_of,
    positive,
    quantity_of,
    share_of,
)
from castlang.spec.block import Block, text_of, word_of
from castlang.spec.crews import away_of, crew_of
from castlang.spec.days import days_of
from castlang.spec.ledger import Ledger
from castlang.spec.logger import readings_of
from castlang.spec.model import Build, Climate, Days, Exchange, Shift
from castlang.spec.public_holidays import holidays_of
from castlang.spec.quantity import Dimension
from castlang.spec.shapes import Bytes
from castlang.spec.stocks import date_on, share_on, value_of
from castlang.spec.units import currencies
from castlang.syntax.model import Statement

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


NEEDED = {
    "start": "start 2027-02-01",
    "hours": "hours mon to fri 07:30 to 12:00, 12:30 to 16:30",
    "crew": "crew 3",
    "air": "air 20 degC",
}
"""What a build must say, and how."""

REPEATING = frozenset({"hours", "closed", "holidays", "air", "night", "humidity", "away", "exchange", "crew"})


def build_of(
    ledger: Ledger, builds: Sequence[Statement], shops: Sequence[Statement], first: Span, read: Bytes
) -> Build:
    """The one build, with what shop blocks add; `first` is where a missing build is told, `read` gives the
    bytes of a logger's file."""
    if not builds:
        ledger.say(findings.NO_BUILD, "there is no `build` block", first)
        return Build(name="")
    for other in builds[1:]:
        ledger.say(
            findings.SAID_TWICE,
            "there is a second `build` block; one file makes one build",
            other.span,
            related=((builds[0].span, "the first one"),),
        )
    statement = _with_shop(ledger, builds[0], shops)
    return _read(ledger, statement, read)


def _with_shop(ledger: Ledger, build: Statement, shops: Sequence[Statement]) -> Statement:
    """The build's lines and the shop's; one value told twice differently is an error."""
    lines = list(build.under)
    for line in (line for shop in shops for line in shop.under):
        told = [own for own in lines if own.kind == line.kind]
        if line.kind in ("closed", "holidays", "away", "note") or not told:
            lines.append(line)
        elif line.kind in REPEATING and line.kind not in ("crew",):
            if line.body not in [own.body for own in told]:
                lines.append(line)
        elif all(own.body != line.body for own in told):
            ledger.say(
                findings.SAID_TWICE,
                f"`{line.kind.replace('_', '-')}` is told with two values, here and in the build",
                line.span,
                related=((told[0].span, "the other one"),),
            )
    return Statement(body=build.body, end=build.end, under=tuple(lines), lost=build.lost)


def _read(ledger: Ledger, statement: Statement, read: Bytes) -> Build:
    block = Block(ledger, statement, REPEATING)
    start = date_on(ledger, block, "start")
    due = date_on(ledger, block, "due")
    name = word_of(statement.body, "name") or ""
    for kind, example in NEEDED.items():
        if block.one(kind) is None and statement.lacks(kind):
            ledger.say(
                findings.NOT_SAID,
                f"the build `{name}` does not say its `{kind}`",
                statement.span,
                f"add a line such as `{example}`",
            )
    if start is not None and due is not None and due < start:
        line = block.one("due")
        ledger.say(
            findings.BAD_RANGE,
            f"the build is due on {due}, before it starts on {start}",
            line.span if line else statement.span,
            "write a later `due`, or an earlier `start`",
        )
    wage = block.amount("wage")
    freight = block.amount("freight")
    priority = block.count("priority")
    logger = block.one("logger")
    revision = block.one("revision")
    draft = value_of(ledger, block, "draft", Dimension.SPEED, zero=True)
    crew = crew_of(ledger, block)
    return Build(
        name=name,
        label=text_of(statement.body),
        revision=None
        if revision is None
        else (word_of(revision.body, "name") or word_of(revision.body, "number")),
        start=start or Build(name="").start,
        due=due,
        shifts=_shifts(ledger, block),
        closed=(
            *(d for d in (days_of(ledger, line) for line in block.all("closed")) if d is not None),
            *holidays_of(ledger, block, start),
        ),
        crew=crew,
        away=away_of(ledger, block, crew),
        air=_climate(ledger, block, "air"),
        night=_climate(ledger, block, "night"),
        humidity=_climate(ledger, block, "humidity"),
        draft=draft,
        wage=None if wage is None else money_an_hour(ledger, wage),
        waste=share_on(ledger, block, "waste", most=300),
        units=_units(ledger, block),
        contingency=share_on(ledger, block, "contingency", most=300),
        margin=share_on(ledger, block, "margin", most=1000),
        overhead=share_on(ledger, block, "overhead", most=1000),
        freight=None if freight is None else money_of(ledger, freight),
        exchange=_exchange(ledger, block),
        priority=None if priority is None else count_of(ledger, priority, least=0),
        lift_limit=value_of(ledger, block, "lift_limit", Dimension.MASS),
        logger=None if logger is None else text_of(logger.body),
        logged=() if logger is None else readings_of(ledger, logger, start, read),
        notes=block.notes(),
        span=statement.span,
    )


def _units(ledger: Ledger, block: Block) -> str:
    """The system told, or the one mostly used so far in the files."""
    line = block.one("print")
    word = line.body.word("word") if line is not None else None
    if word is None:
        return ""
    if word.text not in ("metric", "us"):
        ledger.say(
            findings.BAD_VALUE, f"sheets are printed in `metric` or `us`, not `{word.text}`", word.span
        )
        return ""
    return word.text


def _day(ledger: Ledger, line: Statement, index: int, text: str) -> int | None:
    if text not in DAYS:
        span = line.body.words("day")[index].span
        first, _, last = text.lower().partition("-")
        remedy = f"write one of {', '.join(DAYS)}"
        if first[:3] in DAYS:
            to = f" to {last[:3]}" if last[:3] in DAYS else ""
            remedy = f"write `{first[:3]}{to}`"
        ledger.say(findings.NO_SUCH_DAY, f"`{text}` is not a day of the week", span, remedy)
        return None
    return DAYS.index(text)


def _shifts(ledger: Ledger, block: Block) -> tuple[Shift, ...]:
    shifts: list[Shift] = []
    taken: dict[int, Statement] = {}
    for line in block.all("hours"):
        words = [w.text for w in line.body.words("day")]
        ends = [_day(ledger, line, n, word) for n, word in enumerate(words)]
        if any(e is None for e in ends) or not ends:
            continue
        first, last = ends[0] or 0, ends[-1] or 0
        if last < first:
            ledger.say(
                findings.BAD_RANGE,
                f"`{words[0]} to {words[-1]}` runs over the end of the week",
                line.span,
                "write it as two lines",
            )
            continue
        spells = _spells(ledger, line)
        for day in range(first, last + 1):
            if day in taken:
                ledger.say(
                    findings.SAID_TWICE,
                    f"the hours of {DAYS[day]} are told twice",
                    line.span,
                    related=((taken[day].span, "the other line"),),
                )
                break
        else:
            taken.update(dict.fromkeys(range(first, last + 1), line))
            if spells:
                shifts.append(Shift(first=first, last=last, spells=spells, span=line.span))
    return tuple(sorted(shifts, key=lambda s: s.first))


def _spells(ledger: Ledger, line: Statement) -> tuple[tuple[time, time], ...]:
    spells: list[tuple[time, time]] = []
    before = None
    for part in line.body.parts("spell"):
        ends = [clock_of(ledger, p) for p in part.parts("time")]
        if len(ends) != 2 or ends[0] is None or ends[1] is None:
            return ()
        if ends[1] <= ends[0]:
            ledger.say(
                findings.BAD_RANGE,
                "the hours end before they begin",
                part.span,
                "write the earlier time first; hours over midnight are two lines",
            )
            return ()
        if before is not None and ends[0] < before:
            ledger.say(
                findings.BAD_RANGE,
                "these hours begin before the ones in front of them end",
                part.span,
                "write the hours of a day in order, with a break between them",
            )
            return ()
        before = ends[1]
        spells.append((ends[0], ends[1]))
    return tuple(spells)


def _climate(ledger: Ledger, block: Block, kind: str) -> tuple[Climate, ...]:
    """Values for all days and for dated ones; two dated ones over one day are an error."""
    values: list[Climate] = []
    lines: list[Statement] = []
    for line in block.all(kind):
        part = line.body.part("amount")
        if part is None:
            continue
        if kind == "humidity":
            value = share_of(ledger, part)
        else:
            found = quantity_of(ledger, part, Dimension.TEMPERATURE)
            value = None if found is None else found.si
            if found is not None and not Fraction(213) < found.si < Fraction(343):
                ledger.say(findings.BAD_VALUE, f"`{found.written}` is no temperature of a shop", part.span)
                continue
        days = days_of(ledger, line)
        if value is None or (days is None and line.body.parts("date")):
            continue
        for other, there in zip(values, lines, strict=True):
            if _overlap(other.days, days):
                ledger.say(
                    findings.SAID_TWICE,
                    f"`{kind}` is told twice for the same day",
                    line.span,
                    related=((there.span, "the other line"),),
                )
                break
        else:
            values.append(Climate(value=value, days=days, span=line.span))
            lines.append(line)
    return tuple(values)


def _overlap(a: Days | None, b: Days | None) -> bool:
    if a is None or b is None:
        return a is b
    return a.first <= b.last and b.first <= a.last


def _exchange(ledger: Ledger, block: Block) -> tuple[Exchange, ...]:
    rates: list[Exchange] = []
    for line in block.all("exchange"):
        word = line.body.word("word")
        part = line.body.part("amount")
        if word is None or part is None:
            continue
        if word.text not in currencies():
            ledger.say(findings.UNKNOWN_UNIT, f"`{word.text}` is not a currency code", word.span)
            continue
        found = quantity_of(ledger, part, Dimension.MONEY)
        value = positive(ledger, found, part)
        if found is None or value is None:
            continue
        day = line.body.part("date")
        rates.append(
            Exchange(
                sold=word.text,
                rate=value,
                bought=found.word or "",
                on=None if day is None else date_of(ledger, day),
            )
        )
    return tuple(rates)
