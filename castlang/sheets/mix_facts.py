"""What a batch sheet tells about its mix: its times, its density, what a bag yields, how warm it is."""

from fractions import Fraction

from castlang.sheets import amounts, times
from castlang.sheets.basis import Basis, called, volume_text
from castlang.sheets.model import Facts, Prose
from castlang.spec.model import Mix, Window
from castlang.spec.quantity import Dimension
from castlang.takeoff.model import Recipe, StepTakeoff, WorkingTime

DENSITY_FROM = {
    "recipe": "from the recipe",
    "told": "told in the build",
    "measured": "measured",
}


def mix_facts(basis: Basis, mix: Mix, taken: StepTakeoff) -> Facts:
    """The facts of one mix, as the step uses it."""
    units = basis.units
    recipe = basis.takeoff.recipes.get(mix.name)
    pairs = [("mix", f"{called(basis.spec, mix.name)} ({mix.name})")]
    if mix.works is not None:
        pairs.append(_works(mix.works, mix.works_at, taken.working, units))
    if mix.mixing is not None:
        pairs.append(("mix for", times.seconds(mix.mixing)))
    if mix.carry is not None:
        pairs.append(("carry", times.seconds(mix.carry)))
    if mix.wet_edge is not None:
        pairs.append(("wet edge", times.seconds(mix.wet_edge)))
    if mix.recoat is not None:
        pairs.append(("next lift or coat", times.window(mix.recoat)))
    if recipe is not None:
        how = DENSITY_FROM.get(recipe.density_from, recipe.density_from)
        pairs.append((f"density, {how}", amounts.density(recipe.density, units)))
        pairs += _yield(basis, recipe)
        if recipe.warmth is not None:
            pairs.append(("mix temperature", f"{amounts.temperature(recipe.warmth, units)} expected"))
    return Facts(pairs=tuple(pairs))


def two_buckets(mix: Mix) -> Prose:
    """How parts that react are mixed: what clings to the first bucket is off its ratio."""
    stir = f"Stir for {times.seconds(mix.mixing)}" if mix.mixing is not None else "Stir"
    return Prose(
        title="Two clean buckets",
        lines=(
            f"{stir} in the first bucket; scrape its wall and floor.",
            "Pour over into a second clean bucket, without scraping the last of it out, and mix again.",
        ),
        points=True,
    )


def _works(
    told: Window, told_at: Fraction | None, working: WorkingTime | None, units: str
) -> tuple[str, str]:
    """`35 min at 22 degC; batches cut for 40 min at 20 degC, halved by each 10 K warmer`, under its label."""
    label = "working time, first liquid to last in place"
    at = f" at {amounts.temperature(told_at, units)}" if told_at is not None else ""
    if working is None or working.doubles is None or working.at is None or working.at == told_at:
        return label, f"{times.window(told)}{at}"
    us = units == amounts.US
    warmer = f"{amounts.brief(working.doubles * (Fraction(9, 5) if us else 1), 1)} {'degF' if us else 'K'}"
    cut = f"{times.span(int(working.seconds // 60))} at {amounts.temperature(working.at, units)}"
    return label, f"{times.window(told)}{at}; batches cut for {cut}, halved by each {warmer} warmer"


def _yield(basis: Basis, recipe: Recipe) -> list[tuple[str, str]]:
    """What one package of the greatest binder, else of the first part, makes."""
    binders = [line for line in recipe.lines if line.role == "binder"]
    parts = [line for line in recipe.lines if line.role == "part"]
    if not binders and not parts:
        return []
    main = max(binders, key=lambda line: line.mass) if binders else parts[0]
    stock = basis.spec.stocks.get(main.stock)
    if stock is not None and stock.kit is not None:
        word, amount = f"kit {called(basis.spec, stock.kit.name)}, with", stock.kit.amount
    elif stock is not None and stock.package is not None and stock.package.amount is not None:
        word, amount = f"{stock.package.word} of", stock.package.amount
    else:
        return []
    held = main.mass if amount.dimension is Dimension.MASS else main.volume
    if amount.dimension not in (Dimension.MASS, Dimension.VOLUME) or not held:
        return []
    makes = volume_text(basis.spec, recipe.mix, amount.si / held, basis.units)
    size = amounts.amount(amount, basis.units)
    return [(f"one {word} {called(basis.spec, main.stock)} ({size}) makes", makes)]
