"""From one grit to the next on a face, and how much finer it is.

    r = d_before / d_after       on the P scale, d the average grain size
    r = n_after / n_before       on a mesh scale, n the mark on the pad

Two marks that are both P grades of coated abrasives are read as such; any other pair as mesh, the way
diamond pads are marked (common practice, no source).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from castlang.rules.faces import faces_of, shared_faces
from castlang.rules.materials import LAID
from castlang.rules.model import Ground
from castlang.rules.order import before
from castlang.spec.model import Step, StepKind

P_GRADES: Mapping[int, Fraction] = {
    grade: Fraction(size)
    for grade, size in {
        12: "1815", 16: "1324", 20: "1000", 24: "764", 30: "642", 36: "538", 40: "425", 50: "336", 60: "269",
        80: "201", 100: "162", 120: "125", 150: "100", 180: "82", 220: "68",
        240: "58.5", 280: "52.2", 320: "46.2", 360: "40.5", 400: "35.0", 500: "30.2", 600: "25.8",
        800: "21.8", 1000: "18.3", 1200: "15.3", 1500: "12.6", 2000: "10.3", 2500: "8.4",
    }.items()
}  # fmt: skip
"""Average grain size in um by P grade: ISO 6344-2:2021 (P12 to P220), ISO 6344-3:2021 (P240 and finer)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """`step` grinds a face at `finer` right after `coarser`, which it used itself or `above` did."""

    piece: str
    step: Step
    coarser: int
    finer: int
    above: Step | None = None

    @property
    def p_grades(self) -> bool:
        """Whether both marks are P grades."""
        return self.coarser in P_GRADES and self.finer in P_GRADES

    @property
    def ratio(self) -> Fraction:
        """How many times finer the grain becomes; below 1 when it becomes coarser."""
        if self.p_grades:
            return P_GRADES[self.coarser] / P_GRADES[self.finer]
        return Fraction(self.finer, self.coarser)


def changes(ground: Ground) -> Iterator[Change]:
    """Every change of grit on every piece: inside a step, and from a step to the next one on a shared face
    with nothing put on between them."""
    for piece, steps in ground.work.items():
        grinds = [step for step in steps if step.grits and faces_of(ground, piece, step)]
        for step in grinds:
            for above in grinds:
                if above is not step and _next(ground, piece, above, step):
                    yield Change(
                        piece=piece, step=step, coarser=above.grits[-1], finer=step.grits[0], above=above
                    )
            for coarser, finer in zip(step.grits, step.grits[1:], strict=False):
                yield Change(piece=piece, step=step, coarser=coarser, finer=finer)


def _next(ground: Ground, piece: str, above: Step, step: Step) -> bool:
    """Whether on some face `step` is the first that touches it after `above`."""
    if not before(ground, piece, above, step):
        return False
    between = [
        faces_of(ground, piece, other)
        for other in ground.work[piece]
        if (other.kind is StepKind.PASS or other.kind in LAID)
        and before(ground, piece, above, other)
        and before(ground, piece, other, step)
    ]
    return any(
        all(face not in faces for faces in between) for face in shared_faces(ground, piece, above, step)
    )
