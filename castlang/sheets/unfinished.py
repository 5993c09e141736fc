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


def _dries(spec: Spec) -> bool:
    return any(gap.kind is GapKind.DRY for gap in _gaps(spec))


UNFINISHED = (
    Unfinished(
        says="Drying times count as told: they are not stretched by temperature or humidity", applies=_dries
    ),
    Unfinished(
        says="Cures to be tended: the sheets say when each visit is due; the plan keeps nobody free for it",
        applies=lambda spec: any(gap.tend is not None for gap in _gaps(spec)),
    ),
    Unfinished(
        says="Mesh pieces: volume and area come from the mesh; layers on them are area times thickness",
        applies=lambda spec: any(piece.mesh is not None for piece in spec.pieces.values()),
    ),
)
