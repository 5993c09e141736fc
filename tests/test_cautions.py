"""Which cautions a step brings, and what they say."""

from fractions import Fraction

from castlang.sheets.cautions import DEFERS, HAZARDS, caution_of, cautions_of, short_of, titles_of
from castlang.sheets.hazards import hazards_of_build, hazards_of_mix, hazards_of_step
from castlang.spec.model import (
    Build,
    Dose,
    DoseKind,
    Fitting,
    Gap,
    GapKind,
    Ingredient,
    Job,
    Mix,
    Mold,
    Piece,
    Role,
    Spec,
    Step,
    StepKind,
    Stock,
    ThingRef,
    Water,
    Window,
)

PARTS = Dose(kind=DoseKind.PARTS, value=Fraction(1))


def step(kind: StepKind, **more: object) -> Step:
    return Step(kind=kind, owner="bench", name="it", **more)  # type: ignore[arg-type]


SPEC = Spec(
    build=Build(name="yard"),
    stocks={
        "cement": Stock(name="cement", hazards=("wet-cement", "cement-dust")),
        "hardener": Stock(name="hardener", hazards=("corrosive",)),
        "ply": Stock(name="ply", hazards=("wood-dust",)),
        "resin": Stock(name="resin", hazards=("skin-sensitizer",)),
        "sand": Stock(name="sand", hazards=("silica-dust", "cement-dust")),
        "wash": Stock(name="wash", hazards=("solvent",)),
        "well": Stock(name="well", hazards=("slips",)),
    },
    mixes={
        "clear": Mix(
            name="clear",
            measure="mass",
            ingredients=(
                Ingredient(role=Role.PART, stock="resin", dose=PARTS),
                Ingredient(role=Role.PART, stock="hardener", dose=PARTS),
            ),
        ),
        "mortar": Mix(
            name="mortar",
            hazards=("own-word",),
            ingredients=(
                Ingredient(role=Role.BINDER, stock="cement", dose=PARTS),
                Ingredient(role=Role.SAND, stock="sand", dose=PARTS),
            ),
            water=Water(dose=PARTS, total=True, stock="well"),
        ),
    },
    molds={
        "form": Mold(
            name="form",
            board="ply",
            sequence=(Step(kind=StepKind.WORK, owner="form", name="saw", hazards=("noise",)),),
            release=Step(kind=StepKind.RELEASE, owner="form", name="release", material="hardener"),
        )
    },
    stations={},
    fittings={"lamp": Fitting(name="lamp", hazards=("electricity-near-water",))},
    pieces={
        "bench": Piece(
            name="bench",
            sequence=(
                step(StepKind.RELEASE, material="wash"),
                step(StepKind.LAYER, material="mortar"),
                Gap(kind=GapKind.CURE, owner="bench", window=Window(least=Fraction(60)), hazards=("hot",)),
            ),
        )
    },
    jobs={"end": Job(name="end")},
)


def test_a_mix_brings_the_hazards_of_all_its_stocks_and_its_water_each_once() -> None:
    words = hazards_of_mix(SPEC, SPEC.mixes["mortar"])

    assert words == ("own-word", "wet-cement", "cement-dust", "silica-dust", "slips")


def test_dry_grit_raises_dust_and_wet_grit_brings_water_to_a_powered_tool() -> None:
    dry = step(StepKind.PASS, grits=(60,), wet=False)
    wet = step(StepKind.PASS, grits=(60,), wet=True)

    assert hazards_of_step(SPEC, dry) == ("silica-dust",)
    assert hazards_of_step(SPEC, wet) == ("electricity-near-water", "grinding-slurry")


def test_demolding_placing_and_moving_are_lifts() -> None:
    kinds = (StepKind.DEMOLD, StepKind.PLACE, StepKind.MOVE, StepKind.TEST)

    assert [hazards_of_step(SPEC, step(kind)) for kind in kinds] == [("lifting",)] * 3 + [()]


def test_a_pour_of_two_parts_heats_itself_and_a_pour_of_mortar_does_not() -> None:
    clear = step(StepKind.POUR, material="clear")
    mortar = step(StepKind.POUR, material="mortar")

    assert hazards_of_step(SPEC, clear) == ("exotherm", "skin-sensitizer", "corrosive")
    assert "exotherm" not in hazards_of_step(SPEC, mortar)


def test_a_step_brings_its_own_words_first_then_those_of_its_things() -> None:
    work = step(
        StepKind.WORK, hazards=("noise",), material="wash", things=(ThingRef(name="lamp", kind="fitting"),)
    )

    assert hazards_of_step(SPEC, work) == ("noise", "solvent", "electricity-near-water")


def test_work_on_a_mold_brings_the_hazards_of_its_boards() -> None:
    saw = SPEC.molds["form"].sequence[0]

    assert isinstance(saw, Step)
    assert hazards_of_step(SPEC, saw) == ("noise", "wood-dust")


def test_a_build_has_the_hazards_of_every_step_and_wait() -> None:
    words = hazards_of_build(SPEC)

    assert set(words) == {
        "noise",
        "wood-dust",
        "solvent",
        "own-word",
        "wet-cement",
        "cement-dust",
        "silica-dust",
        "slips",
        "hot",
    }


def test_every_caution_says_what_can_hurt_what_to_do_and_who_governs() -> None:
    for hazard in HAZARDS:
        lines = caution_of(hazard.word, "metric").lines

        assert lines[0] == hazard.hurts
        assert lines[1 : 1 + len(hazard.do)] == hazard.do
        assert lines[-1] == DEFERS


def test_no_word_names_two_hazards() -> None:
    words = [word for hazard in HAZARDS for word in (hazard.word, *hazard.also)]

    assert len(words) == len(set(words))


def test_silica_is_told_with_its_limit_and_the_rule_it_comes_from() -> None:
    text = " ".join(caution_of("silica-dust", "metric").lines)

    # 29 CFR 1910.1053(c) and 1926.1153(d)(1): 50 ug/m3 as an 8-hour time-weighted average
    assert "50 ug/m3 as an 8 h average (29 CFR 1910.1053 in shops, 1926.1153 on sites)" in text
    # 29 CFR 1926.1153(b): action level 25 ug/m3; HEPA filter 99.97 % at 0.3 um
    assert "Action level 25 ug/m3; HEPA filter: 99.97 % at 0.3 um" in text


def test_the_lifting_ceiling_is_the_manuals_own_figure_in_each_system() -> None:
    metric = " ".join(caution_of("lifting", "metric").lines)
    us = " ".join(caution_of("lifting", "us").lines)

    # load constant, DHHS (NIOSH) 94-110, 1994: 23 kg or 51 lb
    assert "23 kg a person is a ceiling under ideal conditions, not a permission" in metric
    assert "51 lb a person is a ceiling under ideal conditions, not a permission" in us
    assert "51 lb" not in metric
    assert "23 kg" not in us


def test_an_unknown_hazard_is_printed_as_it_is() -> None:
    assert caution_of("bee-hive", "metric").title == "bee-hive"
    assert caution_of("bee-hive", "metric").lines[-1] == DEFERS
    assert short_of("bee-hive") == "bee-hive: see the safety data sheet"


def test_two_words_for_one_hazard_make_one_box() -> None:
    words = ("glass-fiber", "glass-fibre", "noise")

    assert titles_of(words) == ("Glass fiber", "Noise")
    assert [box.title for box in cautions_of(words, "metric")] == ["Glass fiber", "Noise"]
