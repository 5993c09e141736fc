"""What is cut out of a body and what stands on it."""

from bodies import F, found, geometry, less, near, outcome, plus, shape

from castlang.takeoff.grid import PI


def test_a_hole_without_a_depth_goes_through_and_opens_both_faces() -> None:
    made = geometry(shape("slab", long=1200, wide=400, thick=50), less("jet", "disc", dia=100))
    hole = PI / 4 / 100

    assert near(made.volume, F("0.024") - hole * F("0.05"))
    assert near(made.area("top"), F("0.48") - hole)
    assert near(made.area("foot"), F("0.48") - hole)
    assert near(made.area("jet"), PI / 10 * F("0.05"))


def test_where_a_part_sits_is_listed_as_assumed() -> None:
    made = outcome(shape("slab", long=1200, wide=400, thick=50), less("jet", "disc", dia=100))

    assert [(told.subject, told.says, told.line) for told in made.assumptions] == [
        ("jet of piece", "on the top", "on top"),
        ("jet of piece", "in the middle of the top", "placed 600 mm from left, 200 mm from front"),
    ]


def test_a_part_that_says_where_it_sits_assumes_nothing() -> None:
    jet = less("jet", "disc", "top", (100, "left"), (200, "front"), dia=100)

    assert outcome(shape("slab", long=1200, wide=400, thick=50), jet).assumptions == ()


def test_a_blind_pocket_has_walls_and_a_floor() -> None:
    made = geometry(
        shape("slab", long=1200, wide=400, thick=50), less("dish", "box", "top", long=300, wide=200, deep=20)
    )

    assert made.area("dish") == 2 * F("0.5") * F("0.02") + F("0.06")
    assert made.area("top") == F("0.42")
    assert made.area("foot") == F("0.48")
    assert made.cavity("dish", None).walls == F("0.02")
    assert made.inside_volume("dish", F("0.005")) == F("0.0003")
    assert made.inside_volume("dish", None) == F("0.0012")
    assert made.thinnest() == F("0.03")


def test_a_groove_from_end_to_end_has_two_walls_and_opens_both_ends() -> None:
    made = geometry(
        shape("slab", long=1000, wide=400, thick=50), less("drip", "box", "foot", long=1000, wide=10, deep=5)
    )

    assert made.area("drip") == F("0.020")
    assert made.area("left") == F("0.02") - F("0.00005")
    assert made.area("foot") == F("0.39")


def test_two_cuts_from_two_faces_that_meet_are_taken_out_once() -> None:
    made = geometry(
        shape("box", long=300, wide=300, high=300),
        less("down", "box", "top", long=100, wide=100),
        less("across", "box", "front", long=100, wide=100),
    )

    assert made.volume == F("0.027") - 2 * F("0.003") + F("0.001")


def test_a_drain_sits_on_the_floor_of_a_recess() -> None:
    made = geometry(
        shape("slab", long=1200, wide=400, thick=50),
        less("recess", "disc", "top", dia=200, deep=20),
        less("drain", "disc", "recess", dia=40),
    )
    wide, small = PI / 4 * F("0.04"), PI / 4 * F("0.0016")

    assert near(made.volume, F("0.024") - wide * F("0.02") - small * F("0.03"))
    assert near(made.area("recess"), PI * F("0.2") * F("0.02") + wide - small)
    assert near(made.area("foot"), F("0.48") - small)


def test_a_body_that_stands_on_a_face_covers_it() -> None:
    made = geometry(
        shape("slab", long=1000, wide=400, thick=50), plus("curb", "box", "top", long=200, wide=100, high=80)
    )

    assert made.volume == F("0.02") + F("0.0016")
    assert made.area("top") == F("0.38")
    assert made.area("curb") == F("0.02") + 2 * F("0.3") * F("0.08")
    assert made.depth() == F("0.13")


def test_a_layer_runs_up_a_body_that_stands_on_the_face() -> None:
    made = geometry(
        shape("slab", long=1000, wide=400, thick=50), plus("curb", "box", "top", long=200, wide=100, high=80)
    )
    t = F("0.01")

    laid = made.laid({"top": t, "curb": t})

    left = F("0.4") * F("0.04") + F("0.18") * F("0.08") * F("0.08")
    assert made.volume - laid == left


def test_a_round_body_that_stands_on_a_face_grows_the_same_way() -> None:
    made = geometry(
        shape("slab", long=1000, wide=400, thick=50), plus("post", "disc", "top", dia=100, high=80)
    )
    t = F("0.01")

    laid = made.laid({"top": t, "post": t})

    left = F("0.4") * F("0.04") + PI / 4 * F("0.08") ** 2 * F("0.08")
    assert near(made.volume - laid, left)


def test_a_lined_hole_is_mitred_like_a_lined_tray() -> None:
    """A layer on a round pocket grows outward and down: the pocket with a radius and a depth greater by t."""
    made = geometry(
        shape("slab", long=1000, wide=400, thick=50), less("pot", "disc", "top", dia=100, deep=20)
    )

    laid = made.laid({"pot": F("0.01")})

    grown = PI / 4 * F("0.12") ** 2 * F("0.03") - PI / 4 * F("0.1") ** 2 * F("0.02")
    assert near(laid, grown, F(1, 10**6))


def test_the_stool_keeps_its_walls() -> None:
    hollow = less("hollow", "frustum", "foot", top_dia=280, foot_dia=220, high=380)
    made = geometry(shape("frustum", top_dia=360, foot_dia=300, high=440), hollow)

    thinnest = made.thinnest()

    # beside the top of the hollow: (300 + 60 x 380/440 - 280) / 2 mm
    assert thinnest == (F(300) + F(60 * 380, 440) - 280) / 2 / 1000
    assert near(made.cavity("hollow", None).section, PI / 4 * F("0.22") ** 2)


def test_a_tray_holds_water_to_a_depth_and_no_further_than_its_rim() -> None:
    made = geometry(shape("tray", long=1000, wide=600, high=300, thick=50))

    assert made.inside_volume("inside", F("0.1")) == F("0.045")
    assert made.inside_volume("inside", None) == made.inside_volume("floor", F(2)) == F("0.1125")
    assert made.holds("inside")
    assert not made.holds("outside")


def test_a_bowl_filled_to_its_rim_is_the_ball_that_is_missing() -> None:
    thin = geometry(shape("bowl", dia=400, high=150, thick=20))
    solid = geometry(shape("dome", dia=400, high=150))

    assert near(thin.inside_volume("inside", None) + thin.volume, solid.volume, F(1, 10**6))
    assert thin.inside_volume("inside", F("0.05")) < thin.inside_volume("inside", None)


def test_a_hole_is_no_part_of_the_layers_that_it_passes() -> None:
    made = geometry(shape("slab", long=1000, wide=400, thick=50), less("jet", "disc", "top", dia=100))
    t = F("0.01")

    laid = made.laid({"top": t, "foot": t})

    assert near(laid, 2 * t * (F("0.4") - PI / 4 / 100))


def test_cuts_that_meet_inside_show_only_what_is_left_of_their_walls() -> None:
    made = geometry(
        shape("box", long=300, wide=300, high=300),
        less("down", "box", "top", long=100, wide=100),
        less("across", "box", "front", long=100, wide=100),
    )

    # four walls of 100 by 300 each, less the two openings of 100 by 100 into the other
    assert made.area("down") == F("0.12") - 2 * F("0.01")
    assert made.area("across") == 4 * F("0.02")


def test_a_round_hole_beside_a_square_corner_does_not_touch_it() -> None:
    """From the corner of the square to the middle of the hole are 30 and 30 mm: 42.4 mm, more than 40."""
    square = less("square", "box", "top", (100, "left"), (100, "front"), long=100, wide=100, deep=10)
    hole = less("hole", "disc", "top", (180, "left"), (180, "front"), dia=80, deep=10)

    assert found(shape("slab", long=1000, wide=400, thick=50), square, hole) == []
