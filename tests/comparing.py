"""Two texts compared as the command does it, for tests: planned, their sheets stamped, all in one call."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from castlang.compare.from_builds import comparison_of
from castlang.compare.model import Comparison, Side, Swap
from castlang.pipeline import compile_build
from castlang.problems.as_text import problem_text
from castlang.sheets.from_plan import binder_of
from castlang.sheets.stamps import stamps_of
from castlang.source.files import Texts

GARDEN = (Path(__file__).parent / "cases" / "compare" / "garden.pour").read_text(encoding="utf-8")


def edited(edits: tuple[tuple[str, str], ...], text: str = GARDEN) -> str:
    """The text with each edit made wherever its first half stands, which must be somewhere."""
    for old, new in edits:
        assert old in text, old
        text = text.replace(old, new)
    return text


@cache
def side(text: str, called: str) -> Side:
    """One side, planned; a build that cannot be built is a mistake of the test."""
    made = compile_build(f"{called}.pour", text.encode(), Texts(texts={}), search="quick")
    told = "\n".join(problem_text(p, made.texts) for p in made.problems)
    assert made.spec is not None, told
    assert made.takeoff is not None, told
    assert made.plan is not None, told
    assert made.costing is not None, told
    binder = binder_of(made.spec, made.takeoff, made.plan, made.costing, made.problems)
    return Side(
        called=called,
        spec=made.spec,
        takeoff=made.takeoff,
        plan=made.plan,
        costing=made.costing,
        problems=made.problems,
        stamps=stamps_of(binder),
    )


def compared(old: str, new: str, units: str = "metric") -> Comparison:
    """Both texts compared."""
    return comparison_of(side(old, "old"), side(new, "new"), units)


def sign(amount: object) -> str:
    """Whether it is more or less."""
    return "more" if amount > 0 else "less"  # type: ignore[operator]  # any kind of number


def follows(told: Comparison) -> tuple[str, ...]:
    """What follows from the changes, each in a few words, without figures."""
    found = []
    for amount in told.amounts:
        if amount.new_need != amount.old_need:
            found.append(f"{sign(amount.new_need - amount.old_need)} {amount.name}")
        if amount.more:
            found.append(f"buy {amount.more:+} {amount.name}")
    for weight in told.weights:
        there = weight.old is not None and weight.new is not None
        word = sign((weight.new or 0) - (weight.old or 0))
        found.append(f"{weight.piece} weighs {word}" if there else f"weight of {weight.piece}")
    for line in told.sums:
        if line.what == "cost in all" and line.old and line.new:
            found.append(f"costs {sign(line.new.amount - line.old.amount)}")
    found += [f"{sign(work.new - work.old)} work on {work.block}" for work in told.work]
    ends = (told.new_end.start.toordinal() - told.old_end.start.toordinal()) * 1440
    ends += told.new_end.finish - told.old_end.finish
    found += [f"ends {ends:+} min"] if ends else []
    found += [f"all moves {told.shift:+} min"] if told.shift else []
    found += ["other chain"] if told.chain.joined or told.chain.left else []
    found += [f"found {p.finding.name}" for p in told.found] + [f"gone {p.finding.name}" for p in told.gone]
    return (*found, *(f"cast {cast.step}" for cast in told.cast))


WORDS: Mapping[Swap, str] = {
    Swap.REPLACE: "",
    Swap.DATES: "dates ",
    Swap.PULL: "pull ",
    Swap.PUT_IN: "put in ",
}


def sheets(told: Comparison) -> tuple[str, ...]:
    """The sheets to exchange by their codes; others with what to do before them."""
    return tuple(f"{WORDS[swap.swap]}{swap.code}" for swap in told.swaps)
