"""Parts on a folded wall: their places count along its whole front, leg after leg. No fold is cut."""

import pytest
from bodies import F, geometry, less, mm, near, outcome, plus

from castlang.spec.model import Leg, Shape

THREE = (Leg(long=F("0.7"), turn=F(15)), Leg(long=F("0.7"), turn=F(15)), Leg(long=F("0.7")))


def corner(turn: int, thick: int = 100) -> Shape:
    legs = (Leg(long=F(1), turn=F(turn)), Leg(long=F(1)))
    return Shape(kind="run", sizes=mm(high=1000, thick=thick), legs=legs)


SHELL = Shape(kind="run", sizes=mm(high=450), legs=THREE)
BODY = Shape(kind="run", sizes=mm(high=450, thick=60), legs=THREE)


@pytest.mark.parametrize("body", [SHELL, BODY])
@pytest.mark.parametrize("middle", [350, 1050, 1750])
def test_a_slot_sits_on_any_leg_and_takes_its_area_off_the_front(body: Shape, middle: int) -> None:
    slot = less("slot", "box", None, (middle, "left"), long=600, wide=30)

    assert near(geometry(body, slot).area("front"), F("2.1") * F("0.45") - F("0.018"))


def test_the_same_place_on_two_legs_is_two_places() -> None:
    one = less("one", "box", None, (350, "left"), long=600, wide=30)
    other = less("other", "box", None, (350, "right"), long=600, wide=30)

    assert near(geometry(BODY, one, other).area("back"), geometry(BODY).area("back") - 2 * F("0.018"))


@pytest.mark.parametrize("body", [SHELL, BODY])
def test_without_a_place_it_sits_in_the_middle_of_the_whole_front(body: Shape) -> None:
    told = outcome(body, less("slot", "box", long=600, wide=30)).assumptions

    assert [a.line for a in told if a.says == "in the middle of the front"] == [
        "placed 1050 mm from left, 225 mm from foot"
    ]


@pytest.mark.parametrize("body", [SHELL, BODY])
def test_what_lies_across_a_fold_is_refused_with_the_place_of_the_fold(body: Shape) -> None:
    (problem,) = outcome(body, less("slot", "box", None, (1200, "left"), long=600, wide=30)).problems

    assert problem.finding.name == "part-off-face"
    assert problem.message == (
        "slot of piece is 600 mm by 30 mm with its middle 1200 mm from the left of front, "
        "across the fold at 1400 mm"
    )
    assert problem.remedy == "move it onto one leg with `placed`: it counts from the left, leg after leg"


def test_what_hangs_over_the_end_is_told_the_whole_front() -> None:
    (problem,) = outcome(SHELL, less("slot", "box", None, (2050, "left"), long=600, wide=30)).problems

    assert problem.message.endswith("of front, which is 2100 mm by 450 mm")


# A wall 100 mm thick that turns by 90 degrees is mitred at 45: where the corner is an outside one, a hole
# 100 mm deep stays 100 mm away from it, or it would come out in the other leg.


@pytest.mark.parametrize(
    ("turn", "face", "middle", "good"),
    [
        (90, "front", 850, True),
        (90, "front", 851, False),
        (90, "front", 1149, False),
        (90, "front", 1150, True),
        (90, "back", 850, True),  # the back of each leg is 900 mm, and the hole widens no further
        (90, "back", 851, False),
        (90, "back", 950, True),
        (-90, "front", 950, True),
        (-90, "front", 951, False),
        (-90, "back", 950, True),  # the back of each leg is 1100 mm, and its mitre 100
        (-90, "back", 951, False),
        (-90, "back", 1250, True),
        (-90, "back", 1249, False),
    ],
)
def test_a_hole_through_a_thick_wall_comes_out_in_its_own_leg(
    turn: int, face: str, middle: int, good: bool
) -> None:
    hole = less("hole", "disc", face, (middle, "left"), (500, "foot"), dia=100)

    assert (outcome(corner(turn), hole).value is not None) == good


@pytest.mark.parametrize(("middle", "good"), [(850, True), (851, False), (1150, True)])
def test_a_groove_in_the_top_stays_off_the_mitre(middle: int, good: bool) -> None:
    groove = less("groove", "box", "top", (middle, "left"), long=100, wide=20, deep=10)

    assert (outcome(corner(90), groove).value is not None) == good


@pytest.mark.parametrize(("turn", "middle", "good"), [(90, 950, True), (-90, 950, False), (-90, 930, True)])
def test_what_stands_on_the_front_keeps_clear_of_the_leg_that_it_faces(
    turn: int, middle: int, good: bool
) -> None:
    boss = plus("boss", "box", "front", long=100, wide=100, high=20)
    placed = ((F(middle, 1000), "left"),)
    at = type(boss)(name=boss.name, plus=True, shape=boss.shape, on="front", placed=placed)

    assert (outcome(corner(turn), at).value is not None) == good


def test_a_hole_in_a_recess_knows_nothing_of_the_folds_of_the_wall() -> None:
    dish = less("dish", "box", None, (1050, "left"), (225, "foot"), long=600, wide=300, deep=20)
    drain = less("drain", "disc", "dish", (500, "left"), (100, "foot"), dia=40)
    wide = less("wide", "box", None, (350, "left"), (225, "foot"), long=600, wide=300, deep=20)

    assert outcome(BODY, dish, drain).value is not None
    assert outcome(BODY, wide, less("bar", "box", "wide", long=590, wide=40)).value is not None
    long = Shape(kind="run", sizes=mm(high=450, thick=60), legs=(Leg(long=F(1), turn=F(15)), Leg(long=F(3))))
    far = less("far", "box", None, (2500, "left"), long=2800, wide=300, deep=20)
    assert outcome(long, far, less("slit", "box", "far", (1000, "left"), long=200, wide=40)).value is not None
