"""Pairs of revisions: what is told of each, what follows, which sheets are exchanged; exactly that, no more.

The old side is always the garden; edits are put into it wherever their first half stands.
"""

from dataclasses import dataclass

import pytest
from comparing import GARDEN, compared, edited, follows, sheets, side

PLINTH = GARDEN[GARDEN.index("piece plinth") : GARDEN.index("job delivery")]
CURE = "    cure      24 h to 4 days at 20 degC covered\n"
DEMOLD = "    demold    takes 30 min by 2\n"
FEET = '    insert    feet 4 of anchor takes 15 min by 1 "Bond each into its hole."\n'


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """called: what the revision is about. kinds: of its changes; follows, sheets: as
    `comparing` words them."""

    called: str
    edits: tuple[tuple[str, str], ...]
    kinds: tuple[str, ...] = ()
    follows: tuple[str, ...] = ()
    sheets: tuple[str, ...] = ()


PAIRS = (
    Pair(
        called="comments, blank lines and the order of blocks alone",
        edits=(
            ("# Three slabs in three tints of one mix.", "# Slabs."),
            (PLINTH, ""),
            ("job delivery", PLINTH + "# moved up\njob delivery"),
        ),
        kinds=(),
        follows=(),
        sheets=(),
    ),
    Pair(
        called="a thickness told in inches, not quite the same",
        edits=(("40 mm thick", "1.6 in thick"),),
        kinds=("piece-resized",),
        follows=("more cement", "more oil", "more sand", "more sealer", "bench weighs more", "costs more"),
        sheets=(
            "COVER",
            "BILL",
            "ORDER",
            "COST",
            "WEIGHTS",
            "BATCH bench.body",
            "PIECE bench",
            "JOB delivery",
            "DAY 02",
            "DAY 05",
        ),
    ),
    Pair(
        called="a moved block",
        edits=(
            (PLINTH, ""),
            ("station mixer", PLINTH + "station mixer"),
        ),
        kinds=(),
        follows=(),
        sheets=(),
    ),
    Pair(
        called="a renamed piece",
        edits=(("plinth", "pedestal"),),
        kinds=("mold-renamed", "piece-renamed"),
        follows=(),
        sheets=(
            "COVER",
            "BILL",
            "COST",
            "WEIGHTS",
            "dates PLAN",
            "PLAN STEPS",
            "put in BATCH pedestal.body",
            "put in PIECE pedestal",
            "DAY 01",
            "DAY 02",
            "pull BATCH plinth.body",
            "pull PIECE plinth",
        ),
    ),
    Pair(
        called="a size that stands in three places",
        edits=(("size wide 400 mm", "size wide 420 mm"),),
        kinds=("piece-resized", "piece-resized", "piece-resized"),
        follows=(
            "more black",
            "more cement",
            "more ochre",
            "more oil",
            "more sand",
            "more sealer",
            "bench weighs more",
            "plinth weighs more",
            "shelf weighs more",
            "costs more",
        ),
        sheets=(
            "COVER",
            "BILL",
            "ORDER",
            "COST",
            "WEIGHTS",
            "BATCH bench.body",
            "BATCH plinth.body",
            "BATCH shelf.body",
            "PIECE bench",
            "PIECE plinth",
            "PIECE shelf",
            "JOB delivery",
            "DAY 02",
            "DAY 05",
        ),
    ),
    Pair(
        called="a size under another name",
        edits=(
            ("wide 400 mm", "broad 400 mm"),
            ("wide wide", "broad wide"),
        ),
        kinds=(),
        follows=(),
        sheets=(),
    ),
    Pair(
        called="a base mix with two variants",
        edits=(("sand 180 parts", "sand 160 parts"),),
        kinds=("share", "mix-through-base", "mix-through-base"),
        follows=(
            "more black",
            "more cement",
            "more ochre",
            "less sand",
            "bench weighs less",
            "plinth weighs less",
            "shelf weighs less",
            "costs more",
        ),
        sheets=(
            "COVER",
            "BILL",
            "ORDER",
            "COST",
            "WEIGHTS",
            "BATCH bench.body",
            "BATCH plinth.body",
            "BATCH shelf.body",
            "PIECE bench",
            "PIECE plinth",
            "PIECE shelf",
            "JOB delivery",
            "DAY 02",
            "DAY 05",
        ),
    ),
    Pair(
        called="the price of a package",
        edits=(("price     19.50 EUR", "price     21.50 EUR"),),
        kinds=("price",),
        follows=("costs more",),
        sheets=("ORDER", "COST"),
    ),
    Pair(
        called="one more in the crew, who is not needed",
        edits=(("crew      3", "crew      4"),),
        kinds=("crew",),
        follows=(),
        sheets=("COVER", "dates PLAN", "dates PLAN STEPS"),
    ),
    Pair(
        called="a share in one mix",
        edits=(("pigment   black 2 % of binder", "pigment   black 2.5 % of binder"),),
        kinds=("share",),
        follows=("more black", "less cement", "less sand", "plinth weighs more", "costs more"),
        sheets=(
            "COVER",
            "BILL",
            "ORDER",
            "COST",
            "WEIGHTS",
            "BATCH plinth.body",
            "PIECE plinth",
            "DAY 02",
        ),
    ),
    Pair(
        called="one more grit, and one coat in place of two",
        edits=(
            ("grit 100, 200 wet", "grit 100, 200, 400 wet"),
            ("2 coats of sealer", "1 coat of sealer"),
            ("        between   1 h to 4 h\n", ""),
        ),
        kinds=("grit", "coats", "window"),
        follows=("less sealer", "costs more", "more work on bench", "other chain"),
        sheets=(
            "COVER",
            "BILL",
            "ORDER",
            "COST",
            "dates PLAN",
            "PLAN STEPS",
            "PIECE bench",
            "DAY 02",
            "DAY 03",
            "DAY 04",
            "DAY 05",
        ),
    ),
    Pair(
        called="a longer drying time",
        edits=(("    dry       2 days\n", "    dry       3 days\n"),),
        kinds=("dry",),
        follows=("ends +4030 min",),
        sheets=(
            "dates COVER",
            "dates ORDER",
            "dates PLAN",
            "dates PLAN STEPS",
            "PIECE bench",
            "dates JOB delivery",
            "DAY 02",
            "DAY 03",
            "DAY 05",
            "put in DAY 06",
            "pull DAY 04",
        ),
    ),
    Pair(
        called="the whole plan a week later",
        edits=(("start     2027-03-01", "start     2027-03-08"),),
        kinds=("dates",),
        follows=("ends +10080 min", "all moves +10080 min"),
        sheets=(
            "dates COVER",
            "dates ORDER",
            "dates PLAN",
            "dates PLAN STEPS",
            "dates BATCH bench.body",
            "dates BATCH plinth.body",
            "dates BATCH shelf.body",
            "dates PIECE bench",
            "dates PIECE plinth",
            "dates PIECE shelf",
            "dates JOB delivery",
            "dates DAY 01",
            "dates DAY 02",
            "dates DAY 03",
            "dates DAY 04",
            "dates DAY 05",
        ),
    ),
    Pair(
        called="two steps in the other order",
        edits=(
            (
                DEMOLD + FEET,
                FEET + DEMOLD,
            ),
        ),
        kinds=("step-order", "cure"),
        follows=(),
        sheets=("dates PLAN", "dates PLAN STEPS", "PIECE shelf", "DAY 02", "DAY 03"),
    ),
    Pair(
        called="a piece dropped",
        edits=(
            (PLINTH, ""),
            ("bench, shelf, plinth", "bench, shelf"),
            (
                "mold plinth-mold\n    fits      plinth\n    release   oil on plinth.all takes 20 min by 1\n",
                "",
            ),
        ),
        kinds=("mold-dropped", "piece-dropped", "step-place"),
        follows=(
            "less black",
            "buy -1 black",
            "less cement",
            "buy -1 cement",
            "less oil",
            "less sand",
            "buy -1 sand",
            "weight of plinth",
            "costs less",
            "less work on plinth",
        ),
        sheets=(
            "COVER",
            "BILL",
            "ORDER",
            "COST",
            "WEIGHTS",
            "dates PLAN",
            "PLAN STEPS",
            "dates BATCH shelf.body",
            "dates PIECE shelf",
            "JOB delivery",
            "DAY 01",
            "DAY 02",
            "DAY 05",
            "pull BATCH plinth.body",
            "pull PIECE plinth",
        ),
    ),
    Pair(
        called="one more copy",
        edits=(('piece shelf "Shelf"\n', 'piece shelf "Shelf"\n    make      2\n'),),
        kinds=("piece-count",),
        follows=(
            "more anchor",
            "buy +4 anchor",
            "more cement",
            "more ochre",
            "more oil",
            "more sand",
            "costs more",
            "more work on shelf",
        ),
        sheets=(
            "COVER",
            "BILL",
            "ORDER",
            "COST",
            "WEIGHTS",
            "dates PLAN",
            "PLAN STEPS",
            "BATCH shelf.body",
            "put in PIECE shelf.1",
            "put in PIECE shelf.2",
            "DAY 01",
            "DAY 02",
            "DAY 03",
            "pull PIECE shelf",
        ),
    ),
    Pair(
        called="another mix in a step",
        edits=(("full of ochre-casting", "full of black-casting"),),
        kinds=("step-material",),
        follows=(
            "more black",
            "more cement",
            "less ochre",
            "buy -1 ochre",
            "more sand",
            "shelf weighs less",
            "costs less",
        ),
        sheets=("COVER", "BILL", "ORDER", "COST", "WEIGHTS", "BATCH shelf.body", "PIECE shelf", "DAY 01"),
    ),
    Pair(
        called="another package, and more on hand",
        edits=(
            (
                "sold      bag of 25 kg\n    price     19.50 EUR",
                "sold      bag of 10 kg\n    price     9.50 EUR",
            ),
            ("have      1 bag", "have      2 bags"),
        ),
        kinds=("package", "price", "on-hand"),
        follows=("costs more",),
        sheets=("ORDER", "COST", "BATCH bench.body", "BATCH plinth.body", "BATCH shelf.body"),
    ),
    Pair(
        called="a step on record",
        edits=(("job delivery", "done bench.body 2027-03-01 09:00 to 09:40\njob delivery"),),
        kinds=("done",),
        follows=("ends +80 min", "other chain", "found taken-as-done"),
        sheets=(
            "COVER",
            "dates PLAN",
            "dates PLAN STEPS",
            "dates BATCH bench.body",
            "dates BATCH plinth.body",
            "dates BATCH shelf.body",
            "PIECE bench",
            "dates PIECE plinth",
            "dates PIECE shelf",
            "dates JOB delivery",
            "DAY 01",
            "dates DAY 02",
            "dates DAY 03",
            "dates DAY 04",
            "dates DAY 05",
        ),
    ),
    Pair(
        called="an instruction",
        edits=(('"Bond each into its hole."', '"Bond each into its hole, wipe."'),),
        kinds=("text",),
        follows=(),
        sheets=("PIECE shelf", "DAY 03"),
    ),
    Pair(
        called="a day off",
        edits=(("    crew      3", "    closed    2027-03-03\n    crew      3"),),
        kinds=("closed",),
        follows=(),
        sheets=(
            "dates COVER",
            "dates ORDER",
            "dates PLAN",
            "dates PLAN STEPS",
            "dates PIECE shelf",
            "dates DAY 01",
            "dates DAY 02",
            "DAY 03",
            "DAY 04",
            "pull DAY 05",
        ),
    ),
    Pair(
        called="a mix that changes after a piece was cast from it",
        edits=(
            ("job delivery", "done bench.body 2027-03-01 08:20 to 09:00 by 2\njob delivery"),
            ("180 parts", "190 parts"),
        ),
        kinds=("share", "mix-through-base", "mix-through-base", "done"),
        follows=(
            "less black",
            "less cement",
            "less ochre",
            "more sand",
            "bench weighs more",
            "plinth weighs more",
            "shelf weighs more",
            "costs less",
            "other chain",
            "found taken-as-done",
            "cast bench.body",
        ),
        sheets=(
            "COVER",
            "BILL",
            "ORDER",
            "COST",
            "WEIGHTS",
            "dates PLAN",
            "dates PLAN STEPS",
            "BATCH bench.body",
            "BATCH plinth.body",
            "BATCH shelf.body",
            "PIECE bench",
            "PIECE plinth",
            "PIECE shelf",
            "JOB delivery",
            "DAY 01",
            "DAY 02",
            "DAY 05",
        ),
    ),
    Pair(
        called="a mold, a mix and a step under other names",
        edits=(
            ("bench-mold", "form"),
            ("ochre-casting", "sandstone"),
            ("pass      hone", "pass      polish"),
        ),
        kinds=("mix-renamed", "mold-renamed", "step-renamed"),
        follows=(),
        sheets=(
            "COVER",
            "dates PLAN",
            "PLAN STEPS",
            "BATCH shelf.body",
            "PIECE bench",
            "PIECE shelf",
            "DAY 01",
            "DAY 02",
            "DAY 03",
            "DAY 04",
        ),
    ),
    Pair(
        called="an ingredient more in a base",
        edits=(
            (
                "stock oil",
                'stock fiber "Glass fiber"\n    density   2700 kg/m3\n    sold      bag of 1 kg\nstock oil',
            ),
            ("    water     0.40", "    fiber     fiber 1 % of binder\n    water     0.40"),
        ),
        kinds=("stock-added", "ingredient-added", "mix-through-base", "mix-through-base"),
        follows=(
            "less black",
            "less cement",
            "more fiber",
            "buy +1 fiber",
            "less ochre",
            "less sand",
            "bench weighs more",
            "plinth weighs more",
            "shelf weighs more",
            "costs less",
        ),
        sheets=(
            "COVER",
            "BILL",
            "ORDER",
            "COST",
            "WEIGHTS",
            "BATCH bench.body",
            "BATCH plinth.body",
            "BATCH shelf.body",
            "PIECE bench",
            "JOB delivery",
            "dates DAY 01",
            "DAY 02",
            "DAY 05",
        ),
    ),
    Pair(
        called="one less in the crew, and one away",
        edits=(("crew      3", "crew      2\n    away      1 on 2027-03-02"),),
        kinds=("crew", "away"),
        follows=("ends +4030 min", "other chain"),
        sheets=(
            "COVER",
            "dates ORDER",
            "dates PLAN",
            "dates PLAN STEPS",
            "dates BATCH shelf.body",
            "dates BATCH plinth.body",
            "dates PIECE bench",
            "dates PIECE shelf",
            "dates PIECE plinth",
            "dates JOB delivery",
            "dates DAY 01",
            "DAY 02",
            "DAY 03",
            "DAY 05",
            "put in DAY 06",
            "pull DAY 04",
        ),
    ),
    Pair(
        called="a longer cure, and no cover",
        edits=(
            (
                CURE + DEMOLD + "    insert",
                CURE.replace("24 h", "36 h").replace("covered", "open") + DEMOLD + "    insert",
            ),
        ),
        kinds=("cure", "cure"),
        follows=("costs less", "less work on shelf"),
        sheets=("COVER", "COST", "dates PLAN", "PLAN STEPS", "PIECE shelf", "DAY 01", "DAY 02", "DAY 03"),
    ),
)


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair.called)
def test_a_pair_of_revisions_is_told_exactly(pair: Pair) -> None:
    told = compared(GARDEN, edited(pair.edits))

    assert tuple(str(change.kind) for change in told.changes) == pair.kinds
    assert follows(told) == pair.follows
    assert sheets(told) == pair.sheets
    assert told.same == (pair.kinds == ())


def test_the_changes_read_as_shop_words_with_both_values() -> None:
    edits = (
        ("40 mm thick", "45 mm thick"),
        ("grit 100, 200 wet", "grit 100, 400 wet"),
        ("sand 180 parts", "sand 160 parts"),
        ("    dry       2 days", "    dry       3 days"),
        ("crew      3", "crew      2"),
    )

    assert [change.says for change in compared(GARDEN, edited(edits)).changes] == [
        "crew 3 -> 2",
        "casting: sand 180 parts -> 160 parts",
        "black-casting: through its base casting: sand 180 parts -> 160 parts",
        "ochre-casting: through its base casting: sand 180 parts -> 160 parts",
        "bench: 40 mm -> 45 mm thick",
        "bench: hone grit 100, 200 -> 100, 400",
        "bench: dry between hone and seal 2 days -> 3 days",
    ]
    assert compared(GARDEN, edited((("40 mm thick", "45 mm thick"),)), "us").changes[0].says == (
        'bench: 1-9/16" -> 1-3/4" thick'
    )


def test_a_finding_of_a_thing_under_another_name_is_neither_new_nor_gone() -> None:
    waived = GARDEN + 'waive grit-step on bench.1.hone "Tried on a sample"\n'
    edits = (
        ("pass      hone", "pass      rub"),
        ("bench.1.hone", "seat.rub"),
        ("bench.all", "seat.all"),
        ("piece bench ", "piece seat "),
        ("fits      bench", "fits      seat"),
        ("of bench,", "of seat,"),
    )
    told = compared(waived, edited(edits, waived))

    assert [change.says for change in told.changes] == [
        "piece bench is now called seat",
        "seat: hone is now called rub",
    ]
    assert follows(told) == ()


def test_a_finding_that_names_lines_is_the_same_when_they_move() -> None:
    late = "done bench.body 2027-03-01 09:00 to 09:40\ndone bench.body.uncover 2027-03-01 15:00 to 15:10\n"
    old = GARDEN + late
    new = "# One line more, so that all lines move.\n" + edited((("4.50 EUR", "5.50 EUR"),), old)
    told = compared(old, new)
    wrong = [p.message for p in side(old, "old").problems if p.finding.name == "window-not-kept"]

    assert any("old.pour:" in message for message in wrong)
    assert (told.found, told.gone) == ((), ())
