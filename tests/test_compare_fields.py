"""Every fact of a build falls into some kind of change: whatever is meant otherwise is told."""

import types
import typing
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import date, datetime, time, timedelta
from enum import Enum
from fractions import Fraction
from functools import cache
from typing import Any, get_args, get_origin, get_type_hints

import pytest
from fenced_blocks import base
from told import PANEL

from castlang.compare.changes import changes_of
from castlang.compare.facts import FACTS, WALKED
from castlang.compare.kinds import MIRROR, SAID, ChangeKind
from castlang.compare.names import meaning
from castlang.documents import read_all
from castlang.source.files import Texts
from castlang.spec import model
from castlang.spec.from_syntax import spec_of
from castlang.spec.model import (
    After,
    Away,
    Copies,
    Days,
    Done,
    Edge,
    Exchange,
    Gang,
    Kit,
    Leg,
    Measured,
    Mesh,
    Pack,
    Package,
    Panel,
    Piece,
    Reading,
    Shape,
    Spec,
    Step,
    StepRef,
    Waiver,
    Window,
)
from castlang.spec.quantity import Dimension, Money, Quantity

LENGTH = Quantity(si=Fraction(1, 3), dimension=Dimension.LENGTH)
MONEY = Money(amount=Fraction(5, 4), currency="EUR")
DAYS = Days(first=date(2027, 2, 8), last=date(2027, 2, 9), text="Stocktaking")
MODELS = [m for m in vars(model).values() if is_dataclass(m) and isinstance(m, type)]


@cache
def whole() -> Spec:
    """A build in which every class of the model stands somewhere."""
    spec = read(base())
    name, stock = next(iter(spec.stocks.items()))
    package = Package(word="bag", amount=Quantity(si=Fraction(25), dimension=Dimension.MASS))
    stocks = {
        **spec.stocks,
        name: replace(
            stock,
            package=package,
            more=(Pack(package=replace(package, word="sack"), price=MONEY),),
            kit=Kit(name="kit", amount=LENGTH),
        ),
    }
    run = Piece(
        name="run",
        shape=Shape(
            kind="run", sizes={"high": Fraction(1)}, legs=(Leg(long=Fraction(2), turn=Fraction(90)),)
        ),
    )
    odd = Piece(name="odd", mesh=Mesh(file="odd.stl", unit=Fraction(1, 1000), data=b"solid"))
    first = next(iter(spec.pieces))
    mold = next(iter(spec.molds.values()))
    mold = replace(
        mold,
        panels=(Panel(name="side", long=Fraction(1), wide=Fraction(1, 2), stock="ply"),),
        edges=(Edge(kind="fillet", size=Fraction(1, 250)),),
    )
    job = next(iter(spec.jobs.values()))
    after = After(owner=job.name, refs=(StepRef(owner=first, step="body"),))
    job = replace(job, sequence=(after, *job.sequence))
    done = Done(
        step=StepRef(owner=first, step="body", copies=Copies(first=1, last=1), part="lift-1", point="end"),
        start=datetime(2027, 2, 2, 8),
        end=datetime(2027, 2, 2, 9),
        gang=(Gang(count=1, role="caster"),),
        lots=((name, "44-B"),),
        text="Dry at one edge",
    )
    return replace(
        spec,
        build=replace(
            spec.build,
            away=(Away(count=1, days=DAYS),),
            closed=(DAYS,),
            exchange=(Exchange(sold="USD", rate=Fraction(9, 10), bought="EUR"),),
            logged=(Reading(at=datetime(2027, 2, 2, 8), value=Fraction(290)),),
        ),
        stocks=stocks,
        molds={**spec.molds, mold.name: mold},
        jobs={**spec.jobs, job.name: job},
        pieces=dict(sorted({**spec.pieces, "run": run, "odd": odd}.items())),
        waivers=(Waiver(finding="grit-step", on=(f"{first}.hone",), reason="Tried"),),
        measured=(Measured(what="mass", of=first, amount=LENGTH, how="Scale"),),
        done=(done,),
        defaults={"laps": LENGTH},
    )


def read(text: str) -> Spec:
    library = Texts(texts={})
    documents = read_all("a.pour", text.encode(), library).value
    assert documents is not None
    spec = spec_of(documents.documents, library.read).value
    assert spec is not None
    return spec


# ---------------------------------------------------------------- other values


def others(value: Any, hint: Any) -> Iterator[Any]:
    """Other values of the same type: one near it, none at all, one where there was none."""
    kinds = alternatives(hint)
    if value is not None and type(None) in kinds:
        yield None
    if value is None:
        yield sample(next(k for k in kinds if k is not type(None)))
    elif isinstance(value, bool):
        yield not value
    elif isinstance(value, Enum):
        yield next(member for member in type(value) if member is not value)
    elif isinstance(value, Fraction):
        yield value + Fraction(1, 3)
        yield value + Fraction(1, 10**9)
    elif isinstance(value, int):
        yield value - 1 if value > 1 else value + 1
    elif isinstance(value, str):
        yield f"{value}x"
    elif isinstance(value, bytes):
        yield value + b"x"
    elif isinstance(value, datetime | date):
        yield value + timedelta(days=1)
    elif isinstance(value, time):
        yield time((value.hour + 1) % 24, value.minute)
    elif isinstance(value, tuple):
        yield from other_tuples(value, hint)
    elif isinstance(value, Mapping):
        for name, member in value.items():
            yield {other: m for other, m in value.items() if other != name}
            for other in others(member, get_args(hint)[1]):
                yield {**value, name: other}


def alternatives(hint: Any) -> tuple[Any, ...]:
    """The types of a union, or the one type."""
    return get_args(hint) if isinstance(hint, types.UnionType) else (hint,)


def other_tuples(value: tuple[Any, ...], hint: Any) -> Iterator[Any]:
    """One member more, one less, each member another, and the order turned."""
    args = get_args(next(h for h in alternatives(hint) if get_origin(h) is tuple))
    open_ended = len(args) == 2 and args[1] is ...
    if open_ended:
        yield (*value, sample(args[0]))
        if value:
            yield value[:-1]
        if len(value) > 1 and value[0] != value[-1]:
            yield value[::-1]
    for place, member in enumerate(value):
        inner = args[0] if open_ended else args[place]
        for other in others(member, inner) if not is_dataclass(member) else ():
            yield (*value[:place], other, *value[place + 1 :])


def sample(hint: Any) -> Any:
    """Some value of a type."""
    known: dict[Any, Any] = {
        Fraction: Fraction(1, 3),
        int: 2,
        str: "other",
        bool: True,
        bytes: b"x",
        date: date(2027, 5, 3),
        datetime: datetime(2027, 5, 3, 8),
        time: time(9),
        Quantity: LENGTH,
        Money: MONEY,
        Window: Window(least=Fraction(60), longest=Fraction(7200)),
        type(None): None,
    }
    if hint in known:
        return known[hint]
    if isinstance(hint, types.UnionType):
        return sample(get_args(hint)[0])
    if get_origin(hint) is tuple:
        args = get_args(hint)
        return (sample(args[0]),) if args[-1] is ... else tuple(sample(a) for a in args)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return next(iter(hint))
    if get_origin(hint) in (dict, Mapping):
        return {"other": sample(get_args(hint)[1])}
    hints = get_type_hints(hint)
    return hint(**{f.name: sample(hints[f.name]) for f in fields(hint) if needed(f)})


def needed(field: Any) -> bool:
    from dataclasses import MISSING

    return field.default is MISSING and field.default_factory is MISSING


# ---------------------------------------------------------------- everywhere in a build


@dataclass(frozen=True)
class Spot:
    """A field of a class, the build with another value in it."""

    kind: type
    field: str
    spec: Spec


def spots(value: Any, rebuild: Any) -> Iterator[Spot]:
    """Every field of everything in a build, with other values; `rebuild` puts a value back into the build."""
    if is_dataclass(value) and not isinstance(value, type):
        hints = get_type_hints(type(value))
        for field in fields(value):
            if not field.compare:
                continue
            inner = getattr(value, field.name)

            def put(new: Any, name: str = field.name) -> Spec:
                return typing.cast(Spec, rebuild(replace(value, **{name: new})))

            for other in others(inner, hints[field.name]):
                yield Spot(type(value), field.name, put(other))
            yield from spots(inner, put)
    elif isinstance(value, tuple):
        for place, member in enumerate(value):
            if is_dataclass(member) or isinstance(member, tuple):
                yield from spots(
                    member, lambda new, place=place: rebuild((*value[:place], new, *value[place + 1 :]))
                )
    elif isinstance(value, Mapping):
        for name, member in value.items():
            yield from spots(member, lambda new, name=name: rebuild({**value, name: new}))


@cache
def everywhere() -> dict[tuple[str, str], list[Spec]]:
    found: dict[tuple[str, str], list[Spec]] = {}
    for spot in spots(whole(), lambda new: new):
        found.setdefault((spot.kind.__name__, spot.field), []).append(spot.spec)
    return found


EVERY = [
    (kind.__name__, f.name)
    for kind in MODELS
    for f in fields(kind)
    if f.compare and not is_dataclass(get_type_hints(kind)[f.name])
]
"""Fields that hold more than a class of its own, whose fields stand here too."""
NAMED_BY_KEY = {("Stock", "name"), ("Mix", "name"), ("Station", "name"), ("Fitting", "name")}
"""Names that the mapping says too: another name is another block, which the tests of renaming look at."""
OF_THE_BLOCK = {("Step", "owner"), ("Gap", "owner"), ("After", "owner")}
"""What the block says that the line stands in."""
MOST = 40
"""So many places of one field are tried; a field of a step stands in a hundred."""


@pytest.mark.parametrize(
    ("kind", "field"),
    [e for e in EVERY if e not in NAMED_BY_KEY | OF_THE_BLOCK],
    ids=lambda value: str(value),
)
def test_a_difference_in_any_field_of_a_build_is_told(kind: str, field: str) -> None:
    tried = everywhere().get((kind, field), [])
    silent = [other for other in tried[:: max(1, len(tried) // MOST)] if not changes_of(whole(), other)]
    really = [other for other in silent if meaning(other) != meaning(whole())]

    assert tried, f"no {kind} with another {field} was made"
    assert really == []


def test_every_field_of_a_block_stands_in_the_table_or_has_a_walk_of_its_own() -> None:
    for kind, facts in FACTS.items():
        meant = {f.name for f in fields(kind) if f.compare}

        assert {*facts, *WALKED.get(kind, ())} == meant, kind.__name__
        assert not {*facts} & WALKED.get(kind, frozenset()), kind.__name__


def test_every_kind_of_change_is_said_in_words() -> None:
    assert list(SAID) == list(ChangeKind)
    assert all(MIRROR[MIRROR[kind]] is kind for kind in MIRROR)


def test_a_difference_too_small_for_the_sheets_is_told_with_its_exact_values() -> None:
    spec = read(PANEL)
    name = next(n for n, m in spec.mixes.items() if m.works is not None)
    other = replace(spec.mixes[name], lift=Fraction("0.05000001"))
    old = replace(spec, mixes={**spec.mixes, name: replace(other, lift=Fraction("0.05"))})
    (change,) = changes_of(old, replace(spec, mixes={**spec.mixes, name: other}))

    assert change.says == f"{name}: lift 50 mm (0.05) -> 50 mm (0.05000001)"


def test_steps_are_found_in_the_table() -> None:
    assert {f.name for f in fields(Step) if f.compare} == {*FACTS[Step], *WALKED[Step]}
