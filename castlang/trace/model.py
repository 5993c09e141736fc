"""A computed figure with what it was computed from. Rebuilt on asking, never stored."""

from dataclasses import dataclass, field
from fractions import Fraction

from castlang.source.model import Span
from castlang.spec.model import NOWHERE
from castlang.spec.quantity import Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """`name` asks for it again. value in the SI unit of `dimension` (time: s; money: one unit of the currency
    in `word`); None for what is no number, which `text` tells (a date). formula: in the symbols of `inputs`.

    told: it stands in the build at `span`, as `text`. source: where formula or value come from.
    """

    name: str
    value: Fraction | None = None
    dimension: Dimension = Dimension.COUNT
    word: str = ""
    says: str = ""
    formula: str = ""
    inputs: tuple["Input", ...] = ()
    source: str = ""
    told: bool = False
    text: str = ""
    span: Span = field(default=NOWHERE, compare=False)

    @property
    def number(self) -> Fraction:
        """The value, of a figure that is one."""
        if self.value is None:
            raise ValueError(f"{self.name} is no number")
        return self.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """What a symbol of a formula stands for."""

    symbol: str
    figure: Figure
