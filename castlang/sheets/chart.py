"""The schedule drawn: one row a step, or one row a copy when the steps are too many for a sheet."""

from castlang.plan.model import Hours, Task
from castlang.plan.shop_hours import spells_of_day
from castlang.plan.warmth.ageing import over_at
from castlang.sheets import times
from castlang.sheets.basis import Basis, copy_order, is_arrival, with_copy
from castlang.sheets.deliveries import ordered_on
from castlang.sheets.model import Bar, BarKind, Chart, ChartRow
from castlang.sheets.waits import passes

MOST_ROWS = 60


def chart_of(basis: Basis) -> Chart:
    """The drawn chart: a row a step, or a row a copy where there are many."""
    last = max((placed.end for placed in basis.plan.placed), default=0)
    days = max(1, -(-last // times.DAY))
    start = basis.plan.network.hours.start
    return Chart(
        title="Work and waits, day by day",
        days=tuple(times.day(times.date_of(start, index * times.DAY)) for index in range(days)),
        open=open_spells(basis.plan.network.hours, days),
        rows=_rows(basis),
        hours=times.hours(basis.units),
    )


def open_spells(hours: Hours, days: int) -> tuple[tuple[int, int], ...]:
    """When the shop is open in the first `days` days, in minutes of the plan."""
    return tuple(
        (index * times.DAY + begin, index * times.DAY + end)
        for index in range(days)
        for begin, end in spells_of_day(hours, index)
    )


def _rows(basis: Basis) -> tuple[ChartRow, ...]:
    if len(basis.run) <= MOST_ROWS:
        rows = (_row(basis, task.name, (task,)) for task in basis.run)
        return tuple(row for row in rows if row.bars)
    by_copy = _grouped(basis, with_copies=True)
    return by_copy if len(by_copy) <= MOST_ROWS else _grouped(basis, with_copies=False)


def _grouped(basis: Basis, *, with_copies: bool) -> tuple[ChartRow, ...]:
    """Rows in the order in which the plan begins the owners; the copies of an owner by number. Above them the
    deliveries that set the finish."""
    first: dict[str, int] = {}
    groups: dict[tuple[str, str], list[Task]] = {}
    for index, task in enumerate(basis.run):
        if is_arrival(task):
            continue
        first.setdefault(task.owner, index)
        groups.setdefault((task.owner, task.copy if with_copies else ""), []).append(task)
    order = sorted(groups, key=lambda key: (first[key[0]], copy_order(key[1])))
    coming = (_row(basis, task.name, (task,)) for task in basis.run if _delivery(basis, task))
    return (*coming, *(_row(basis, with_copy(*key), tuple(groups[key])) for key in order))


def _row(basis: Basis, label: str, tasks: tuple[Task, ...]) -> ChartRow:
    """slack_to is that of the last task; of a row of many only the last may slip alone. A critical row has
    none: what slack its steps have until the shop opens stands in the table of the chain."""
    bars: list[Bar] = []
    for task in tasks:
        bars += _waits(basis, task)
        bars += _work(basis, task)
        bars += _delivery(basis, task)
    last = max((basis.placed[task.name] for task in tasks), key=lambda placed: (placed.end, placed.task))
    critical = any(task.name in basis.critical for task in tasks)
    return ChartRow(
        label=label,
        bars=tuple(sorted(bars, key=lambda bar: (bar.start, bar.end, bar.kind))),
        slack_to=last.end + last.slack if last.slack > 0 and not critical else None,
        critical=critical,
    )


def _work(basis: Basis, task: Task) -> list[Bar]:
    if task.taken:
        return []  # nobody has told when it was
    critical = task.name in basis.critical
    placed = basis.placed[task.name]
    spells = placed.spells or ((placed.start, placed.end),)
    return [Bar(start=a, end=b, kind=BarKind.WORK, critical=critical) for a, b in spells if b > a]


def _delivery(basis: Basis, task: Task) -> list[Bar]:
    """What sets the finish by coming late, from its order on."""
    if not is_arrival(task) or task.name not in basis.critical:
        return []
    ordered = (ordered_on(basis.spec, task.owner) - basis.spec.build.start).days
    begin, end = max(0, ordered) * times.DAY, basis.placed[task.name].start
    return [Bar(start=begin, end=end, kind=BarKind.WAIT, critical=True)] if begin < end else []


def _waits(basis: Basis, task: Task) -> list[Bar]:
    """The waits that begin with this task, each length once."""
    bars: dict[tuple[int, int], Bar] = {}
    for edge in basis.out_of[task.name]:
        if not passes(edge):
            continue
        begin = basis.time_of(task.name, edge.before_point)
        key = (begin, over_at(edge, begin))
        critical = (task.name, edge.after) in basis.links or (key in bars and bars[key].critical)
        bars[key] = Bar(start=key[0], end=key[1], kind=BarKind.WAIT, critical=critical)
    return list(bars.values())
