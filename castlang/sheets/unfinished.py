"""What a build says and the compiler does not yet work out: told on the cover, never dropped in silence."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from castlang.spec.model import Gap, GapKind, Item, Spec, Step


@dataclass(frozen=True, slots=True, kw_only=True)
class Unfinished:
    """`says` is printed when `applies` to the build."""

    says: str
    applies: Callable[[Spec], bool]


def unfinished(spec: Spec) -> tuple[str, ...]:
    """The lines that apply to this build, in a fixed order."""
    return tuple(one.says for one in UNFINISHED if one.applies(spec))


def _items(spec: Spec) -> Iterator[Item]:
    for owner in spec.owners():
        yield from owner.sequence


def _gaps(spec: Spec) -> Iterator[Gap]:
    return (item for item in _items(spec) if isinstance(item, Gap))


def _steps(spec: Spec) -> Iterator[Step]:
    return (item for item in _items(spec) if isinstance(item, Step))


def _cures_elsewhere(spec: Spec) -> bool:
    """Whether a cure is told at a temperature that the shop does not keep day and night."""
    shop = {climate.value for climate in (*spec.build.air, *spec.build.night)}
    cures = (gap.at for gap in _gaps(spec) if gap.kind is GapKind.CURE and gap.at is not None)
    return any(shop != {at} for at in cures)


def _dries(spec: Spec) -> bool:
    return any(gap.kind is GapKind.DRY for gap in _gaps(spec))


def _works_elsewhere(spec: Spec) -> bool:
    air = {climate.value for climate in spec.build.air}
    used = {step.material for step in _steps(spec)}
    return any(
        mix.works_at is not None and air != {mix.works_at} for name, mix in spec.mixes.items() if name in used
    )


def _quoted(spec: Spec) -> bool:
    build = spec.build
    return build.margin is not None or build.overhead is not None or build.freight is not None


UNFINISHED = (
    Unfinished(
        says="Cures count as told: they are not stretched or shortened by the temperature of the shop",
        applies=_cures_elsewhere,
    ),
    Unfinished(
        says="Drying times count as told: they are not stretched by temperature or humidity", applies=_dries
    ),
    Unfinished(
        says="Working times count as told: a warmer shop shortens them, a colder one lengthens them",
        applies=_works_elsewhere,
    ),
    Unfinished(
        says="Cures until a strength: the strength is printed; the time to gain it is not worked out",
        applies=lambda spec: any(gap.until is not None for gap in _gaps(spec)),
    ),
    Unfinished(
        says="Records of work done are shown beside their steps; the plan does not use them yet",
        applies=lambda spec: bool(spec.done),
    ),
    Unfinished(
        says="Margin, overhead and freight are kept for the quote; no sum here holds them", applies=_quoted
    ),
    Unfinished(
        says="Exchange rates are kept; sums of two currencies stand side by side",
        applies=lambda spec: bool(spec.build.exchange),
    ),
    Unfinished(
        says="Hourly prices of stations are kept; no sum here holds them",
        applies=lambda spec: any(station.price is not None for station in spec.stations.values()),
    ),
    Unfinished(
        says="Humidity and draft are kept; how fast a fresh face dries out is not worked out",
        applies=lambda spec: bool(spec.build.humidity) or spec.build.draft is not None,
    ),
    Unfinished(
        says="Shelf life (keeps) is kept; it is not set against the days of use",
        applies=lambda spec: any(stock.keeps is not None for stock in spec.stocks.values()),
    ),
    Unfinished(
        says="Saw kerf and grain are kept; sheets are counted by area",
        applies=lambda spec: any(s.kerf is not None or s.grain is not None for s in spec.stocks.values()),
    ),
    Unfinished(
        says="The priority of the build is kept; it is planned alone",
        applies=lambda spec: spec.build.priority is not None,
    ),
    Unfinished(
        says="The logger's table is kept; its temperatures are not read",
        applies=lambda spec: spec.build.logger is not None,
    ),
    Unfinished(
        says="Mesh pieces: volume and area come from the mesh; layers on them are area times thickness",
        applies=lambda spec: any(piece.mesh is not None for piece in spec.pieces.values()),
    ),
)
