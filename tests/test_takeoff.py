"""Quantities of whole builds, built by hand."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from castlang.spec.model import (
    After,
    Build,
    Copies,
    Dose,
    DoseKind,
    FaceRef,
    Fitting,
    Gang,
    Ingredient,
    Job,
    Measured,
    Mix,
    Mold,
    Package,
    Panel,
    Part,
    Piece,
    Role,
    Shape,
    Spec,
    Station,
    Step,
    StepKind,
    StepRef,
    Stock,
    ThingRef,
    Water,
    Window,
)
from castlang.spec.quantity import Dimension, Quantity
from castlang.takeoff.from_spec import takeoff_of

MM = Fraction(1, 1000)
LITRE = Fraction(1, 1000)


def amount(value, dimension):
    return Quantity(si=Fraction(value), dimension=dimension)


def on(piece, *faces):
    return tuple(FaceRef(piece=piece, face=face) for face in faces)


def step(kind, name, owner="tread", **told):
    return Step(kind=kind, owner=owner, name=name, **told)


def parts(role, stock, number):
    return Ingredient(role=role, stock=stock, dose=Dose(kind=DoseKind.PARTS, value=Fraction(number)))


STOCKS = {
    "ar-scrim": Stock(name="ar-scrim", areal=Fraction(125, 1000)),
    "cement": Stock(name="cement", density=Fraction(3150)),
    "sand": Stock(name="sand", density=Fraction(2650)),
    "ply": Stock(name="ply", package=Package(word="sheet", sheet=(Fraction(122, 100), Fraction(244, 100)))),
    "resin": Stock(name="resin", density=Fraction(1100)),
    "wash": Stock(name="wash", covers=Fraction(9000)),
    "water": Stock(name="water", density=Fraction(1000)),
}
TABLE = Mix(
    name="table",
    ingredients=(parts(Role.BINDER, "cement", 100), parts(Role.SAND, "sand", 200)),
    water=Water(dose=Dose(kind=DoseKind.SHARE, value=Fraction(2, 5), of="binder"), total=False),
    density=Fraction(2000),
)
CLEAR = Mix(
    name="clear",
    measure="mass",
    ingredients=(parts(Role.PART, "resin", 1),),
    lift=10 * MM,
    density=Fraction(1100),
)
SLAB = Shape(kind="slab", sizes={"long": Fraction(1), "wide": Fraction(3, 10), "thick": 60 * MM})
BODY = step(StepKind.POUR, "body", material="table", full=True, cavity=("tread", None), takes=Fraction(1800))


def tread(*sequence, **told):
    return Piece(name="tread", shape=SLAB, sequence=sequence, **told)


def spec(*pieces, jobs=(), molds=(), fittings=(), stations=(), measured=(), build=None, **mixes):
    by_name = {"table": TABLE, "clear": CLEAR, **mixes}
    return Spec(
        build=build or Build(name="stair", waste=Fraction(0)),
        stocks=STOCKS,
        mixes=dict(sorted(by_name.items())),
        molds={mold.name: mold for mold in molds},
        stations={station.name: station for station in stations},
        fittings={fitting.name: fitting for fitting in fittings},
        pieces={piece.name: piece for piece in pieces},
        jobs={job.name: job for job in jobs},
        measured=measured,
    )


def taken(told):
    outcome = takeoff_of(told)
    assert [p.message for p in outcome.problems if p.finding.severity != "note"] == []
    return outcome.value


def findings(told):
    return [p.finding.name for p in takeoff_of(told).problems]


def bill(takeoff):
    return {line.stock: line for line in takeoff.bill}


# ------------------------------------------------------------------ pours and layers


def test_a_full_pour_is_the_body():
    found = taken(spec(tread(BODY))).steps["tread", "body"]

    assert (found.volume, found.mass) == (18 * LITRE, 36)


def test_a_full_pour_is_what_the_layers_leave():
    face = step(
        StepKind.LAYER,
        "face",
        material="table",
        amount=amount(20 * MM, Dimension.LENGTH),
        on=on("tread", "top"),
    )
    takeoff = taken(spec(tread(face, BODY)))

    assert takeoff.steps["tread", "face"].volume == 6 * LITRE
    assert takeoff.steps["tread", "body"].volume == 12 * LITRE
    assert takeoff.pieces["tread"].volume == 18 * LITRE


def test_a_full_pour_is_what_a_told_pour_leaves():
    first = replace(BODY, name="first", full=False, amount=amount(20 * MM, Dimension.LENGTH))
    takeoff = taken(spec(tread(first, BODY)))

    assert takeoff.steps["tread", "first"].volume == 6 * LITRE
    assert takeoff.steps["tread", "body"].volume == 12 * LITRE


def test_a_second_full_pour_finds_nothing_left():
    found = findings(spec(tread(BODY, replace(BODY, name="again"))))

    assert found == ["nothing-left-to-pour"]


def test_a_pour_deeper_than_its_body_is_told():
    deep = replace(BODY, full=False, amount=amount(70 * MM, Dimension.LENGTH))

    assert findings(spec(tread(deep))) == ["pour-too-deep"]


def test_layers_thicker_than_the_piece_are_told():
    thick = step(
        StepKind.LAYER,
        "face",
        material="table",
        amount=amount(70 * MM, Dimension.LENGTH),
        on=on("tread", "top"),
    )

    assert findings(spec(tread(thick))) == ["layers-too-thick"]


def test_a_deep_pour_comes_in_equal_lifts_each_with_its_batch():
    pour = replace(BODY, material="clear")
    found = taken(spec(tread(pour))).steps["tread", "body"]

    assert [(p.suffix, p.depth) for p in found.parts] == [(f"lift-{n}", 10 * MM) for n in range(1, 7)]
    assert [p.batches[0].volume for p in found.parts] == [3 * LITRE] * 6
    assert found.parts[1].batches[0].name == "tread.body.lift-2.batch-1"


def test_lifts_are_cut_from_the_depth_that_is_left():
    first = replace(BODY, name="first", full=False, amount=amount(45 * MM, Dimension.LENGTH))
    found = taken(spec(tread(first, replace(BODY, material="clear")))).steps["tread", "body"]

    assert [p.depth for p in found.parts] == [Fraction(15, 2) * MM] * 2


def test_a_thousand_lifts_or_coats_are_refused():
    thin = replace(CLEAR, lift=Fraction(1, 10**9))
    coats = step(
        StepKind.PASS,
        "seal",
        material="wash",
        amount=amount(10**9, Dimension.COUNT),
        on=on("tread", "top"),
    )

    assert findings(spec(tread(replace(BODY, material="clear")), clear=thin)) == ["too-many-parts"]
    assert findings(spec(tread(BODY, coats))) == ["too-many-parts"]


def test_a_groove_in_a_slab_is_filled_by_a_job_in_every_copy():
    groove = Part(
        name="groove",
        plus=False,
        shape=Shape(kind="box", sizes={"long": Fraction(1, 2), "wide": 40 * MM, "deep": 15 * MM}),
        on="top",
    )
    glow = step(StepKind.POUR, "glow", owner="strip", material="clear", full=True, cavity=("tread", "groove"))
    pour = replace(BODY, cavity=("tread", None))
    takeoff = taken(spec(tread(pour, parts=(groove,), count=4), jobs=(Job(name="strip", sequence=(glow,)),)))
    found = takeoff.steps["strip", "glow"]
    one = Fraction(1, 2) * 40 * MM * 15 * MM

    assert found.volume == 4 * one
    assert [p.suffix for p in found.parts] == ["lift-1", "lift-2"]
    assert takeoff.pieces["tread"].dry - takeoff.pieces["tread"].wet == one * 1100


def test_layers_of_a_shell_are_its_volume_and_its_holes_are_as_deep_as_they_are():
    shape = Shape(kind="panel", sizes={"long": Fraction(2), "high": Fraction(1)})
    slot = Part(
        name="slot",
        plus=False,
        shape=Shape(kind="box", sizes={"long": Fraction(1), "wide": 50 * MM}),
        on="front",
    )
    skin = step(
        StepKind.LAYER,
        "skin",
        owner="wall",
        material="table",
        amount=amount(17 * MM, Dimension.LENGTH),
        on=on("wall", "front"),
    )
    glow = step(StepKind.POUR, "glow", owner="wall", material="clear", full=True, cavity=("wall", "slot"))
    wall = Piece(name="wall", shape=shape, parts=(slot,), sequence=(skin, glow))
    takeoff = taken(spec(wall))

    assert takeoff.steps["wall", "skin"].volume == (2 - 50 * MM) * 17 * MM
    assert takeoff.steps["wall", "glow"].volume == 50 * MM * 17 * MM
    assert [p.depth for p in takeoff.steps["wall", "glow"].parts] == [Fraction(17, 2) * MM] * 2


def test_a_shell_has_no_body_to_pour():
    shape = Shape(kind="panel", sizes={"long": Fraction(2), "high": Fraction(1)})
    wall = Piece(name="wall", shape=shape, sequence=(replace(BODY, owner="wall", cavity=("wall", None)),))

    assert findings(spec(wall)) == ["pour-into-shell"]


# ------------------------------------------------------------------ faces


def test_coats_go_by_coverage_and_each_has_its_time():
    coats = step(
        StepKind.PASS,
        "seal",
        material="wash",
        amount=amount(2, Dimension.COUNT),
        on=on("tread", "top", "front"),
        rate=amount(Fraction(1, 600), Dimension.AREA_RATE),
    )
    found = taken(spec(tread(BODY, coats))).steps["tread", "seal"]

    assert found.area == Fraction(36, 100)
    assert [(p.suffix, p.minutes) for p in found.parts] == [("coat-1", 4), ("coat-2", 4)]
    assert found.uses[0].net == 2 * Fraction(36, 100) / 9000


def test_a_face_named_twice_counts_once():
    coats = step(
        StepKind.PASS,
        "seal",
        material="wash",
        amount=amount(1, Dimension.COUNT),
        on=on("tread", "show", "top"),
    )
    piece = tread(BODY, coats, faces={"show": ("top", "front")})

    assert taken(spec(piece)).steps["tread", "seal"].area == Fraction(36, 100)


def test_a_step_knows_the_single_faces_that_it_lies_on():
    net = step(
        StepKind.SCRIM,
        "net",
        material="ar-scrim",
        amount=amount(1, Dimension.COUNT),
        on=on("tread", "show"),
    )
    found = taken(spec(tread(net, BODY, FEET, faces={"show": ("top", "front")}), fittings=(SOCKET,))).steps

    assert sorted(found["tread", "net"].faces) == ["tread.front", "tread.top"]
    assert set(found["tread", "body"].faces) > set(found["tread", "net"].faces)
    assert found["tread", "feet"].faces == ()


def test_grits_are_parts_each_with_the_told_time():
    hone = step(StepKind.PASS, "hone", grits=(60, 120), on=on("tread", "top"), takes=Fraction(700))
    single = replace(hone, name="polish", grits=(400,))
    takeoff = taken(spec(tread(BODY, hone, single)))

    assert [(p.suffix, p.minutes) for p in takeoff.steps["tread", "hone"].parts] == [
        ("grit-60", 12),
        ("grit-120", 12),
    ]
    assert [p.suffix for p in takeoff.steps["tread", "polish"].parts] == [""]


def test_scrim_is_the_face_with_its_laps():
    net = step(
        StepKind.SCRIM,
        "net",
        material="ar-scrim",
        amount=amount(2, Dimension.COUNT),
        laps=100 * MM,
        on=on("tread", "top"),
    )
    found = taken(spec(tread(BODY, net))).steps["tread", "net"]

    assert found.uses[0].net == Fraction(3, 10) * 2 * Fraction(11, 10)
    assert found.mass == found.uses[0].net * Fraction(125, 1000)


def test_the_shop_may_tell_its_own_laps():
    net = step(
        StepKind.SCRIM,
        "net",
        material="ar-scrim",
        amount=amount(1, Dimension.COUNT),
        on=on("tread", "top"),
    )
    told = replace(spec(tread(BODY, net)), defaults={"laps": amount(200 * MM, Dimension.LENGTH)})

    assert taken(told).steps["tread", "net"].uses[0].net == Fraction(3, 10) * Fraction(12, 10)


def test_a_job_coats_all_copies_at_once_and_each_one_by_one():
    coats = step(
        StepKind.PASS,
        "seal",
        owner="finish",
        material="wash",
        amount=amount(1, Dimension.COUNT),
        on=on("tread", "top"),
    )
    one_by_one = replace(coats, name="again", each="tread")
    job = Job(name="finish", sequence=(coats, one_by_one))
    takeoff = taken(spec(tread(BODY, count=4, mirrored=1), jobs=(job,)))

    assert takeoff.steps["finish", "seal"].area == 5 * Fraction(3, 10)
    assert takeoff.steps["finish", "again"].area == Fraction(3, 10)
    assert bill(takeoff)["wash"].net == 2 * 5 * Fraction(3, 10) / 9000


def test_coats_without_coverage_are_told():
    coats = step(
        StepKind.PASS,
        "seal",
        material="table",
        amount=amount(1, Dimension.COUNT),
        on=on("tread", "top"),
    )

    assert findings(spec(tread(BODY, coats))) == ["missing-covers"]


def test_a_rate_over_an_area_means_nothing_on_a_pour():
    pour = replace(BODY, takes=None, rate=amount(Fraction(1, 600), Dimension.AREA_RATE))

    assert findings(spec(tread(pour))) == ["rate-without-measure"]


# ------------------------------------------------------------------ waste and the bill


@pytest.mark.parametrize(
    ("on_step", "on_mix", "expected"),
    [
        (None, None, Fraction(8, 100)),
        (None, Fraction(5, 100), Fraction(5, 100)),
        (Fraction(2, 100), Fraction(5, 100), Fraction(2, 100)),
    ],
)
def test_the_nearest_word_on_waste_wins(on_step, on_mix, expected):
    told = spec(
        tread(replace(BODY, waste=on_step)),
        build=Build(name="stair", waste=Fraction(8, 100)),
        table=replace(TABLE, waste=on_mix),
    )
    found = taken(told).steps["tread", "body"]

    assert found.waste == expected
    assert found.volume == 18 * LITRE
    assert sum(b.volume for b in found.parts[0].batches) == 18 * LITRE * (1 + expected)


def test_the_bill_is_the_sum_of_the_batches_of_all_copies():
    mixer = Station(name="mixer", holds=amount(5 * LITRE, Dimension.VOLUME))
    told = spec(
        tread(replace(BODY, using=("mixer",)), count=3, mirrored=2),
        stations=(mixer,),
        build=Build(name="stair", waste=Fraction(7, 100)),
    )
    takeoff = taken(told)
    batches = takeoff.steps["tread", "body"].parts[0].batches

    assert len(batches) == 4
    for index, stock in enumerate(("cement", "sand", "water")):
        assert bill(takeoff)[stock].gross == 5 * sum(b.lines[index].exact for b in batches)
        assert bill(takeoff)[stock].gross == sum(amount for _, amount in bill(takeoff)[stock].of)


def test_what_is_sold_by_the_litre_is_billed_in_litres():
    resin = replace(STOCKS["resin"], package=Package(word="can", amount=amount(5 * LITRE, Dimension.VOLUME)))
    told = spec(tread(replace(BODY, material="clear")))
    takeoff = taken(replace(told, stocks={**STOCKS, "resin": resin}))

    assert bill(takeoff)["resin"].dimension is Dimension.VOLUME
    assert bill(takeoff)["resin"].net == 18 * LITRE


def test_a_weight_used_and_a_volume_sold_need_a_density():
    resin = Stock(name="resin", package=Package(word="can", amount=amount(5 * LITRE, Dimension.VOLUME)))
    told = spec(tread(replace(BODY, material="clear")))

    assert findings(replace(told, stocks={**STOCKS, "resin": resin})) == ["missing-density"]


def test_panels_are_cut_from_whole_sheets_and_their_offcuts_are_the_waste():
    mold = Mold(
        name="form",
        count=2,
        fits=("tread",),
        board="ply",
        panels=(Panel(name="side", long=Fraction(1), wide=Fraction(1, 10), count=3),),
    )
    takeoff = taken(spec(tread(BODY), molds=(mold,), build=Build(name="stair", waste=Fraction(1, 10))))

    sheet = Fraction("1.22") * Fraction("2.44")

    assert (bill(takeoff)["ply"].net, bill(takeoff)["ply"].gross) == (Fraction(6, 10), sheet)


def test_a_panel_that_no_sheet_gives_is_told():
    panel = Panel(name="side", long=Fraction(3), wide=Fraction(1, 10))
    mold = Mold(name="form", fits=("tread",), board="ply", panels=(panel,))

    assert findings(spec(tread(BODY), molds=(mold,))) == ["panel-larger-than-sheet"]


def test_a_panel_may_be_cut_either_way_of_the_sheet():
    panel = Panel(name="side", long=Fraction(1, 10), wide=Fraction(2))
    mold = Mold(name="form", fits=("tread",), board="ply", panels=(panel,))

    assert findings(spec(tread(BODY), molds=(mold,))) == []


# ------------------------------------------------------------------ fittings and loads

SOCKET = Fitting(name="socket", weight=Fraction(1, 10))
FEET = step(StepKind.INSERT, "feet", material="socket", amount=amount(4, Dimension.COUNT))


def test_fittings_are_counted_over_all_copies_and_weigh_on_the_piece():
    takeoff = taken(spec(tread(BODY, FEET, count=9), fittings=(SOCKET,)))

    assert bill(takeoff)["socket"].gross == 36
    assert takeoff.pieces["tread"].wet == 36 + Fraction(4, 10)


def test_more_may_be_bought_than_is_built_in_but_not_fewer():
    bought = taken(spec(tread(BODY, FEET), fittings=(replace(SOCKET, buy=6),)))

    assert bill(bought)["socket"].gross == 6
    assert findings(spec(tread(BODY, FEET), fittings=(replace(SOCKET, buy=3),))) == ["buy-too-few"]


def test_a_fitting_that_a_job_waits_for_is_bought_once():
    job = Job(
        name="wire",
        sequence=(
            After(owner="wire", refs=(StepRef(owner="lamp", fitting=True),)),
            step(StepKind.WORK, "light", owner="wire"),
        ),
    )
    takeoff = taken(spec(tread(BODY), jobs=(job,), fittings=(Fitting(name="lamp"), Fitting(name="unused"))))

    assert {
        name: line.gross for name, line in bill(takeoff).items() if line.dimension is Dimension.COUNT
    } == {"lamp": 1}


def placed(carries):
    bracket = Fitting(name="bracket", buy=2, carries=Fraction(carries))
    seat = step(
        StepKind.PLACE,
        "seat",
        owner="hang",
        things=(ThingRef(name="tread", kind="piece"),),
        onto=ThingRef(name="bracket", kind="fitting"),
        gang=(Gang(count=2),),
    )
    fill = step(
        StepKind.LOAD,
        "fill",
        owner="hang",
        material="water",
        amount=amount(10 * LITRE, Dimension.VOLUME),
        on=on("tread", "top"),
    )
    return spec(tread(BODY), jobs=(Job(name="hang", sequence=(seat, fill)),), fittings=(bracket,))


def test_a_fitting_carries_what_lies_on_it_and_the_water_in_that():
    found = taken(placed(25)).bearings

    assert [(b.step, b.fitting, b.mass, b.carries) for b in found] == [("hang.seat", "bracket", 46, 50)]


def test_more_than_a_fitting_carries_is_told():
    assert findings(placed(22)) == ["fitting-overloaded"]


def test_a_load_takes_nothing_from_the_stores():
    takeoff = taken(replace(placed(25), build=Build(name="stair", waste=Fraction(1, 10))))
    found = takeoff.steps["hang", "fill"]

    assert (found.volume, found.mass, found.uses, found.waste) == (10 * LITRE, 10, (), 0)
    assert "hang.fill" not in {name for line in takeoff.bill for name, _ in line.of}


def lifted(limit):
    demold = step(StepKind.DEMOLD, "demold", gang=(Gang(count=1),))
    return spec(tread(BODY, demold), build=Build(name="stair", waste=Fraction(0), lift_limit=limit))


def test_a_lift_is_the_piece_shared_out_among_the_people():
    found = takeoff_of(lifted(Fraction(40))).value.lifts

    assert [(x.step, x.mass, x.people, x.each, x.limit) for x in found] == [("tread.demold", 36, 1, 36, 40)]


@pytest.mark.parametrize(("limit", "found"), [(40, []), (30, ["lift-over-limit"]), (None, ["heavy-lift"])])
def test_a_lift_over_the_limit_is_told(limit, found):
    assert findings(lifted(None if limit is None else Fraction(limit))) == found


def test_a_truck_holds_so_much_and_no_more():
    truck = Station(name="truck", holds=amount(100, Dimension.MASS))
    things = (ThingRef(name="tread", kind="piece", copies=Copies(first=1, last=3)),)
    move = step(StepKind.MOVE, "lot", owner="ship", things=things, using=("truck",), gang=(Gang(count=2),))
    told = spec(tread(BODY, count=4), jobs=(Job(name="ship", sequence=(move,)),), stations=(truck,))

    assert findings(told) == ["station-overloaded"]


# ------------------------------------------------------------------ measured


def measured(what, of, value, dimension):
    return Measured(what=what, of=of, amount=amount(value, dimension), how="on the scale")


def test_a_measured_volume_stands_before_the_computed_one():
    takeoff = taken(spec(tread(BODY), measured=(measured("volume", "tread", 17 * LITRE, Dimension.VOLUME),)))

    assert takeoff.steps["tread", "body"].volume == 17 * LITRE
    assert (takeoff.pieces["tread"].volume, takeoff.pieces["tread"].source) == (17 * LITRE, "measured")


def test_a_measured_density_changes_what_is_weighed_out():
    takeoff = taken(spec(tread(BODY), measured=(measured("density", "table", 2100, Dimension.DENSITY),)))

    assert takeoff.recipes["table"].density_from == "measured"
    assert takeoff.steps["tread", "body"].mass == Fraction(378, 10)


def test_a_measured_mass_is_the_weight_of_the_piece():
    takeoff = taken(spec(tread(BODY), measured=(measured("mass", "tread", 35, Dimension.MASS),)))

    assert (takeoff.pieces["tread"].wet, takeoff.pieces["tread"].dry) == (35, 35)


def test_a_measured_area_stretches_every_face():
    computed = taken(spec(tread(BODY))).pieces["tread"].faces
    found = taken(
        spec(tread(BODY), measured=(measured("area", "tread", computed["all"] * 2, Dimension.AREA),))
    ).pieces["tread"]

    assert found.faces["top"] == 2 * computed["top"]


def test_a_measured_area_stretches_what_is_laid_on_it():
    computed = taken(spec(tread(BODY))).pieces["tread"].faces["all"]
    face = step(
        StepKind.LAYER,
        "face",
        material="table",
        amount=amount(20 * MM, Dimension.LENGTH),
        on=on("tread", "top"),
    )
    told = spec(tread(face), measured=(measured("area", "tread", computed * 2, Dimension.AREA),))

    assert taken(told).steps["tread", "face"].volume == 2 * 6 * LITRE


def test_a_measured_working_time_divides_the_batches():
    works = replace(TABLE, works=Window(least=Fraction(3600)))
    told = spec(tread(BODY), table=works, measured=(measured("works", "table", 900, Dimension.TIME),))

    assert len(taken(told).steps["tread", "body"].parts[0].batches) == 2


# ------------------------------------------------------------------ the whole


def test_every_step_has_its_quantities():
    steps = (
        step(StepKind.TAKE, "take-form", target="form"),
        BODY,
        step(StepKind.COVER, "body.cover", takes=Fraction(600)),
        step(StepKind.DEMOLD, "demold"),
    )
    cut = step(StepKind.WORK, "cut", owner="form", takes=Fraction(7200))
    mold = Mold(name="form", fits=("tread",), sequence=(cut,))
    job = Job(name="ship", sequence=(step(StepKind.WORK, "crate", owner="ship", takes=Fraction(61)),))
    takeoff = taken(spec(tread(*steps), molds=(mold,), jobs=(job,)))

    assert {key: [p.minutes for p in done.parts] for key, done in takeoff.steps.items()} == {
        ("form", "cut"): [120],
        ("tread", "take-form"): [0],
        ("tread", "body"): [30],
        ("tread", "body.cover"): [10],
        ("tread", "demold"): [0],
        ("ship", "crate"): [2],
    }


def test_a_mix_that_no_step_uses_is_left_alone():
    broken = Mix(name="broken", ingredients=(parts(Role.PART, "resin", 1),))

    assert findings(spec(tread(BODY), broken=broken)) == []


def test_what_is_wrong_with_a_mix_is_said_once_however_often_it_is_used():
    broken = Mix(name="table", ingredients=(parts(Role.PART, "resin", 1),))
    pours = (BODY, replace(BODY, name="more", full=False, amount=amount(9 * MM, Dimension.LENGTH)))

    assert findings(spec(tread(*pours), table=broken)) == ["measure-unsaid"]


@settings(deadline=None)
@given(
    waste=st.fractions(min_value=0, max_value=1, max_denominator=100),
    holds=st.integers(2, 40),
    copies=st.integers(1, 12),
    mirrored=st.integers(0, 3),
    layer=st.integers(1, 59),
    coats=st.integers(1, 4),
)
def test_the_bill_is_exactly_the_batches_the_coats_and_the_fittings(
    waste, holds, copies, mirrored, layer, coats
):
    mixer = Station(name="mixer", holds=amount(holds * LITRE, Dimension.VOLUME))
    face = step(
        StepKind.LAYER,
        "face",
        material="table",
        amount=amount(layer * MM, Dimension.LENGTH),
        on=on("tread", "top"),
        using=("mixer",),
    )
    wash = step(
        StepKind.PASS,
        "wash",
        material="wash",
        amount=amount(coats, Dimension.COUNT),
        on=on("tread", "all"),
    )
    told = spec(
        tread(face, replace(BODY, using=("mixer",)), FEET, wash, count=copies, mirrored=mirrored),
        stations=(mixer,),
        fittings=(SOCKET,),
        build=Build(name="stair", waste=waste),
    )
    takeoff = taken(told)
    each = copies + mirrored
    batches = [b for done in takeoff.steps.values() for part in done.parts for b in part.batches]
    found = {name: line.gross for name, line in bill(takeoff).items()}

    for index, stock in enumerate(("cement", "sand", "water")):
        assert found[stock] == each * sum(b.lines[index].exact for b in batches)
    assert sum(b.volume for b in batches) == 18 * LITRE * (1 + waste)
    assert found["wash"] == each * coats * takeoff.pieces["tread"].faces["all"] / 9000 * (1 + waste)
    assert found["socket"] == each * 4
