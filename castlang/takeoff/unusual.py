"""Where a mix leaves the range that the trade works in: the ranges as data, and the figures held to them.

    water ratio = water in all / binder        solids ratio = polymer solids / binder        (by mass)
    glass share = glass / whole mix            dilution = water / concentrate

A figure is worked out only for mixes of the kind that its range is about: None for all others.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from castlang.problems.model import Finding, Problem
from castlang.spec.model import Acts, Mix, Role, Spec, Step, StepKind, Stock
from castlang.takeoff import range_findings, wording
from castlang.takeoff.model import Recipe, RecipeLine

NOUGHT = Fraction(0)
CEMENT = Fraction(2850)  # kg/m3: portland, white and aluminate cements are denser, pozzolans and lime lighter
LIGHT = Fraction(2700)
GLASS = (Fraction(2500), Fraction(2800))
WATER = (Fraction(990), Fraction(1005))
FIBROUS = Fraction(1, 100)  # of the whole mix: less is there against cracks, not to carry
POLYMER = Fraction(3, 100)  # solids on binder: an admixture brings less


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A mix as it is used: its recipe (shares by mass), and the steps that use it."""

    mix: Mix
    recipe: Recipe
    stocks: Mapping[str, Stock]
    steps: tuple[Step, ...]

    def lines(self, *roles: Role) -> tuple[RecipeLine, ...]:
        return tuple(line for line in self.recipe.lines if line.role in roles)

    def mass(self, *roles: Role) -> Fraction:
        """kg in 1 m3."""
        return sum((line.mass for line in self.lines(*roles)), NOUGHT)

    def density(self, line: RecipeLine) -> Fraction:
        """kg/m3 of a line's stock; 0 where it is not told."""
        stock = self.stocks.get(line.stock)
        return (stock.density if stock else None) or NOUGHT

    def used(self, *kinds: StepKind) -> bool:
        return any(step.kind in kinds for step in self.steps)

    @property
    def cement(self) -> bool:
        """Whether at least half of its binder is cement."""
        binders = self.lines(Role.BINDER)
        heavy = sum((b.mass for b in binders if self.density(b) >= CEMENT), NOUGHT)
        return bool(binders) and 2 * heavy >= self.mass(Role.BINDER)

    @property
    def glass(self) -> Fraction:
        """The share of glass fiber in the whole."""
        low, high = GLASS
        fibers = self.lines(Role.FIBER)
        return sum((f.mass for f in fibers if low <= self.density(f) <= high), NOUGHT) / self.recipe.density

    @property
    def shell(self) -> bool:
        """Whether it is a mix for shells: cement with glass fiber, or cement laid or sprayed in layers."""
        return self.cement and (self.glass >= FIBROUS or self.used(StepKind.LAYER))


Figure = Callable[[Made], Fraction | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """A figure with its usual range, and the range outside of which a typing slip is likely; None: no end."""

    finding: Finding
    figure: Figure
    says: str
    least: Fraction | None = None
    most: Fraction | None = None
    slip_least: Fraction | None = None
    slip_most: Fraction | None = None
    share: bool = False


def unusual(spec: Spec, recipes: Mapping[str, Recipe], steps: tuple[Step, ...]) -> Iterator[Problem]:
    """A finding for every figure of a mix in use that lies outside its usual range."""
    for name, recipe in recipes.items():
        used = tuple(step for step in steps if step.material == name)
        made = Made(mix=spec.mixes[name], recipe=recipe, stocks=spec.stocks, steps=used)
        for row in RANGES:
            found = row.figure(made)
            if found is not None and _outside(found, row.least, row.most):
                yield _problem(made, row, found)


def _outside(value: Fraction, least: Fraction | None, most: Fraction | None) -> bool:
    return (least is not None and value < least) or (most is not None and value > most)


def _problem(made: Made, row: Range, found: Fraction) -> Problem:
    say = wording.percent if row.share else wording.figure
    ends = [f"at least {say(row.least)}" if row.least is not None else ""]
    ends.append(f"at most {say(row.most)}" if row.most is not None else "")
    wanted = " and ".join(end for end in ends if end)
    slip = "; so far off, a typing slip is likely" if _outside(found, row.slip_least, row.slip_most) else ""
    return Problem(
        finding=row.finding,
        message=f"mix {made.mix.name} has {say(found)} {row.says}, usual is {wanted}{slip}",
        span=made.mix.span,
        about=(made.mix.name,),
    )


# ---------------------------------------------------------------- figures


def _water_in_shell(made: Made) -> Fraction | None:
    return made.recipe.water_total / made.recipe.binder if made.shell else None


def _water_in_casting(made: Made) -> Fraction | None:
    return made.recipe.water_total / made.recipe.binder if made.cement and not made.shell else None


def _sand(made: Made) -> Fraction | None:
    sand = made.mass(Role.SAND)
    fits = made.cement and made.glass >= FIBROUS and sand > 0 and not made.lines(Role.FILLER)
    return sand / made.recipe.binder if fits else None


def _polymers(made: Made) -> Iterator[tuple[RecipeLine, Fraction]]:
    """Liquids that are polymer dispersions, with their kg of solids in 1 m3."""
    told = {i.stock for i in made.mix.ingredients if i.as_solids}
    for line in made.lines(Role.LIQUID):
        solids = (made.stocks.get(line.stock, Stock(name=line.stock)).solids or NOUGHT) * line.mass
        if line.stock in told or solids >= POLYMER * made.recipe.binder:
            yield line, solids


def _polymer(made: Made) -> Fraction | None:
    found = list(_polymers(made)) if made.cement else []
    return sum((solids for _, solids in found), NOUGHT) / made.recipe.binder if found else None


def _dispersion(made: Made) -> Fraction | None:
    """The solids of the dispersion; a powder that is dosed as a liquid has no water to count."""
    shares = [solids / line.mass for line, solids in _polymers(made) if line.mass] if made.cement else []
    wet = [share for share in shares if share < 1]
    return wet[0] if wet else None


def _admixtures(made: Made) -> Fraction | None:
    if not made.cement:
        return None
    polymers = {line.stock for line, _ in _polymers(made)}
    others = sum((line.mass for line in made.lines(Role.LIQUID) if line.stock not in polymers), NOUGHT)
    return others / made.recipe.binder


def _pozzolan(made: Made) -> Fraction | None:
    light = [b.mass for b in made.lines(Role.BINDER) if NOUGHT < made.density(b) < LIGHT]
    return sum(light, NOUGHT) / made.recipe.binder if light and made.cement else None


def _glass(made: Made, method: str | None) -> Fraction | None:
    """The glass in a mix used in one way only; the little in a face coat is there against cracks."""
    ways = {step.method if step.kind is StepKind.LAYER else None for step in made.steps}
    if not made.cement or ways != {method} or made.glass <= FACE_GLASS:
        return None
    return made.glass


def _glass_sprayed(made: Made) -> Fraction | None:
    return _glass(made, "sprayed")


def _glass_laid(made: Made) -> Fraction | None:
    return _glass(made, "laid")


def _glass_cast(made: Made) -> Fraction | None:
    return _glass(made, None)


def _dilution(made: Made) -> Fraction | None:
    """Water to concentrate, by the measure of the mix."""
    releases = made.mix.acts is Acts.RELEASE or made.used(StepKind.RELEASE)
    parts = [i for i in made.mix.ingredients if i.role is Role.PART]
    if not releases or len(parts) != 2:
        return None
    low, high = WATER
    densities = [made.stocks.get(p.stock, Stock(name=p.stock)).density or NOUGHT for p in parts]
    thin = [p.dose.value for p, d in zip(parts, densities, strict=True) if low <= d <= high]
    thick = [p.dose.value for p, d in zip(parts, densities, strict=True) if not low <= d <= high]
    return thin[0] / thick[0] if len(thin) == 1 and thick[0] > 0 else None


def _hardener(made: Made) -> Fraction | None:
    parts = [i.dose.value for i in made.mix.ingredients if i.role is Role.PART]
    two = made.mix.acts is Acts.RESIN and made.mix.measure == "mass" and len(parts) == 2
    return parts[1] / parts[0] if two else None


# ---------------------------------------------------------------- the ranges


def _percent(value: str) -> Fraction:
    return Fraction(value) / 100


FACE_GLASS = _percent("0.5")

RANGES: tuple[Range, ...] = (
    Range(
        finding=range_findings.WATER_UNUSUAL,
        figure=_water_in_shell,
        says="of water to its binder",
        least=Fraction("0.28"),
        most=Fraction("0.40"),
        slip_least=Fraction("0.20"),
        slip_most=Fraction("0.60"),
    ),
    Range(
        finding=range_findings.WATER_UNUSUAL,
        figure=_water_in_casting,
        says="of water to its binder",
        least=Fraction("0.20"),
        most=Fraction("0.75"),
        slip_least=Fraction("0.10"),
        slip_most=Fraction(1),
    ),
    Range(
        finding=range_findings.SAND_UNUSUAL,
        figure=_sand,
        says="of sand to its binder",
        least=Fraction("0.75"),
        most=Fraction("1.25"),
        slip_least=Fraction("0.3"),
        slip_most=Fraction(3),
    ),
    Range(
        finding=range_findings.POLYMER_UNUSUAL,
        figure=_polymer,
        says="of polymer solids on its binder",
        least=_percent("3"),
        most=_percent("10"),
        slip_most=_percent("20"),
        share=True,
    ),
    Range(
        finding=range_findings.DISPERSION_UNUSUAL,
        figure=_dispersion,
        says="of solids in its polymer dispersion",
        least=_percent("40"),
        most=_percent("60"),
        slip_least=_percent("10"),
        share=True,
    ),
    Range(
        finding=range_findings.FIBER_UNUSUAL,
        figure=_glass_laid,
        says="of glass in the whole, laid by hand",
        least=_percent("2"),
        most=_percent("3.5"),
        slip_most=_percent("8"),
        share=True,
    ),
    Range(
        finding=range_findings.FIBER_UNUSUAL,
        figure=_glass_sprayed,
        says="of glass in the whole, sprayed",
        least=_percent("2"),
        most=_percent("6"),
        slip_most=_percent("8"),
        share=True,
    ),
    Range(
        finding=range_findings.FIBER_UNUSUAL,
        figure=_glass_cast,
        says="of glass in the whole, poured or pressed",
        least=_percent("1"),
        most=_percent("3.5"),
        slip_most=_percent("8"),
        share=True,
    ),
    Range(
        finding=range_findings.POZZOLAN_UNUSUAL,
        figure=_pozzolan,
        says="of its binder as pozzolan or lime",
        most=_percent("30"),
        slip_most=_percent("50"),
        share=True,
    ),
    Range(
        finding=range_findings.ADMIXTURE_UNUSUAL,
        figure=_admixtures,
        says="of liquid admixtures on its binder",
        most=_percent("5"),
        slip_most=_percent("10"),
        share=True,
    ),
    Range(
        finding=range_findings.DILUTION_UNUSUAL,
        figure=_dilution,
        says="parts of water to one of release",
        least=Fraction(2),
        most=Fraction(9),
        slip_least=Fraction("0.5"),
        slip_most=Fraction(20),
    ),
    Range(
        finding=range_findings.HARDENER_UNUSUAL,
        figure=_hardener,
        says="of its second part on the first",
        least=_percent("10"),
        most=_percent("120"),
        slip_least=_percent("5"),
        slip_most=_percent("200"),
        share=True,
    ),
)
