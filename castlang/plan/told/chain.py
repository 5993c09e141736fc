"""The critical chain: from the finish back, what kept each task from starting sooner."""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from castlang.plan.hours import Shop, people_of, people_wanted
from castlang.plan.model import Link, Why
from castlang.plan.placement.profile import Line, Profile
from castlang.plan.placement.soonest import start_for
from castlang.plan.ties import Arc, Ties
from castlang.plan.told.uses import Use, uses_of

SHUT = "; just before, the shop is closed"
TRIES = 8  # spells of the shop looked back through, for one in which a task and its window both fit


@dataclass(frozen=True, slots=True, kw_only=True)
class _Reason:
    before: int | None
    why: Why
    says: str


class _Queue:
    """All uses of one line, found by when they are."""

    __slots__ = ("_by_end", "_by_start", "_ends", "_longest", "_starts")

    def __init__(self, uses: Sequence[Use]) -> None:
        self._by_start = sorted(uses, key=lambda use: use.start)
        self._starts = [use.start for use in self._by_start]
        self._by_end = sorted(uses, key=lambda use: use.end)
        self._ends = [use.end for use in self._by_end]
        self._longest = max((use.end - use.start for use in uses), default=0)

    def between(self, begin: int, end: int) -> list[Use]:
        """What begins before `end` and ends behind `begin`, by start."""
        first = bisect_right(self._starts, begin - self._longest)
        then = bisect_left(self._starts, end)
        return [use for use in self._by_start[first:then] if use.end > begin]

    def ended(self, behind: int, by: int) -> list[Use]:
        """What ends behind one minute and by another."""
        return self._by_end[bisect_right(self._ends, behind) : bisect_right(self._ends, by)]


class _Past:
    """A plan, looked back on. held: by task, what it takes of each place from its start on."""

    __slots__ = ("end", "held", "kinds", "queues", "room", "shop", "start", "ties")

    def __init__(self, ties: Ties, shop: Shop, start: Sequence[int], uses: Sequence[Use]) -> None:
        self.ties = ties
        self.shop = shop
        self.start = start
        self.end = [shop.end(task, start[k]) for k, task in enumerate(ties.tasks)]
        lines: dict[Line, list[Use]] = {}
        self.held: dict[int | None, dict[Line, list[Use]]] = {}
        for use in uses:
            lines.setdefault(use.line, []).append(use)
            if use.line[0] == "place":
                self.held.setdefault(use.first, {}).setdefault(use.line, []).append(use)
        self.queues = {line: _Queue(own) for line, own in lines.items()}
        self.kinds = {r.name: r.kind for r in ties.network.resources}
        self.room: dict[Line, int] = {("place", r.name): r.capacity for r in ties.network.resources}
        for role, people in people_of(ties.network.hours).items():
            self.room["crew", role or ""] = people


def critical_chain(ties: Ties, shop: Shop, found: Sequence[int], start: Sequence[int]) -> tuple[Link, ...]:
    """The chain of tasks that sets the finish, in order of time: it begins with a task that nothing but a
    date or the hours held back and ends with the last end of the plan.

    found: the starts as each task found its place, which tell why; start: the starts of the plan, of which
    those of some points lie later. Minutes between the links and the lengths of their tasks add up to the
    finish.
    """
    if not ties.tasks:
        return ()
    past = _Past(ties, shop, found, uses_of(ties, shop, found))
    last = max(range(len(ties.tasks)), key=lambda k: (past.end[k], -k))
    trail = _trail(past, last, loose=False) or _trail(past, last, loose=True)
    links = []
    for k, reason in reversed(trail):
        before = None if reason.before is None else ties.tasks[reason.before].name
        gap = (
            0
            if reason.before is None
            else start[k] - shop.end(ties.tasks[reason.before], start[reason.before])
        )
        links.append(Link(task=ties.tasks[k].name, before=before, why=reason.why, gap=gap, says=reason.says))
    return tuple(links)


def _trail(past: _Past, last: int, loose: bool) -> list[tuple[int, _Reason]]:
    """From `last` back to a task that waits for no other, depth first; empty when there is no such way."""
    seen = {last}
    trail: list[tuple[int, _Reason]] = []
    stack = [(last, iter(_reasons(past, last, loose)))]
    while stack:
        k, reasons = stack[-1]
        reason = next(reasons, None)
        if reason is None:
            stack.pop()
            if trail:
                trail.pop()
        elif reason.before is None:
            return [*trail, (k, reason)]
        elif reason.before not in seen:
            seen.add(reason.before)
            trail.append((k, reason))
            stack.append((reason.before, iter(_reasons(past, reason.before, loose))))
    return []


def _reasons(past: _Past, k: int, loose: bool) -> list[_Reason]:
    """Why task k does not start one possible start sooner, the plainest reason first. loose: also what comes
    before it without touching, for a task that a rule placed later than it had to be."""
    start = past.start[k]
    task = past.ties.tasks[k]
    sooner = past.shop.last_start(task, start - 1) if start > 0 else None
    if task.earliest is not None and (sooner is None or sooner < task.earliest):
        dated = task.earliest == start
        return [_Reason(before=None, why=Why.DATE if dated else Why.HOURS, says="not before its date")]
    if sooner is None:
        why = Why.DATE if start == 0 else Why.HOURS
        return [_Reason(before=None, why=why, says="start of the build")]
    found = _by_gaps(past, k, sooner) + _by_uses(past, k, sooner) + _by_windows(past, k, sooner, (k,))
    found.sort(key=lambda r: (r.why is Why.HOURS, r.before is not None and past.start[r.before] > start))
    return [*found, _before(past, k, sooner)] if loose else found


def _by_gaps(past: _Past, k: int, sooner: int) -> list[_Reason]:
    """What comes before task k, by the least times between them."""
    found = []
    for arc in past.ties.into[k]:
        if arc.longest or arc.tail == k or not _holds_back(past, arc, sooner):
            continue
        minute = start_for(past.ties, past.shop, arc, past.start[arc.tail], past.end[arc.tail])
        tight = minute == past.start[k] or arc.head_end
        why = Why.SEQUENCE if arc.gap is None else arc.gap.why
        says = "" if arc.gap is None else arc.gap.says
        found.append((not tight, -past.end[arc.tail], arc.tail, why, says))
    found.sort()
    return [
        _Reason(before=tail, why=Why.HOURS if late else why, says=_then_open(says) if late else says)
        for late, _, tail, why, says in found
    ]


def _by_windows(past: _Past, k: int, sooner: int, seen: tuple[int, ...]) -> list[_Reason]:
    """What keeps a task back that k must not come too long before: had k started at `sooner`, the other would
    have had to come sooner too. seen: the tasks that are kept back for one another, from k on."""
    ties = past.ties
    found: list[_Reason] = []
    for arc in ties.into[k]:
        tail = arc.tail
        if not arc.longest or tail in seen or not _holds_back(past, arc, sooner):
            continue
        task = ties.tasks[tail]
        begin, at = _open_before(past, k, arc, sooner)
        if begin is None:
            continue
        closed = "" if at == sooner else SHUT
        says = f"so that {task.name} keeps its window"
        if task.earliest is not None and begin < task.earliest:
            found.append(_Reason(before=None, why=Why.DATE, says=f"{says}: not before its date{closed}"))
        else:
            causes = _by_gaps(past, tail, begin) + _by_uses(past, tail, begin)
            causes += _by_windows(past, tail, begin, (*seen, tail))
            found += [
                _Reason(before=cause.before, why=Why.HOURS, says=f"{says}: {_told(past, cause)}{closed}")
                for cause in causes
                if cause.before not in (*seen, tail)
            ]
    return found


def _open_before(past: _Past, k: int, kept: Arc, sooner: int) -> tuple[int | None, int]:
    """The last start of the tail of `kept` in its window, had k started at `sooner`, or so much sooner that
    the shop is open for both, None where it is not; and that start of k."""
    ties, shop = past.ties, past.shop
    task = ties.tasks[kept.tail]
    at = sooner
    for _ in range(TRIES):
        ended = shop.end(ties.tasks[k], at)
        by = kept.back(ended if kept.head_end else at)
        begin = shop.last(task, by) if kept.tail_end else shop.last_start(task, by)
        behind = [to for to in ties.into[kept.tail] if to.tail == k]
        if begin is None or all(start_for(ties, shop, to, at, ended) <= begin for to in behind):
            return begin, at
        starts = [_sooner_for(past, k, to, begin) for to in behind]
        at = min(-1 if start is None else start for start in starts)
        if at < 0:
            break
    return None, sooner


def _sooner_for(past: _Past, k: int, arc: Arc, begin: int) -> int | None:
    """The last start of k that lets the head of `arc` start at `begin`; None where there is none."""
    shop, task = past.shop, past.ties.tasks[k]
    head = past.ties.tasks[arc.head]
    by = arc.back(shop.end(head, begin) if arc.head_end else begin)
    return shop.last(task, by) if arc.tail_end else shop.last_start(task, by)


def _told(past: _Past, cause: _Reason) -> str:
    """A cause in words that name what comes before."""
    if cause.before is None:
        return cause.says
    task = past.ties.tasks[cause.before]
    before = task.name
    if task.kind == "arrival":
        return f"{task.owner} arrives"
    if cause.why in (Why.CREW, Why.STATION, Why.MOLD):
        return f"{cause.says} busy with {before}"
    known = before in cause.says or before.replace(".", " ") in cause.says
    return cause.says if known else f"{cause.says or cause.why.value} after {before}"


def _by_uses(past: _Past, k: int, sooner: int) -> list[_Reason]:
    """What was full, had task k started at `sooner`, and whose end made room."""
    task, shop = past.ties.tasks[k], past.shop
    asks: list[tuple[Line, tuple[tuple[int, int], ...], int]] = []
    for role, people in people_wanted(task):
        asks.append((("crew", role or ""), shop.worked(task, sooner), people))
    for line, uses in past.held.get(k, {}).items():
        ends = [(shop.end(task, sooner) if use.last == k else use.end, use.amount) for use in uses]
        for end, _ in ends:
            asks.append((line, ((sooner, end),), sum(amount for until, amount in ends if until >= end)))
    found: list[_Reason] = []
    for line, spells, amount in asks:
        found += _full(past, k, line, spells, amount)
    return found


def _full(past: _Past, k: int, line: Line, spells: Sequence[tuple[int, int]], amount: int) -> list[_Reason]:
    profile = Profile(past.room.get(line, 0))
    begin = min((spell[0] for spell in spells), default=0)
    end = max((spell[1] for spell in spells), default=0)
    queue = past.queues.get(line, _Queue(()))
    for use in queue.between(begin, end):
        if use.first != k:
            profile.add(use.start, use.end, use.amount)
    if all(profile.clash(*spell, amount) is None for spell in spells):
        return []
    start, sooner = past.start[k], spells[0][0]
    ended = [use for use in queue.ended(sooner, start) if k not in (use.first, use.last)]
    if not ended:
        return []
    use = min(ended, key=lambda use: (-use.end, use.last is None, use.last or 0))
    late = use.end < start
    if use.last is None:
        return [_Reason(before=None, why=Why.CREW, says="people are away until then")]
    if line[0] == "crew":
        why, says = Why.CREW, line[1] or "crew"
    else:
        why = Why.STATION if past.kinds[line[1]] == "station" else Why.MOLD
        says = line[1]
    return [_Reason(before=use.last, why=Why.HOURS if late else why, says=_then_open(says) if late else says)]


def _then_open(says: str) -> str:
    return f"{says}, then until the shop is open for it" if says else "until the shop is open for it"


def _before(past: _Past, k: int, sooner: int) -> _Reason:
    """What keeps the task that k must not stray from, or else the task before k by gaps that ends last, or
    none: for a task that waits for one that waits for it."""
    ties, start = past.ties, past.start[k]
    kept = next((arc for arc in ties.into[k] if arc.longest and _holds_back(past, arc, sooner)), None)
    says = "placed by the rule" if kept is None else f"so that {ties.tasks[kept.tail].name} keeps its window"
    tails = [arc for arc in ties.into[k] if past.start[arc.tail] < start and not arc.longest]
    if not tails:
        return _Reason(before=None, why=Why.HOURS, says=says)
    arc = max(tails, key=lambda arc: (past.end[arc.tail], -arc.tail))
    return _Reason(before=arc.tail, why=Why.HOURS, says=says)


def _holds_back(past: _Past, arc: Arc, sooner: int) -> bool:
    return start_for(past.ties, past.shop, arc, past.start[arc.tail], past.end[arc.tail]) > sooner
