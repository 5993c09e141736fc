"""What the lines of a build mean: small builds in, the resolved spec out."""

import random
from collections.abc import Mapping
from datetime import date, datetime, time
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st
from told import BENCH, PANEL

from castlang.documents import read_all
from castlang.problems.model import Severity
from castlang.source.files import Texts
from castlang.spec.from_syntax import spec_of
from castlang.spec.model import (
    After,
    Copies,
    DoseKind,
    FaceRef,
    Gang,
    Gap,
    GapKind,
    Item,
    Job,
    Mix,
    Piece,
    Role,
    Shift,
    Spec,
    Step,
    StepKind,
    StepRef,
    ThingRef,
    Window,
)
from castlang.spec.quantity import Dimension, Money, Quantity

HEAD = """\
build b
    start     2027-03-01
    hours     mon to fri 08:00 to 12:00
    crew      2
    air       20 degC
stock cement
stock sand
stock latex
stock glass
stock oil
"""
MIXES = """\
mix face
    binder    cement 100 parts
    sand      sand 100 parts damp 2 %
    liquid    latex 6 % of binder as solids
    water     0.35 of binder total
    works     40 min to 60 min at 20 degC
    thick     2 mm to 20 mm
    note      "Sieve the sand."
"""
PIECE = """\
mold bed
    fits      slab
    work      make-it takes 2 h by 1
piece slab
    make      4
    make      2 mirrored
    shape     slab 900 mm long, 400 mm wide, 50 mm thick
    less      box slot 200 mm long, 40 mm wide, 15 mm deep on top
    face      show top, front
    take      bed
    pour      body full of face into bed takes 30 min by 2
"""


def spec(text: str, files: Mapping[str, bytes] | None = None) -> Spec:
    """The spec of a text that has no error."""
    library = Texts(texts=files or {})
    read = read_all("a.pour", text.encode(), library)
    assert read.value is not None
    outcome = spec_of(read.value.documents, library.read)
    told = [*read.problems, *outcome.problems]
    assert [p.message for p in told if p.finding.severity is Severity.ERROR] == []
    assert outcome.value is not None
    return outcome.value


def mix(text: str, name: str) -> Mix:
    return spec(HEAD + MIXES + text).mixes[name]


def sequence(lines: str) -> tuple[Item, ...]:
    """The sequence of the slab when these lines follow its pour, without its take and pour."""
    return spec(HEAD + MIXES + PIECE + lines).pieces["slab"].sequence[2:]


def job(lines: str) -> Job:
    return spec(f"{HEAD}{MIXES}{PIECE}job end\n{lines}").jobs["end"]


def step(item: Item) -> Step:
    assert isinstance(item, Step)
    return item


def gap(item: Item) -> Gap:
    assert isinstance(item, Gap)
    return item


# ------------------------------------------------------------------ equality and order


def test_two_specs_are_equal_when_they_mean_the_same_wherever_the_lines_stand() -> None:
    spaced = "\n\n# a comment\n".join(BENCH.split("\n    "))
    moved = BENCH.replace("\n", "    # a comment\n\n\n")

    assert spec("# one\n\n" + BENCH) == spec(BENCH)
    assert spec(moved.replace('"    #', '"\n#')) == spec(BENCH)
    assert spaced != BENCH


def test_two_specs_differ_when_one_fact_differs() -> None:
    assert spec(BENCH.replace("40 mm thick", "41 mm thick")) != spec(BENCH)


def test_the_same_length_in_other_units_is_the_same_spec() -> None:
    metric = BENCH.replace("size long 1200 mm", "size long 914.4 mm")
    us = BENCH.replace("size long 1200 mm", "size long 3'")

    assert spec(metric) == spec(us)


@given(st.randoms(use_true_random=False), st.sampled_from([BENCH, PANEL]))
def test_the_order_of_blocks_changes_nothing(chance: random.Random, text: str) -> None:
    blocks: list[str] = []
    for row in text.rstrip("\n").split("\n"):
        if row.startswith(" "):
            blocks[-1] += f"{row}\n"
        else:
            blocks.append(f"{row}\n")
    chance.shuffle(blocks)
    before, after = spec(text), spec("".join(blocks))

    assert after == before
    assert after.assumptions == before.assumptions


# ------------------------------------------------------------------ build and shop


def test_a_build_says_its_days_hours_people_and_climate() -> None:
    build = spec(
        HEAD.replace("crew      2", "crew      2 caster, 1 finisher").replace(
            "    air       20 degC\n",
            "    air       20 degC\n    air 9 degC on 2027-03-08 to 2027-03-09\n    night 50 degF\n"
            "    hours     sat 7:30 to 12:00, 12:30 to 24:00\n    away 1 finisher on 2027-03-02\n"
            '    closed    2027-03-03 "Holiday"\n    wage 44 EUR/h\n    waste 8 %\n    due 2027-04-01\n',
        )
    ).build

    assert build.start == date(2027, 3, 1)
    assert build.due == date(2027, 4, 1)
    assert build.crew == (Gang(count=2, role="caster"), Gang(count=1, role="finisher"))
    assert build.shifts == (
        Shift(first=0, last=4, spells=((time(8), time(12)),)),
        Shift(first=5, last=5, spells=((time(7, 30), time(12)), (time(12, 30), time.max))),
    )
    assert [(c.value, c.days and (c.days.first, c.days.last)) for c in build.air] == [
        (Fraction("293.15"), None),
        (Fraction("282.15"), (date(2027, 3, 8), date(2027, 3, 9))),
    ]
    assert build.night[0].value == Fraction("283.15")
    assert [(d.first, d.last, d.text) for d in build.closed] == [
        (date(2027, 3, 3), date(2027, 3, 3), "Holiday")
    ]
    assert (build.away[0].count, build.away[0].role) == (1, "finisher")
    assert build.wage == Money(amount=Fraction(44), currency="EUR")
    assert build.waste == Fraction(8, 100)


def test_the_units_printed_are_those_mostly_used_unless_the_build_says() -> None:
    assert spec(BENCH.replace("    print     metric\n", "")).build.units == "metric"
    assert spec(PANEL.replace("    print     us\n", "")).build.units == "us"
    assert spec(BENCH.replace("print     metric", "print     us")).build.units == "us"


def test_a_shop_block_gives_the_build_what_it_does_not_say() -> None:
    alone = "build b\n    start     2027-03-01\n"
    shop = (
        "shop\n    hours     mon to fri 08:00 to 12:00\n    crew      2\n    air       20 degC\n"
        "    closed    2027-12-24\n"
    )
    build = spec(f'use "shop.pour"\n{alone}', {"shop.pour": shop.encode()}).build

    assert build.crew == (Gang(count=2),)
    assert len(build.shifts) == len(build.air) == len(build.closed) == 1


def test_a_shop_and_a_build_may_say_the_same_and_closed_days_add_up() -> None:
    head = HEAD.replace("    crew", "    closed    2027-05-01\n    crew")
    build = spec(f"{head}shop\n    crew      2\n    closed    2027-12-24\n").build

    assert build.crew == (Gang(count=2),)
    assert [d.first for d in build.closed] == [date(2027, 5, 1), date(2027, 12, 24)]


def test_files_in_other_folders_count_their_names_from_themselves() -> None:
    files = {"stores/all.pour": b'use "more/rest.pour"\n', "stores/more/rest.pour": b"stock grit\n"}
    found = spec(f'use "stores/all.pour"\n{HEAD}', files)

    assert "grit" in found.stocks


# ------------------------------------------------------------------ stores


def test_a_stock_says_what_it_is_and_how_it_is_sold() -> None:
    stock = spec(
        HEAD.replace(
            "stock glass\n",
            'stock glass "Cloth"\n    weight 125 g/m2\n    sold roll of 50 m2\n    price 80 EUR\n'
            "    have 1/2 roll\n    lead 2 weeks\n    waste 15 %\n    hazard dust, fibres\n",
        )
    ).stocks["glass"]

    assert (stock.label, stock.areal) == ("Cloth", Fraction(125, 1000))
    assert stock.package is not None
    assert stock.package.amount == Quantity(si=Fraction(50), dimension=Dimension.AREA)
    assert (stock.have, stock.lead) == (Fraction(1, 2), Fraction(14 * 86400))
    assert (stock.waste, stock.hazards) == (Fraction(15, 100), ("dust", "fibres"))


def test_a_sheet_is_sold_by_its_two_sides() -> None:
    package = spec(f"{HEAD}stock ply\n    sold sheet of 4 ft x 8 ft\n").stocks["ply"].package

    assert package is not None
    assert package.sheet == (Fraction("1.2192"), Fraction("2.4384"))


# ------------------------------------------------------------------ mixes


def test_a_mix_holds_its_lines_in_their_order() -> None:
    face = mix("", "face")
    doses = [(i.role, i.stock, i.dose.kind, i.dose.value, i.dose.of) for i in face.ingredients]

    assert doses == [
        (Role.BINDER, "cement", DoseKind.PARTS, Fraction(100), None),
        (Role.SAND, "sand", DoseKind.PARTS, Fraction(100), None),
        (Role.LIQUID, "latex", DoseKind.SHARE, Fraction(6, 100), "binder"),
    ]
    assert face.ingredients[1].damp == Fraction(2, 100)
    assert face.ingredients[2].as_solids
    assert face.water is not None
    assert (face.water.total, face.water.dose.value) == (True, Fraction("0.35"))
    assert (face.works, face.works_at) == (
        Window(least=Fraction(2400), longest=Fraction(3600)),
        Fraction("293.15"),
    )
    assert face.thick == (Fraction(2, 1000), Fraction(20, 1000))


def test_a_variant_replaces_in_place_adds_at_the_end_and_leaves_out() -> None:
    backer = mix(
        "mix backer from face\n    fiber     glass 3 % of mix\n    sand      sand 120 parts damp 1 %\n"
        "    omit      latex\n",
        "backer",
    )

    assert [(i.stock, i.dose.value) for i in backer.ingredients] == [
        ("cement", Fraction(100)),
        ("sand", Fraction(120)),
        ("glass", Fraction(3, 100)),
    ]
    assert backer.base == "face"


def test_a_variant_keeps_what_it_does_not_say_and_changes_what_it_does() -> None:
    face = mix("", "face")
    backer = mix(
        'mix backer from face\n    works     30 min at 25 degC\n    note      "Fibers last."\n', "backer"
    )

    assert (backer.water, backer.thick, backer.ingredients) == (face.water, face.thick, face.ingredients)
    assert (backer.works, backer.works_at) == (Window(least=Fraction(1800)), Fraction("298.15"))
    assert backer.notes == ("Sieve the sand.", "Fibers last.")
    assert backer.label is None


def test_a_variant_of_a_variant_is_worked_out_whatever_the_order_of_the_file() -> None:
    third = mix(
        "mix a-third from a-second\n    omit      sand\n"
        "mix a-second from face\n    fiber     glass 3 % of mix\n",
        "a-third",
    )

    assert [i.stock for i in third.ingredients] == ["cement", "latex", "glass"]


def test_an_order_is_kept_by_a_variant_with_what_is_new_at_its_end() -> None:
    ordered = MIXES + "    order     water, cement, sand, latex\n"
    found = spec(f"{HEAD}{ordered}mix backer from face\n    omit sand\n    fiber glass 3 % of mix\n").mixes

    assert found["face"].order == ("water", "cement", "sand", "latex")
    assert found["backer"].order == ("water", "cement", "latex", "glass")


def test_a_dose_is_told_in_parts_mass_volume_shares_or_what_the_others_leave() -> None:
    found = mix(
        "mix m-1\n    binder cement 10 kg\n    sand sand fill\n    liquid latex 1.5 L\n"
        "    fiber glass 1 % of cement\n    water 20 % of binder added\n"
        "    works 1 h at 20 degC\n    yields 10 L\n",
        "m-1",
    )

    assert [(i.dose.kind, i.dose.value, i.dose.of) for i in found.ingredients] == [
        (DoseKind.MASS, Fraction(10), None),
        (DoseKind.FILL, Fraction(0), None),
        (DoseKind.VOLUME, Fraction(15, 10000), None),
        (DoseKind.SHARE, Fraction(1, 100), "cement"),
    ]
    assert found.water is not None
    assert (found.water.total, found.water.dose.value) == (False, Fraction(1, 5))
    assert found.yields == Fraction(1, 100)


# ------------------------------------------------------------------ molds and pieces


def test_copies_are_counted_plain_and_mirrored() -> None:
    found = spec(HEAD + MIXES + PIECE)

    assert (found.pieces["slab"].count, found.pieces["slab"].mirrored) == (4, 2)
    assert (found.molds["bed"].count, found.molds["bed"].mirrored) == (1, 0)


def test_a_piece_has_its_sizes_parts_and_faces() -> None:
    slab: Piece = spec(
        f"size w 400 mm\nsize half w - 8 in\n{HEAD}{MIXES}"
        + PIECE.replace("400 mm wide", "w wide").replace("40 mm wide", "half wide")
    ).pieces["slab"]

    assert slab.shape is not None
    assert slab.shape.sizes == {"long": Fraction(9, 10), "wide": Fraction(4, 10), "thick": Fraction(5, 100)}
    assert [(p.name, p.plus, p.on, p.shape.sizes["wide"]) for p in slab.parts] == [
        ("slot", False, "top", Fraction("0.1968"))
    ]
    assert slab.faces == {"show": ("top", "front")}


def test_another_word_for_a_size_means_the_plain_one() -> None:
    shape = spec(HEAD + MIXES + PIECE.replace("50 mm thick", "50 mm high")).pieces["slab"].shape

    assert shape is not None
    assert shape.sizes["thick"] == Fraction(5, 100)


def test_a_folded_wall_is_told_leg_by_leg() -> None:
    shape = (
        spec(
            f"{HEAD}piece wall\n    shape run 900 mm high, 60 mm thick\n        leg 2 m\n"
            "        turn 90 deg\n        leg 1 m\n        turn -45 deg\n        leg 50 cm\n"
        )
        .pieces["wall"]
        .shape
    )

    assert shape is not None
    assert [(leg.long, leg.turn) for leg in shape.legs] == [
        (Fraction(2), Fraction(90)),
        (Fraction(1), Fraction(-45)),
        (Fraction(1, 2), None),
    ]


def test_a_mold_is_oiled_before_every_casting_by_a_step_of_its_own() -> None:
    oiled = PIECE.replace("    fits      slab\n", "    fits      slab\n    release   oil on slab.show\n")
    found = spec(HEAD + MIXES + oiled).pieces["slab"].sequence
    release = step(found[1])

    assert [step(i).name for i in found] == ["take-bed", "release", "body"]
    assert (release.kind, release.owner, release.material) == (StepKind.RELEASE, "slab", "oil")
    assert release.on == (FaceRef(piece="slab", face="show"),)
    assert (release.takes, release.gang) == (Fraction(900), (Gang(count=1),))


# ------------------------------------------------------------------ steps


def test_a_step_says_what_it_takes_and_who_does_it() -> None:
    found = step(
        sequence(
            "    pass      hone grit 100, 200 wet on show, slot rate 2 m2/h by 2 at 18 degC waste 5 %\n"
            '        may-pause earliest 2027-03-05 08:00 latest 2027-03-06 "Rinse."\n'
            '        write     "grit used"\n        note "Slowly."\n        hazard silica\n'
        )[0]
    )

    assert (found.kind, found.name, found.grits, found.wet) == (StepKind.PASS, "hone", (100, 200), True)
    assert found.on == (FaceRef(piece="slab", face="show"), FaceRef(piece="slab", face="slot"))
    assert found.rate == Quantity(si=Fraction(2, 3600), dimension=Dimension.AREA_RATE)
    assert (found.gang, found.at, found.waste) == ((Gang(count=2),), Fraction("291.15"), Fraction(5, 100))
    assert found.may_pause
    assert (found.earliest, found.latest) == (datetime(2027, 3, 5, 8), datetime(2027, 3, 7))
    assert (found.instruction, found.writes, found.notes) == ("Rinse.", ("grit used",), ("Slowly.",))
    assert found.hazards == ("silica",)


def test_clauses_may_stand_in_any_order_and_on_lines_under_the_step() -> None:
    one = sequence("    pass      seal 2 coats of oil on show rolled takes 8 min by 1 between 1 h to 2 h\n")
    two = sequence(
        "    pass      seal 2 coats of oil by 1 rolled\n        between 1 h to 2 h takes 8 min\n"
        "        on show\n"
    )

    assert one == two


def test_the_wait_between_coats_is_the_mix_s_own_when_the_step_does_not_say() -> None:
    text = MIXES + "    recoat    2 h to 6 h\n"
    seal = "    pass      seal 2 coats of face on show rolled takes 8 min by 1\n"
    found = step(spec(HEAD + text + PIECE + seal).pieces["slab"].sequence[-1])

    assert found.between == Window(least=Fraction(7200), longest=Fraction(21600))


def test_a_covered_cure_brings_covering_and_uncovering_and_names_them_after_the_step_above() -> None:
    found = sequence("    cure      24 h to 3 days at 20 degC covered\n")
    cover, cure, uncover = step(found[0]), gap(found[1]), step(found[2])

    assert [(cover.kind, cover.name), (uncover.kind, uncover.name)] == [
        (StepKind.COVER, "body.cover"),
        (StepKind.UNCOVER, "body.uncover"),
    ]
    assert (cover.takes, cover.gang) == (Fraction(600), (Gang(count=1),))
    assert (cure.kind, cure.covered, cure.at) == (GapKind.CURE, True, Fraction("293.15"))
    assert cure.window == Window(least=Fraction(86400), longest=Fraction(3 * 86400))


def test_an_open_cure_brings_no_steps() -> None:
    assert len(sequence("    cure      24 h at 20 degC open\n")) == 1


def test_a_shop_sets_its_own_defaults() -> None:
    text = HEAD + MIXES + PIECE + "    cure      24 h at 20 degC covered\nassume cover-time 25 min\n"
    found = spec(text)

    assert step(found.pieces["slab"].sequence[2]).takes == Fraction(1500)
    assert all(a.subject != "cover-time" for a in found.assumptions)


def test_a_default_that_was_used_is_listed_once_with_the_line_that_sets_it() -> None:
    text = HEAD + MIXES + PIECE + "    cure      24 h at 20 degC covered\n    demold    takes 20 min by 2\n"
    listed = [a for a in spec(text).assumptions if a.subject == "cover-time"]

    assert [(a.line, a.source) for a in listed] == [
        ("assume cover-time 10 min", "common practice, no source")
    ]


def test_within_has_no_least_and_a_wait_without_to_no_longest() -> None:
    within, wait = sequence("    within    30 min\n    wait      2 h\n")

    assert gap(within).window == Window(least=Fraction(0), longest=Fraction(1800))
    assert gap(wait).window == Window(least=Fraction(7200), longest=None)


def test_a_rack_may_be_taken_again_once_it_is_free() -> None:
    text = HEAD + MIXES + "station rack\n" + PIECE
    once = "    take rack\n    free rack\n"
    lines = f"{once}    work rub takes 5 min by 1\n{once}"
    found = spec(text + lines).pieces["slab"].sequence[2:]
    names = [i.name for i in found if isinstance(i, Step)]

    assert names == ["take-rack", "free-rack", "rub", "take-rack-2", "free-rack-2"]


# ------------------------------------------------------------------ names


def test_a_step_is_named_alone_with_its_piece_with_a_copy_and_with_a_part() -> None:
    found = job(
        "    after     slab.body, slab.2.body.lift-3, slab.m1.body.end, slab.each.body.start, slab\n"
        "    after     slab.1.body to slab.3.body\n    work go takes 5 min by 1\n"
    ).sequence
    first, second = found[0], found[1]
    assert isinstance(first, After)
    assert isinstance(second, After)

    assert first.refs == (
        StepRef(owner="slab", step="body"),
        StepRef(owner="slab", copies=Copies(first=2, last=2), step="body", part="lift-3"),
        StepRef(owner="slab", copies=Copies(first=1, last=1, mirrored=True), step="body", point="end"),
        StepRef(owner="slab", copies=Copies(each=True), step="body", point="start"),
        StepRef(owner="slab"),
    )
    assert second.refs == (StepRef(owner="slab", copies=Copies(first=1, last=3), step="body"),)


def test_a_gap_and_the_steps_that_it_brings_can_be_named() -> None:
    found = sequence(
        "    cure      24 h at 20 degC covered\n    demold    takes 5 min by 1\n"
        "    wait      1 h after body.cure\n    within    9 h after slab.1.body.uncover\n"
        "    work      rub takes 5 min by 1\n"
    )

    assert gap(found[4]).after == StepRef(owner="slab", step="body", gap="cure")
    assert gap(found[5]).after == StepRef(owner="slab", copies=Copies(first=1, last=1), step="body.uncover")


def test_a_fitting_in_after_means_that_it_has_arrived() -> None:
    text = HEAD + MIXES + "fitting lamp\n" + PIECE + "    after     lamp\n    demold takes 5 min by 1\n"
    after = spec(text).pieces["slab"].sequence[2]
    assert isinstance(after, After)

    assert after.refs == (StepRef(owner="lamp", fitting=True),)


def test_a_face_is_the_piece_s_own_or_written_with_its_piece_or_all_of_it() -> None:
    own = step(sequence("    pass      wax 1 coat of oil on show brushed takes 5 min by 1\n")[0])
    others = step(
        job("    pass      wax 1 coat of oil on slab.front, slab brushed takes 5 min by 1\n").sequence[0]
    )

    assert own.on == (FaceRef(piece="slab", face="show"),)
    assert others.on == (FaceRef(piece="slab", face="front"), FaceRef(piece="slab", face="all"))


def test_a_pour_goes_into_the_mold_the_piece_s_own_cut_out_or_another_piece_s() -> None:
    body = step(spec(HEAD + MIXES + PIECE).pieces["slab"].sequence[1])
    own = step(sequence("    pour      fill 5 mm of face into slot takes 5 min by 1\n")[0])
    other = step(job("    pour      fill full of face into slab.slot takes 5 min by 1\n").sequence[0])

    assert (body.cavity, body.full) == (("slab", None), True)
    assert (own.cavity, own.amount) == (
        ("slab", "slot"),
        Quantity(si=Fraction(5, 1000), dimension=Dimension.LENGTH),
    )
    assert other.cavity == ("slab", "slot")


def test_things_are_pieces_in_spans_molds_and_fittings() -> None:
    found = step(job("    move      away-1 of slab.2 to slab.4, slab.m1, bed takes 1 h by 2\n").sequence[0])

    assert found.things == (
        ThingRef(name="slab", kind="piece", copies=Copies(first=2, last=4)),
        ThingRef(name="slab", kind="piece", copies=Copies(first=1, last=1, mirrored=True)),
        ThingRef(name="bed", kind="mold"),
    )


def test_a_word_of_the_language_may_be_a_name() -> None:
    found = spec(
        HEAD + "stock water\nstock stock\nmix mix\n    binder stock 1 parts\n    water 0.4 of stock added\n"
        "    works 1 h at 20 degC\nstation by\n"
        "piece piece\n    shape slab 1 m long, 1 m wide, 10 cm thick\n    face on top, front\n"
        "    layer layer 5 mm of mix on on laid takes 5 min by 1 using by\n    work takes takes 5 min by 1\n"
        "    after takes, layer\n    demold takes 5 min by 1\n"
    )
    layer = step(found.pieces["piece"].sequence[0])

    assert (layer.material, layer.using) == ("mix", ("by",))
    assert layer.on == (FaceRef(piece="piece", face="on"),)


# ------------------------------------------------------------------ lines that stand alone


def test_a_waiver_a_measurement_and_a_record_carry_their_reasons() -> None:
    found = spec(
        HEAD + MIXES + PIECE + 'waive grit-step on slab.body, slab.1 to slab.2 "Tried."\n'
        'measured density of face 2240 kg/m3 "Cup."\n'
        'done slab.1.body 2027-03-01 22:10 to 2027-03-02 00:30 at 16 degC by 2 "Dry edge"\n'
        '    lot       cement "4471-B"\n'
    )
    (waiver,), (measured,), (done,) = found.waivers, found.measured, found.done

    assert (waiver.finding, waiver.on, waiver.reason) == (
        "grit-step",
        ("slab.body", "slab.1", "slab.2"),
        "Tried.",
    )
    assert (measured.what, measured.of, measured.amount.si, measured.how) == (
        "density",
        "face",
        Fraction(2240),
        "Cup.",
    )
    assert done.step == StepRef(owner="slab", copies=Copies(first=1, last=1), step="body")
    assert (done.start, done.end) == (datetime(2027, 3, 1, 22, 10), datetime(2027, 3, 2, 0, 30))
    assert (done.at, done.gang, done.lots, done.text) == (
        Fraction("289.15"),
        (Gang(count=2),),
        (("cement", "4471-B"),),
        "Dry edge",
    )
