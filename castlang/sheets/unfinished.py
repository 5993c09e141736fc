"""What a build says and the compiler does not yet work out: told on the cover, never dropped in silence."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from castlang.spec.model import Gap, GapKind, Item, Spec


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


def _cures_elsewhere(spec: Spec) -> bool:
    """Whether a cure is told at a temperature that the shop does not keep day and night."""
    shop = {climate.value for climate in (*spec.build.air, *spec.build.night)}
    cures = (gap.at for gap in _gaps(spec) if gap.kind is GapKind.CURE and gap.at is not None)
    return any(shop != {at} for at in cures)


def _dries(spec: Spec) -> bool:
    return any(gap.kind is GapKind.DRY for gap in _gaps(spec))


UNFINISHED = (
    Unfinished(
        says="Cures count as told: they are not stretched or shortened by the temperature of the shop",
        applies=_cures_elsewhere,
    ),
    Unfinished(
        says="Drying times count as told: they are not stretched by temperature or humidity", applies=_dries
    ),
    Unfinished(
        says="Cures until a strength count the time that the mix tells, whatever the temperature",
        applies=lambda spec: any(gap.until is not None for gap in _gaps(spec)),
    ),
    Unfinished(
        says="Cures to be tended: how often is printed beside the cure; the visits are not in the plan",
        applies=lambda spec: any(gap.tend is not None for gap in _gaps(spec)),
    ),
    Unfinished(
        says="How a mix ages with warmth is kept; waits count as told",
        applies=lambda spec: any(mix.ages is not None for mix in spec.mixes.values()),
    ),
    Unfinished(
        says="Records of work done are shown beside their steps; the plan does not use them yet",
        applies=lambda spec: bool(spec.done),
    ),
    Unfinished(
        says="Humidity and draft are kept; how fast a fresh face dries out is not worked out",
        applies=lambda spec: bool(spec.build.humidity) or spec.build.draft is not None,
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
