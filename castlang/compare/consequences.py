"""What follows from the changes: materials, weights, money, hours, dates, the chain, findings."""

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction

from castlang.compare.changes import Aligned
from castlang.compare.model import Amount, Chain, Ending, Side, Sum, Weight, Work
from castlang.compare.names import Swap, dotted
from castlang.costing.model import Costing, OrderLine
from castlang.plan.model import Plan, Task
from castlang.problems.model import Problem
from castlang.sheets.order_list import is_sold, package_text
from castlang.spec.model import Spec
from castlang.spec.quantity import Money

DAY = 1440  # minutes


# ---------------------------------------------------------------- materials


def amounts_of(old: Side, new: Side, both: Aligned, units: str) -> tuple[Amount, ...]:
    """Every material and fitting of which more or less is needed, or bought, or which is sold otherwise."""
    before = {both.blocks.get(line.name, line.name): line for line in old.costing.orders}
    after = {line.name: line for line in new.costing.orders}
    found = []
    for name in sorted({*before, *after}):
        made = _amount(name, before.get(name), after.get(name), both, units)
        if (made.old_need, made.old_net, made.old_sold, made.old_buy) != (
            made.new_need,
            made.new_net,
            made.new_sold,
            made.new_buy,
        ):
            found.append(made)
    return tuple(found)


def _amount(name: str, old: OrderLine | None, new: OrderLine | None, both: Aligned, units: str) -> Amount:
    there = new or old
    if there is None:
        raise ValueError(name)
    nothing = Fraction(0)
    return Amount(
        name=name,
        label=_label(both, name),
        dimension=there.dimension,
        old_net=old.net if old else nothing,
        new_net=new.net if new else nothing,
        old_need=old.need if old else nothing,
        new_need=new.need if new else nothing,
        old_sold=_sold(both.old, name, old, units),
        new_sold=_sold(both.new, name, new, units),
        old_buy=_bought(old, new),
        new_buy=_bought(new, old),
        order_by=new.order_by if new and new.buy else None,
    )


def _label(both: Aligned, name: str) -> str:
    """How the shop calls a thing now, or called it."""
    for spec in (both.new, both.old):
        for kind in (spec.stocks, spec.fittings, spec.pieces, spec.jobs, spec.molds):
            if name in kind:
                return kind[name].label or name
    return name


def _bought(line: OrderLine | None, other: OrderLine | None) -> int | None:
    """Packages to buy; 0 on a side where a thing that is sold is not needed."""
    there = line or other
    if there is None or not is_sold(there):
        return None
    return line.buy if line is not None else 0


def _sold(spec: Spec, name: str, line: OrderLine | None, units: str) -> str | None:
    stock = spec.stocks.get(name)
    if stock is not None:
        return package_text(stock.package, units) if stock.package is not None else None
    return "piece" if name in spec.fittings else None if line is None else line.package


# ---------------------------------------------------------------- weights, money, hours


def weights_of(old: Side, new: Side, both: Aligned) -> tuple[Weight, ...]:
    """Every piece that weighs more or less, or is no longer or newly cast."""
    before = {both.blocks.get(name, name): taken.dry for name, taken in old.takeoff.pieces.items()}
    after = {name: taken.dry for name, taken in new.takeoff.pieces.items()}
    return tuple(
        Weight(piece=name, label=_label(both, name), old=before.get(name), new=after.get(name))
        for name in sorted({*before, *after})
        if before.get(name) != after.get(name)
    )


def sums_of(old: Costing, new: Costing) -> tuple[Sum, ...]:
    """Every sum of the cost sheet, the quote and the order list that is another."""
    before, after = dict(_money(old)), dict(_money(new))
    names = [*after, *(n for n in before if n not in after)]
    return tuple(
        Sum(what=name, old=before.get(name), new=after.get(name))
        for name in names
        if before.get(name) != after.get(name)
    )


def _money(costing: Costing) -> Iterator[tuple[str, Money]]:
    sums, quote = costing.sums, costing.quote
    if sums is not None:
        parts = (
            ("material, without waste", sums.material),
            ("waste of material", sums.waste),
            ("work of people", sums.labour),
            ("stations by the hour", sums.stations),
            ("contingency", sums.contingency),
            ("cost in all", sums.total),
        )
        yield from ((name, Money(amount=part, currency=sums.currency)) for name, part in parts)
    if quote is not None:
        yield "quote", Money(amount=quote.price, currency=quote.currency)
    for currency, amount in costing.material.items():
        yield f"to pay for what is bought, {currency}", Money(amount=amount, currency=currency)


def work_of(old: Side, new: Side, both: Aligned) -> tuple[Work, ...]:
    """Every block on which people work longer or shorter."""
    before = {both.blocks.get(hours.owner, hours.owner): hours.minutes for hours in old.costing.hours}
    after = {hours.owner: hours.minutes for hours in new.costing.hours}
    return tuple(
        Work(block=name, label=_label(both, name), old=before.get(name, 0), new=after.get(name, 0))
        for name in sorted({*before, *after})
        if before.get(name, 0) != after.get(name, 0)
    )


# ---------------------------------------------------------------- the plan


def ending_of(plan: Plan) -> Ending:
    """When the plan ends, and when it is due."""
    return Ending(start=plan.network.hours.start, finish=plan.finish, due=plan.network.due)


def _tasks(plan: Plan, both: Aligned | None) -> dict[str, str]:
    """The name of each task as the other build would say it: in its names, an only copy with its number."""
    blocks: Mapping[str, str] = both.blocks if both is not None else {}
    steps: Mapping[tuple[str, str], str] = both.steps if both is not None else {}
    return {task.name: _called(task, blocks, steps) for task in plan.network.tasks}


def _called(task: Task, blocks: Mapping[str, str], steps: Mapping[tuple[str, str], str]) -> str:
    owner = blocks.get(task.owner, task.owner)
    if not task.step:
        return task.name if owner == task.owner else task.name.replace(task.owner, owner, 1)
    head, dot, rest = task.step.partition(".")
    step = steps.get((owner, task.step)) or f"{steps.get((owner, head), head)}{dot}{rest}"
    return ".".join(word for word in (owner, task.copy or "1", step, task.part) if word)


def chain_of(old: Plan, new: Plan, both: Aligned) -> Chain:
    """The two critical chains, in the names of the new build."""
    before, after = _tasks(old, both), _tasks(new, None)
    then = [before[link.task] for link in old.critical]
    now = [after[link.task] for link in new.critical]
    # As its own build names it; what both have, as the new one does.
    short = {called: name for names in (before, after) for name, called in names.items()}
    return Chain(
        old=tuple(short.get(name, name) for name in then),
        new=tuple(short.get(name, name) for name in now),
        joined=tuple(short.get(name, name) for name in now if name not in frozenset(then)),
        left=tuple(short.get(name, name) for name in then if name not in frozenset(now)),
    )


def shift_of(old: Plan, new: Plan, both: Aligned) -> int | None:
    """By how many minutes every task moved; None where not all moved by the same, or not all are in both."""
    before, after = _starts(old, _tasks(old, both)), _starts(new, _tasks(new, None))
    if before.keys() != after.keys():
        return None
    moves = {after[name] - before[name] for name in before}
    return moves.pop() if len(moves) == 1 else None


def _starts(plan: Plan, called: Mapping[str, str]) -> dict[str, int]:
    """The start of each task, in minutes from the first day of the calendar."""
    zero = plan.network.hours.start.toordinal() * DAY
    return {called[placed.task]: zero + placed.start for placed in plan.placed}


# ---------------------------------------------------------------- findings


def findings_of(old: Side, new: Side, both: Aligned) -> tuple[tuple[Problem, ...], tuple[Problem, ...]]:
    """The findings that are new, and those that are gone. Where they stand does not matter; one that says the
    same of a thing under another name is the same."""
    then = Swap(blocks=both.blocks, steps=both.steps, single=both.single)
    now = Swap(single=both.single)
    before = [(_said(problem, then), problem) for problem in old.problems]
    after = [(_said(problem, now), problem) for problem in new.problems]
    return _without(after, before), _without(before, after)


Said = tuple[str, str]

_PLACE = re.compile(r"[^\s,()]+:\d+")
"""A line of a file, as a message names it: the same thing may stand on another line, in another file."""
_NAME = re.compile(r"[A-Za-z0-9-]+(?:\.[A-Za-z0-9-]+)*")


def _said(problem: Problem, swap: Swap) -> Said:
    told = _PLACE.sub("", problem.message)
    told = _NAME.sub(lambda found: dotted(found.group(), swap), told)
    return problem.finding.name, told


def _without(some: list[tuple[Said, Problem]], others: list[tuple[Said, Problem]]) -> tuple[Problem, ...]:
    left: dict[Said, int] = {}
    for said, _ in others:
        left[said] = left.get(said, 0) + 1
    found = []
    for said, problem in some:
        if left.get(said):
            left[said] -= 1
        else:
            found.append(problem)
    return tuple(found)
