"""Other names put into a build, so that two builds can be held side by side."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, is_dataclass, replace
from functools import cache
from typing import Any, TypeVar

from castlang.spec.model import (
    After,
    Copies,
    Done,
    Dose,
    FaceRef,
    Gap,
    Ingredient,
    Item,
    Kit,
    Measured,
    Mix,
    Mold,
    Panel,
    Piece,
    Spec,
    Step,
    StepKind,
    StepRef,
    ThingRef,
    Waiver,
    Water,
)

T = TypeVar("T")

BLOCK_NAMES: Mapping[type, frozenset[str]] = {
    Kit: frozenset({"name"}),
    Mix: frozenset({"base", "order"}),
    Ingredient: frozenset({"stock"}),
    Water: frozenset({"stock"}),
    Dose: frozenset({"of"}),
    Mold: frozenset({"fits", "board"}),
    Panel: frozenset({"stock"}),
    Step: frozenset({"owner", "material", "using", "each", "target", "recoat_of"}),
    FaceRef: frozenset({"piece"}),
    ThingRef: frozenset({"name"}),
    StepRef: frozenset({"owner"}),
    Gap: frozenset({"owner", "of"}),
    After: frozenset({"owner"}),
}
"""Fields that hold the name of a block, or several."""

DOTTED: Mapping[type, frozenset[str]] = {Waiver: frozenset({"on"}), Measured: frozenset({"of"})}
"""Fields that hold names as written, with dots."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Swap:
    """blocks: new name by old one. steps: new name of a step by (new name of its block, old name).
    single: blocks of which one copy is made, so that `x.1` is `x`; by their new names."""

    blocks: Mapping[str, str] = field(default_factory=dict)
    steps: Mapping[tuple[str, str], str] = field(default_factory=dict)
    single: frozenset[str] = frozenset()


def swapped(value: T, swap: Swap) -> T:
    """The value with the names of `swap` in it."""
    found: Any = _swapped(value, swap)
    return found  # type: ignore[no-any-return]  # of the type that came in


def _swapped(value: Any, swap: Swap) -> Any:
    if isinstance(value, tuple):
        parts = tuple(_swapped(part, swap) for part in value)
        return value if all(a is b for a, b in zip(parts, value, strict=True)) else parts
    if isinstance(value, StepRef):
        return _step_ref(value, swap)
    if isinstance(value, Step):
        return _step(value, swap)
    if is_dataclass(value) and not isinstance(value, type):
        return _with_names(value, swap)
    return value


def _with_names(value: Any, swap: Swap) -> Any:
    kind: type = type(value)
    plain, dotted = BLOCK_NAMES.get(kind, frozenset()), DOTTED.get(kind, frozenset())
    changed = {}
    for name in _fields(kind):
        old = getattr(value, name)
        if name in plain:
            new = _named(old, swap)
        elif name in dotted:
            new = _dotted(old, swap)
        elif isinstance(old, tuple) or is_dataclass(old):
            new = _swapped(old, swap)
        else:
            continue
        if new is not old and new != old:
            changed[name] = new
    made = replace(value, **changed) if changed else value
    if isinstance(made, ThingRef) and made.name in swap.single and made.copies != Copies():
        return replace(made, copies=Copies())
    if isinstance(made, Done):
        lots = tuple((swap.blocks.get(stock, stock), lot) for stock, lot in made.lots)
        return replace(made, lots=lots) if lots != made.lots else made
    return made


@cache
def _fields(kind: type[Any]) -> tuple[str, ...]:
    return tuple(f.name for f in fields(kind) if f.compare)


def _named(value: Any, swap: Swap) -> Any:
    if isinstance(value, tuple):
        return tuple(swap.blocks.get(name, name) for name in value)
    return swap.blocks.get(value, value)


def _dotted(value: Any, swap: Swap) -> Any:
    if isinstance(value, tuple):
        return tuple(dotted(name, swap) for name in value)
    return dotted(value, swap)


def dotted(value: str, swap: Swap) -> str:
    """A name with dots, such as `bench.1.hone.grit-120`, with the names of `swap` in it."""
    head, *rest = value.split(".")
    head = swap.blocks.get(head, head)
    if head in swap.single and rest[:1] in (["1"], ["each"]):
        rest = rest[1:]
    copy = rest[:1] if rest and rest[0].removeprefix("m").isdigit() else []
    step = ".".join(rest[len(copy) :])
    return ".".join(word for word in (head, *copy, _step_name(head, step, swap)) if word)


def _step_name(owner: str, step: str, swap: Swap) -> str:
    """The new name of a step, or of what hangs on it: `body.cover`, `hone.grit-120`."""
    known = swap.steps.get((owner, step))
    if known is not None:
        return known
    head, dot, rest = step.partition(".")
    return f"{swap.steps.get((owner, head), head)}{dot}{rest}"


def _step_ref(ref: StepRef, swap: Swap) -> StepRef:
    owner = swap.blocks.get(ref.owner, ref.owner)
    step = _step_name(owner, ref.step, swap) if ref.step is not None else None
    copies = Copies() if owner in swap.single else ref.copies
    if (owner, step, copies) == (ref.owner, ref.step, ref.copies):
        return ref
    return replace(ref, owner=owner, step=step, copies=copies)


def _step(step: Step, swap: Swap) -> Step:
    made: Step = _with_names(step, swap)
    if step.cavity is not None:
        piece, hole = step.cavity
        if piece in swap.blocks:
            made = replace(made, cavity=(swap.blocks[piece], hole))
    shared = tuple(_pair(owner, name, swap) for owner, name in step.batch_with)
    if shared != step.batch_with:
        made = replace(made, batch_with=shared)
    name = _step_name(made.owner, own_name(step, made.target), swap)
    return made if name == made.name else replace(made, name=name)


def _pair(owner: str, step: str, swap: Swap) -> tuple[str, str]:
    new = swap.blocks.get(owner, owner)
    return new, _step_name(new, step, swap)


def own_name(step: Step, target: str | None) -> str:
    """The name of the step; of one that is called after what it takes or frees, the name with that target."""
    called = f"{step.kind}-{step.target}"
    if step.kind in (StepKind.TAKE, StepKind.FREE) and target and step.name.startswith(called):
        return f"{step.kind}-{target}{step.name.removeprefix(called)}"
    return step.name


# ---------------------------------------------------------------- whole builds


def single_copies(spec: Spec) -> frozenset[str]:
    """The blocks of which no second copy is made."""
    counted: tuple[Piece | Mold, ...] = (*spec.pieces.values(), *spec.molds.values())
    once = {thing.name for thing in counted if (thing.count, thing.mirrored) == (1, 0)}
    return frozenset(once | {*spec.jobs, *spec.fittings})


def with_names(spec: Spec, swap: Swap) -> Spec:
    """The whole build with other names in it, each mapping in order of the new names."""
    return replace(
        spec,
        stocks=_mapped(spec.stocks, swap),
        mixes=_mapped(spec.mixes, swap),
        molds=_mapped(spec.molds, swap),
        stations=_mapped(spec.stations, swap),
        fittings=_mapped(spec.fittings, swap),
        pieces=_mapped(spec.pieces, swap),
        jobs=_mapped(spec.jobs, swap),
        waivers=swapped(spec.waivers, swap),
        measured=swapped(spec.measured, swap),
        done=swapped(spec.done, swap),
    )


def _mapped(blocks: Mapping[str, Any], swap: Swap) -> dict[str, Any]:
    made = {}
    for name, block in blocks.items():
        new = swap.blocks.get(name, name)
        other = swapped(block, swap)
        made[new] = other if new == name else replace(other, name=new)
    return dict(sorted(made.items()))


def meaning(spec: Spec, single: frozenset[str] | None = None) -> Spec:
    """The build with all taken out that is said but does not matter: the number of an only copy, and the
    order of lines whose order says nothing. Two builds mean the same when this is equal.

    single: the blocks of which one copy is made in both builds; left out, in this one."""
    once = single_copies(spec) if single is None else single
    plain = with_names(spec, Swap(single=once))
    build = plain.build
    return replace(
        plain,
        build=replace(
            build,
            shifts=_sorted(build.shifts),
            closed=_sorted(build.closed),
            away=_sorted(build.away),
            air=_sorted(build.air),
            night=_sorted(build.night),
            humidity=_sorted(build.humidity),
            exchange=_sorted(build.exchange),
        ),
        stations={
            name: replace(station, closed=_sorted(station.closed)) for name, station in plain.stations.items()
        },
        waivers=_sorted(plain.waivers),
        measured=_sorted(plain.measured),
        done=_sorted(plain.done),
    )


def _sorted(values: tuple[T, ...]) -> tuple[T, ...]:
    return tuple(sorted(values, key=repr))


def step_items(sequence: tuple[Item, ...]) -> tuple[Step, ...]:
    """The steps of a sequence."""
    return tuple(item for item in sequence if isinstance(item, Step))
