"""What figures are traced in: the stages' results, the texts, and the figures found so far."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from castlang.costing.model import Costing
from castlang.plan.model import GapEdge, Placed, Plan
from castlang.source.model import Span
from castlang.spec.model import NOWHERE, Measured, Spec, Step
from castlang.spec.quantity import Dimension
from castlang.takeoff.bodies import Body, body_of, jobs_on
from castlang.takeoff.from_spec import all_steps
from castlang.takeoff.measured import as_measured
from castlang.takeoff.model import Takeoff
from castlang.takeoff.standing import Placings
from castlang.trace.lines import line_at, sizes_in
from castlang.trace.model import Figure, Input


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """One kind of figures: the names that there are, and the figure of a name; None when it is not one."""

    names: Callable[["Ground"], Iterator[str]]
    figure: Callable[["Ground", str], Figure | None]


@dataclass(slots=True, kw_only=True)
class Ground:
    """spec as it was meant; measured: with what was measured in its place. texts: the files by name. placed:
    what the plan says of each task; into: the gaps that lead to it."""

    spec: Spec
    takeoff: Takeoff
    plan: Plan
    costing: Costing
    texts: Mapping[str, str]
    subjects: Sequence[Subject]
    measured: Spec = field(init=False)
    steps: Mapping[tuple[str, str], Step] = field(init=False)
    placed: Mapping[str, Placed] = field(init=False)
    into: Mapping[str, Sequence[GapEdge]] = field(init=False)
    placings: Placings = field(init=False)
    _found: dict[str, Figure | None] = field(default_factory=dict)
    _bodies: dict[str, Body | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.measured = as_measured(self.spec)
        self.steps = {(step.owner, step.name): step for step in all_steps(self.measured)}
        self.placings = Placings(spec=self.measured)
        self.placed = {placed.task: placed for placed in self.plan.placed}
        into: dict[str, list[GapEdge]] = {}
        for edge in self.plan.network.gaps:
            into.setdefault(edge.after, []).append(edge)
        self.into = into

    def find(self, name: str) -> Figure | None:
        """The figure called `name`; None when there is none."""
        if name not in self._found:
            self._found[name] = None  # so that a figure that leads back to itself stops here
            made = (subject.figure(self, name) for subject in self.subjects)
            self._found[name] = next((figure for figure in made if figure is not None), None)
        return self._found[name]

    def inputs(self, *pairs: tuple[str, Figure | str | None]) -> tuple[Input, ...]:
        """Inputs from symbols and figures, or their names; what is not there is left out."""
        found = []
        for symbol, figure in pairs:
            known = self.find(figure) if isinstance(figure, str) else figure
            if known is not None:
                found.append(Input(symbol=symbol, figure=known))
        return tuple(found)

    def body(self, piece: str) -> Body | None:
        """The body of a piece, worked out again."""
        if piece not in self._bodies:
            known = piece in self.measured.pieces
            jobs = jobs_on(self.measured).get(piece, ())
            self._bodies[piece] = (
                body_of(self.measured.pieces[piece], self.measured, jobs).value if known else None
            )
        return self._bodies[piece]

    def measured_line(self, what: str, of: str) -> Measured | None:
        """The `measured` line that counts for `what` of a thing."""
        lines = [m for m in self.spec.measured if (m.what, m.of) == (what, of)]
        return lines[-1] if lines else None

    def step_key(self, named: str) -> tuple[tuple[str, str], str]:
        """(owner, step) that a dotted name begins with, and what stands behind it. A copy's number is left
        out; a step may have a dot of its own ("body.cover")."""
        owner, *words = named.split(".")
        if words and re.fullmatch(r"m?\d+", words[0]):
            words = words[1:]
        for end in range(len(words), 0, -1):
            key = (owner, ".".join(words[:end]))
            if key in self.takeoff.steps:
                return key, ".".join(words[end:])
        return ("", ""), ""

    # ------------------------------------------------------------ what the build says

    def told(
        self,
        name: str,
        value: Fraction | int,
        dimension: Dimension,
        span: Span,
        keyword: str = "",
        *,
        word: str = "",
        nth: int = 0,
    ) -> Figure:
        """A value that stands in the build: at `span`, or on the line `keyword` of the block that begins
        there, the nth of them. Where no such line stands, it was taken for granted."""
        place, text = line_at(self.texts, span, keyword, nth)
        if not text and keyword:
            place, text = self._line_of_base(span, keyword)
        if text:
            text += "".join(f"; {line}" for line in sizes_in(self.texts, text))
        return Figure(
            name=name,
            value=Fraction(value),
            dimension=dimension,
            word=word,
            told=bool(text),
            text=text,
            span=place,
            source="" if text else "taken for granted",
        )

    def said(self, name: str, measured: Measured) -> Figure:
        """A measured value."""
        return self.told(name, measured.amount.si, measured.amount.dimension, measured.span)

    def _line_of_base(self, span: Span, keyword: str) -> tuple[Span, str]:
        """The line of the mix that the mix at `span` was made from."""
        mix = next((mix for mix in self.spec.mixes.values() if mix.span == span), None)
        while mix is not None and mix.base is not None:
            mix = self.spec.mixes[mix.base]
            place, text = line_at(self.texts, mix.span, keyword)
            if text:
                return place, text
        return NOWHERE, ""
