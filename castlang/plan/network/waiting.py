"""Waits put one behind another, and the gap that they make between two tasks."""

from dataclasses import dataclass, replace

from castlang.plan.model import GapEdge, Point, Stretch, Tended, Why
from castlang.source.model import Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """Waits in order, each as told. least, longest: their sums in minutes; longest None as soon as one of
    them tells none, and where there is no wait at all."""

    parts: tuple[Stretch, ...] = ()

    @property
    def least(self) -> int:
        return sum(part.least for part in self.parts)

    @property
    def longest(self) -> int | None:
        told = [part.longest for part in self.parts if part.longest is not None]
        return sum(told) if told and len(told) == len(self.parts) else None

    def then(self, *parts: Stretch) -> "Wait":
        """These waits, and others behind them."""
        return Wait(parts=(*self.parts, *parts))

    def just(self) -> "Wait":
        """Their least times, and no longer."""
        return Wait(parts=tuple(replace(part, longest=part.least) for part in self.parts))

    def at_least(self) -> "Wait":
        """Their least times alone."""
        return Wait(parts=tuple(replace(part, longest=None) for part in self.parts))

    def at_most(self) -> "Wait":
        """Their longest times alone; who looks after them is told where their least times are."""
        return Wait(parts=tuple(replace(part, least=0, tend=None) for part in self.parts))

    def by_itself(self) -> "Wait":
        """These waits where they are counted once more, for another step: nobody looks after them twice."""
        return Wait(parts=tuple(replace(part, tend=None) for part in self.parts))

    @property
    def tended(self) -> tuple[Tended, ...]:
        """Those that somebody looks after."""
        return tuple(
            Tended(
                tend=part.tend,
                before=_passing(self.parts[:n]),
                through=_passing(self.parts[: n + 1]),
                on=not any(later.least for later in self.parts[n + 1 :]),
            )
            for n, part in enumerate(self.parts)
            if part.tend is not None
        )

    def edge(
        self,
        before: str,
        after: str,
        why: Why,
        says: str,
        span: Span,
        *,
        points: tuple[Point, Point] = (Point.END, Point.START),
    ) -> GapEdge:
        """The gap that they make between two tasks."""
        warm = any(part.ageing is not None for part in self.parts)
        return GapEdge(
            before=before,
            after=after,
            least=self.least,
            longest=self.longest,
            before_point=points[0],
            after_point=points[1],
            why=why,
            says=says,
            stretches=_passing(self.parts) if warm else (),
            tended=self.tended,
            span=span,
        )


def _passing(parts: tuple[Stretch, ...]) -> tuple[Stretch, ...]:
    return tuple(part if part.tend is None else replace(part, tend=None) for part in parts)


def clocked(least: int, longest: int | None = None) -> Wait:
    """A wait by the clock, in minutes."""
    return Wait(parts=(Stretch(least=least, longest=longest),))


NO_WAIT = Wait()
