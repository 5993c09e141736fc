"""What is taken and held: molds from `take` to the demold, temporary works and racks until they are freed."""

from collections.abc import Iterator
from dataclasses import dataclass

from castlang.plan.model import GapEdge, Hold, Resource, Why
from castlang.plan.network.chain_of_steps import Draft, Run
from castlang.plan.shop_hours import DAY, day_of
from castlang.problems.model import Finding, Problem, Severity
from castlang.spec.copies import copies_of, task_name
from castlang.spec.model import Mold, Spec, Station, Step, StepKind
from castlang.spec.turns import mold_turns, places_of

NO_MOLD = Finding(
    name="no-mold",
    severity=Severity.ERROR,
    says="a piece takes a mold that does not fit it, or that is not made the right way round",
    why="the piece cannot be cast in it",
    remedy="add the piece to the mold's `fits` line, or `make 1 mirrored` to the mold",
    source="the language's rules",
)
MOLD_WORN = Finding(
    name="mold-worn",
    severity=Severity.ERROR,
    says="a mold is asked for more castings than it bears",
    why="the last pieces would come out of a mold that no longer holds its shape",
    remedy="make more copies of the mold, or fewer pieces",
    source="the mold's `lasts` line",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """Holds and resources of a build, and what could not be held."""

    holds: tuple[Hold, ...]
    resources: tuple[Resource, ...]
    problems: tuple[Problem, ...]


def holding_of(draft: Draft) -> Holding:
    """Every hold of the draft; the making of a mold is tied in front of its first taking."""
    problems: list[Problem] = []
    holds: list[Hold] = []
    used: dict[tuple[str, bool], int] = {}
    turns = mold_turns(draft.spec)
    emptied: dict[tuple[str, str], str] = {}  # by mold and piece: the task that gave it back last
    for run in _takes(draft):
        spec = draft.spec
        target = run.step.target or ""
        if target in spec.molds and not spec.molds[target].temporary:
            _check_mold(draft, spec.molds[target], run, used, problems)
            copy = turns[run.step.owner, run.copy, run.step.name]
            resource = task_name(target, copy, "")
            _made_first(draft, target, copy, run)
            last = _freed(draft, run)
            _in_turn(draft, resource, emptied.get((resource, run.step.owner)), run)
            if last is not None:
                emptied[resource, run.step.owner] = last
            holds.append(Hold(resource=resource, first=run.first, last=last, span=run.step.span))
        elif target in spec.molds:
            for copy in copies_of(spec.molds[target]):
                _made_first(draft, target, copy, run)
            holds.append(Hold(resource=target, first=run.first, last=_freed(draft, run), span=run.step.span))
        elif target in spec.stations:
            holds.append(Hold(resource=target, first=run.first, last=_freed(draft, run), span=run.step.span))
    problems += _worn(draft.spec, used)
    return Holding(holds=tuple(holds), resources=resources_of(draft.spec), problems=tuple(problems))


def _takes(draft: Draft) -> Iterator[Run]:
    """Every taking, in a fixed order: by piece, then by copy."""
    for owner in draft.spec.owners():
        for copy in copies_of(owner):
            for item in owner.sequence:
                if isinstance(item, Step) and item.kind is StepKind.TAKE:
                    run = draft.runs.get((owner.name, copy, item.name))
                    if run is not None:
                        yield run


def _check_mold(
    draft: Draft, mold: Mold, run: Run, used: dict[tuple[str, bool], int], problems: list[Problem]
) -> None:
    """Whether the mold fits the piece, and is made the right way round; the casting is counted in `used`."""
    mirrored = run.copy.startswith("m")
    able = [c for c in copies_of(mold) if c.startswith("m") == mirrored]
    piece = run.step.owner
    if piece not in mold.fits and piece in draft.spec.pieces:
        problems.append(
            Problem(
                finding=NO_MOLD,
                message=f"`{piece}` takes `{mold.name}`, which does not say that it fits it",
                span=run.step.span,
                about=(piece, mold.name),
            )
        )
    if not able:
        way = "mirrored" if mirrored else "plain"
        problems.append(
            Problem(
                finding=NO_MOLD,
                message=f"`{piece}` is made {way}, and there is no {way} `{mold.name}`",
                span=run.step.span,
                about=(piece, mold.name),
            )
        )
        return
    used[mold.name, mirrored] = used.get((mold.name, mirrored), 0) + 1


def _made_first(draft: Draft, target: str, copy: str, run: Run) -> None:
    for task, least in draft.ends.get((target, copy), ()):
        draft.gaps.append(
            GapEdge(
                before=task,
                after=run.first,
                least=least,
                why=Why.AFTER,
                says=f"{target} is made before it is taken",
                span=run.step.span,
            )
        )


def _in_turn(draft: Draft, mold: str, emptied: str | None, run: Run) -> None:
    """Copies of a piece that share a mold are cast by number, 1 first."""
    if emptied is not None:
        draft.gaps.append(
            GapEdge(
                before=emptied,
                after=run.first,
                least=0,
                why=Why.AFTER,
                says=f"{mold} is empty again; copies are cast by number",
                turn=True,
                span=run.step.span,
            )
        )


def _freed(draft: Draft, run: Run) -> str | None:
    """The task that gives back what was taken: of the same copy, else of any other owner."""
    spec = draft.spec
    target = run.step.target or ""
    mold = spec.molds.get(target)
    demolds = mold is not None and not mold.temporary

    def frees(step: Step) -> bool:
        named = step.kind is StepKind.FREE and step.target == target
        return named or (demolds and step.kind is StepKind.DEMOLD)

    name = run.step.owner
    owner = spec.pieces.get(name) or spec.jobs.get(name) or spec.molds[name]
    position = owner.sequence.index(run.step)
    for item in owner.sequence[position + 1 :]:
        if isinstance(item, Step) and frees(item):
            return draft.runs[owner.name, run.copy, item.name].last
    for other in spec.owners():
        for item in other.sequence:
            if (
                other is not owner
                and isinstance(item, Step)
                and item.kind is StepKind.FREE
                and item.target == target
            ):
                copies = copies_of(other)
                copy = run.copy if run.copy in copies else copies[-1]
                return draft.runs[other.name, copy, item.name].last
    return None


def _worn(spec: Spec, used: dict[tuple[str, bool], int]) -> Iterator[Problem]:
    for (name, mirrored), castings in sorted(used.items()):
        mold = spec.molds[name]
        copies = mold.mirrored if mirrored else mold.count
        if mold.lasts is not None and castings > mold.lasts * copies:
            borne = mold.lasts * copies
            yield Problem(
                finding=MOLD_WORN,
                message=f"`{name}` is asked for {castings} castings, and {copies} of it bear {borne}",
                span=mold.span,
                about=(name,),
            )


def resources_of(spec: Spec) -> tuple[Resource, ...]:
    """Stations with their places, every copy of a mold, and temporary works by number."""
    found = [_station(spec, station) for station in spec.stations.values()]
    for mold in spec.molds.values():
        if mold.temporary:
            found.append(Resource(name=mold.name, capacity=max(1, mold.count), kind="temp"))
        else:
            found += [
                Resource(name=task_name(mold.name, c, ""), capacity=1, kind="mold") for c in copies_of(mold)
            ]
    return tuple(sorted(found, key=lambda r: r.name))


def _station(spec: Spec, station: Station) -> Resource:
    closed = tuple(
        (day_of(spec.build, days.first) * DAY, (day_of(spec.build, days.last) + 1) * DAY)
        for days in station.closed
    )
    return Resource(
        name=station.name, capacity=places_of(station), kind="station", closed=tuple(sorted(closed))
    )
