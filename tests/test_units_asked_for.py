"""Units asked for on the command line hold for all that is told, not for the sheets alone."""

from castlang.cli.starter import STARTER
from castlang.pipeline import Compiled, compile_build
from castlang.source.files import Texts

HEAVY = STARTER.replace("40 mm thick", "80 mm thick")


def told(units: str | None) -> Compiled:
    return compile_build("bench.pour", HEAVY.encode(), Texts(), units=units)


def test_messages_and_rounding_follow_the_units_that_are_asked_for() -> None:
    own, us = told(None), told("us")

    lifts = [next(p.message for p in b.problems if p.finding.name == "heavy-lift") for b in (own, us)]
    assert " kg" in lifts[0]
    assert " lb" in lifts[1]
    assert " kg" not in lifts[1]
    assert us.spec is not None
    assert us.spec.build.units == "us"


def test_units_that_are_asked_for_are_not_assumed() -> None:
    assumed = [
        [a.line for a in build.assumptions if a.line.startswith("print ")]
        for build in map(told, (None, "us"))
    ]

    assert assumed == [["print metric"], []]
