"""What a crew reads at the head of the sheets: mirrored copies, places that nobody told, who is away, and how
long a time at most really is."""

from compiled_text import binder, compiled

from castlang.rules.examples import BASE, CAST
from castlang.sheets.model import Binder, Facts, Items, Prose, Sheet

BOTH_HANDS = "    make      1\n    make      1 mirrored\n"


def sheet(made: Binder, code: str) -> Sheet:
    return next(s for s in made.sheets if s.code == code)


def facts(made: Binder, code: str) -> dict[str, str]:
    block = next(b for b in sheet(made, code).blocks if isinstance(b, Facts))
    return dict(block.pairs)


def both_hands(placed: str) -> Binder:
    text = BASE.replace("build-up takes 2 h", "build-up takes 20 min")
    text = text.replace('mold bed "Flat mold, face down"\n', f'mold bed "Flat mold, face down"\n{BOTH_HANDS}')
    cast = CAST.replace("piece slab\n", f"piece slab\n{BOTH_HANDS}")
    return binder(compiled(text + cast.replace("15 mm deep on top", f"15 mm deep on top{placed}")))


def test_a_mirrored_copy_has_its_parts_from_the_other_edge() -> None:
    made = both_hands(" placed 150 mm from left, 120 mm from front")
    plain, mirrored = facts(made, "PIECE slab.1"), facts(made, "PIECE slab.m1")

    assert plain["less slot"].endswith("on top, 150 mm from left, 120 mm from front")
    assert mirrored["less slot"].endswith("on top, 150 mm from right, 120 mm from front")
    assert ("hand" in plain, mirrored["hand"]) == (False, "mirrored: left is right")


def test_a_place_that_nobody_told_stands_on_the_traveller_with_its_measures() -> None:
    told = facts(both_hands(""), "PIECE slab.1")["less slot"]

    # the top is 600 mm by 400 mm
    assert told.endswith(
        "on top, in the middle, 300 mm from left, 200 mm from front: taken, since no place is told"
    )


def test_who_is_away_stands_on_the_cover() -> None:
    crew = "    crew      2 caster\n    away      1 caster on 2027-03-02\n"
    text = BASE.replace("    crew      2\n", crew)
    cover = sheet(binder(compiled(text + CAST)), "COVER")
    [away] = [block for block in cover.blocks if isinstance(block, Prose) and block.title == "Away"]

    assert away.lines == ("Tue 2 Mar: 1 caster",)


def test_a_longest_time_that_the_cold_stretches_is_told_as_it_is_here() -> None:
    # EN 1992-1-1:2004, B.1(3), formula (B.10), with the build's own 4000 K:
    # at 10 degC exp(-4000 (1/283.15 - 1/293.15)) is 0.6175 of the rate at 20 degC.
    text = BASE.replace("air       20 degC", "air       10 degC").replace(
        "    water     0.36 of binder total\n",
        "    water     0.36 of binder total\n    ages      arrhenius 4000 K\n",
    )
    cast = CAST.replace("cure      24 h at 20 degC", "cure      24 h to 3 days at 20 degC")
    made = binder(compiled(text + cast))
    lines = [
        line
        for block in sheet(made, "PIECE slab").blocks
        if isinstance(block, Items)
        for item in block.items
        for line in item.lines
        if "at most as told" in line
    ]

    # 72 h / 0.6175 = 116.6 h
    assert [line.partition("at most as told, ")[2][:18] for line in lines] == ["here 4 days 20 h 3"]
