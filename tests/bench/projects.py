"""Open scheduling instances read into the planner's own model: a shop open day and night, stations, gaps.

Formats: ProGen `.sm` (Kolisch, Sprecher & Drexl, Management Science 41, 1995) and ProGen/max `.sch`
(Schwindt, report WIOR-543, University of Karlsruhe, 1998). One unit of time is one minute.
"""

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from zipfile import ZipFile

from castlang.plan.model import GapEdge, Hours, Need, Network, Point, Resource, Task

ALWAYS = Hours(start=date(2027, 3, 1), week=(((0, 1440),),) * 7)


def instances(archive: Path) -> Iterator[tuple[str, Network]]:
    """Every instance of an archive, by the numbers in its name."""
    with ZipFile(archive) as packed:
        names = [name for name in packed.namelist() if name.lower().endswith((".sm", ".sch"))]
        for name in sorted(names, key=lambda n: [int(digits) for digits in re.findall(r"\d+", Path(n).stem)]):
            text = packed.read(name).decode("latin-1")
            read = rcpsp if name.lower().endswith(".sm") else rcpsp_max
            yield Path(name).stem.lower(), read(text)


def rcpsp(text: str) -> Network:
    """An `.sm` file: each job starts when its predecessors have ended."""
    lines = text.splitlines()

    def section(title: str) -> list[list[int]]:
        begin = next(k for k, line in enumerate(lines) if line.startswith(title))
        rows = []
        for line in lines[begin + 1 :]:
            if line.startswith("*"):
                break
            figures = re.findall(r"\d+", line) if not re.search(r"[A-Za-z#]|---", line) else []
            if figures:
                rows.append([int(figure) for figure in figures])
        return rows

    capacities = section("RESOURCEAVAILABILITIES")[0]
    gaps = [
        GapEdge(before=f"t.{job}", after=f"t.{then}", least=0)
        for job, _, _, *after in section("PRECEDENCE RELATIONS")
        for then in after
    ]
    tasks = [_task(job, minutes, wants) for job, _, minutes, *wants in section("REQUESTS/DURATIONS")]
    return _network(tasks, gaps, capacities)


def rcpsp_max(text: str) -> Network:
    """A `.sch` file: gaps from start to start; one of less than 0 is the longest gap the other way round."""
    rows = [line.split() for line in text.splitlines() if line.strip()]
    count = int(rows[0][0]) + 2
    lags: dict[tuple[int, int], int] = {}
    for row in rows[1 : count + 1]:
        heads = [int(figure) for figure in row[3 : 3 + int(row[2])]]
        for head, lag in zip(heads, re.findall(r"-?\d+", " ".join(row[3 + len(heads) :])), strict=True):
            pair = (int(row[0]), head)
            lags[pair] = max(int(lag), lags.get(pair, int(lag)))
    demands = [[int(figure) for figure in row] for row in rows[count + 1 : 2 * count + 1]]
    capacities = [int(figure) for figure in rows[2 * count + 1]]
    tasks = [_task(job, minutes, wants) for job, _, minutes, *wants in demands]
    far = sum(task.minutes for task in tasks) + sum(abs(lag) for lag in lags.values())
    gaps = []
    for (tail, head), lag in sorted(lags.items()):
        back = lags.get((head, tail))
        if lag >= 0 and (back is None or back < 0 or tail < head):
            longest = None if back is None else -back
            gaps.append(_start_gap(tail, head, lag, longest))
        elif lag < 0 and (back is None or (back < 0 and tail < head)):
            gaps.append(_start_gap(head, tail, -far if back is None else back, -lag))
    return _network(tasks, gaps, capacities)


def _start_gap(before: int, after: int, least: int, longest: int | None) -> GapEdge:
    return GapEdge(
        before=f"t.{before}",
        after=f"t.{after}",
        least=least,
        longest=longest,
        before_point=Point.START,
        after_point=Point.START,
    )


def _task(job: int, minutes: int, wants: list[int]) -> Task:
    needs = tuple(Need(resource=f"r.{k}", amount=amount) for k, amount in enumerate(wants) if amount)
    return Task(name=f"t.{job}", minutes=minutes, needs=needs)


def _network(tasks: list[Task], gaps: list[GapEdge], capacities: list[int]) -> Network:
    return Network(
        tasks=tuple(tasks),
        gaps=tuple(gaps),
        holds=(),
        resources=tuple(Resource(name=f"r.{k}", capacity=room) for k, room in enumerate(capacities)),
        hours=ALWAYS,
    )
