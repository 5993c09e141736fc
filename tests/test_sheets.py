"""The binder of a small build made by hand: two benches from one mold, and a shelf laid on two brackets."""

from dataclasses import replace
from datetime import date, datetime, time
from fractions import Fraction

import pytest

from castlang.costing.model import Costing, OrderLine, Sums
from castlang.costing.model import Hours as OwnerHours
from castlang.plan.model import GapEdge, Hours, Link, Need, Network, Placed, Plan, Point, Resource, Task, Why
from castlang.problems.model import Assumption, Finding, Problem, Severity
from castlang.sheets.amounts import figure
from castlang.sheets.cautions import title_of
from castlang.sheets.from_plan import TABLES, binder_of, table_of
from castlang.sheets.hazards import hazards_of_build
from castlang.sheets.model import BarKind, Binder, Caution, Chart, Facts, Item, Items, Prose, Sheet, Table
from castlang.sheets.unfinished import unfinished
from castlang.source.model import Span
from castlang.spec.model import (
    NOWHERE,
    Build,
    Copies,
    Done,
    Dose,
    DoseKind,
    FaceRef,
    Fitting,
    Gang,
    Gap,
    GapKind,
    Ingredient,
    Job,
    Measured,
    Mix,
    Mold,
    Package,
    Panel,
    Piece,
    Role,
    Shape,
    Shift,
    Spec,
    Station,
    Step,
    StepKind,
    StepRef,
    Stock,
    ThingRef,
    Waiver,
    Window,
)
from castlang.spec.model import (
    Item as Line,
)
from castlang.spec.quantity import Dimension, Money, Quantity
from castlang.takeoff.model import (
    Batch,
    Bearing,
    BillLine,
    BoardPanel,
    Lift,
    PieceTakeoff,
    Recipe,
    RecipeLine,
    StepPart,
    StepTakeoff,
    Takeoff,
    Use,
    WeighLine,
)

PARTS = Dose(kind=DoseKind.PARTS, value=Fraction(1))
HOUR = Fraction(3600)
MONDAY = date(2027, 2, 1)
DAY = 1440


def pour(batches: int) -> tuple[Batch, ...]:
    lines = (
        WeighLine(stock="cement", exact=Fraction("20.0004"), shown=Fraction(20), running=Fraction(20)),
        WeighLine(stock="sand", exact=Fraction("30.0003"), shown=Fraction("30"), running=Fraction(50)),
    )
    return tuple(
        Batch(
            name=f"bench.body.batch-{n}",
            mix="mortar",
            volume=Fraction("0.025"),
            mass=Fraction("50.0007"),
            by_volume=False,
            minutes=20,
            lines=lines,
        )
        for n in range(1, batches + 1)
    )


def bench_lines() -> tuple[Line, ...]:
    return (
        Step(
            kind=StepKind.POUR,
            owner="bench",
            name="body",
            material="mortar",
            full=True,
            cavity=("bench", None),
            gang=(Gang(count=2),),
            using=("mixer",),
            instruction="Tap the mold until the bubbles stop.",
            writes=("slump",),
        ),
        Gap(
            kind=GapKind.CURE,
            owner="bench",
            window=Window(least=18 * HOUR, longest=72 * HOUR),
            at=Fraction("293.15"),
            covered=True,
            text="Keep the sheet on.",
            hazards=("slips",),
        ),
        Step(kind=StepKind.DEMOLD, owner="bench", name="demold", target="form", gang=(Gang(count=2),)),
        Step(
            kind=StepKind.PASS,
            owner="bench",
            name="hone",
            grits=(60, 120),
            wet=False,
            on=(FaceRef(piece="bench", face="top"),),
            gang=(Gang(count=1, role="finisher"),),
        ),
        Gap(kind=GapKind.DRY, owner="bench", window=Window(least=24 * HOUR), text="Fans on."),
    )


SPEC = Spec(
    build=Build(
        name="arcade",
        label="Benches for an arcade",
        revision="B",
        start=MONDAY,
        due=date(2027, 2, 5),
        shifts=(Shift(first=0, last=4, spells=((time(8), time(16)),)),),
        crew=(Gang(count=2), Gang(count=1, role="finisher")),
        margin=Fraction("0.2"),
        notes=("Gate code at the office.",),
    ),
    stocks={
        "cement": Stock(
            name="cement",
            label="Grey cement",
            package=Package(
                word="bag", amount=Quantity(si=Fraction(25), dimension=Dimension.MASS, written="25 kg")
            ),
            hazards=("wet-cement",),
            lead=2 * 24 * HOUR,
        ),
        "ply": Stock(name="ply", label="Plywood"),
        "sand": Stock(name="sand", hazards=("silica-dust",)),
        "wax": Stock(name="wax", hazards=("solvent",)),
    },
    mixes={
        "mortar": Mix(
            name="mortar",
            label="Bench mortar",
            ingredients=(
                Ingredient(role=Role.BINDER, stock="cement", dose=PARTS),
                Ingredient(role=Role.SAND, stock="sand", dose=PARTS),
            ),
            works=Window(least=Fraction(2400)),
            works_at=Fraction("293.15"),
            notes=("Cement last.",),
        )
    },
    molds={
        "form": Mold(
            name="form",
            label="Bench mold",
            fits=("bench",),
            board="ply",
            panels=(Panel(name="long-side", long=Fraction("1.5"), wide=Fraction("0.4"), count=2),),
            sequence=(
                Step(
                    kind=StepKind.WORK,
                    owner="form",
                    name="wax",
                    material="wax",
                    gang=(Gang(count=1),),
                    instruction="Thin coat.",
                ),
            ),
        )
    },
    stations={"mixer": Station(name="mixer", label="Pan mixer")},
    fittings={
        "bracket": Fitting(name="bracket", label="Steel bracket", carries=Fraction(150), lead=24 * HOUR)
    },
    pieces={
        "bench": Piece(
            name="bench",
            label="Bench",
            count=2,
            shape=Shape(
                kind="slab",
                sizes={"long": Fraction("1.5"), "wide": Fraction("0.4"), "thick": Fraction("0.06")},
            ),
            faces={"show": ("top", "front")},
            sequence=bench_lines(),
        )
    },
    jobs={
        "hang": Job(
            name="hang",
            label="Hang it",
            sequence=(
                Step(
                    kind=StepKind.PLACE,
                    owner="hang",
                    name="seat",
                    things=(ThingRef(name="bench", kind="piece", copies=Copies(first=1, last=2)),),
                    onto=ThingRef(name="bracket", kind="fitting"),
                    gang=(Gang(count=2),),
                    hazards=("pinch-point",),
                ),
            ),
        )
    },
    waivers=(Waiver(finding="grit-step", on=("bench.hone",), reason="Tried on a sample."),),
    measured=(
        Measured(
            what="density",
            of="mortar",
            amount=Quantity(si=Fraction(2000), dimension=Dimension.DENSITY),
            how="Litre cup.",
        ),
    ),
    done=(
        Done(
            step=StepRef(owner="bench", copies=Copies(first=1), step="body"),
            start=datetime(2027, 2, 1, 9, 5),
            end=datetime(2027, 2, 1, 9, 40),
            text="Edge a little dry.",
            lots=(("cement", "4471-B"),),
        ),
    ),
    assumptions=(
        Assumption(
            subject="bench", says="rest centred", source="common practice", line="placed 0 mm from left"
        ),
    ),
)

TAKEOFF = Takeoff(
    panels=(
        BoardPanel(
            mold="form", name="long-side", stock="ply", long=Fraction("1.5"), wide=Fraction("0.4"), count=2
        ),
    ),
    pieces={
        "bench": PieceTakeoff(
            piece="bench",
            volume=Fraction("0.036"),
            faces={"show": Fraction("0.69"), "top": Fraction("0.6")},
            wet=Fraction(82),
            dry=Fraction(80),
            source="shape",
        )
    },
    recipes={
        "mortar": Recipe(
            mix="mortar",
            density=Fraction(2000),
            density_from="measured",
            lines=(RecipeLine(stock="cement", role="binder", mass=Fraction(800), volume=None),),
            air=Fraction("0.03"),
            binder=Fraction(800),
            water_total=Fraction(0),
            solids=Fraction(0),
        )
    },
    steps={
        ("bench", "body"): StepTakeoff(
            owner="bench",
            step="body",
            parts=(StepPart(suffix="", minutes=40, batches=pour(2)),),
            volume=Fraction("0.036"),
            mass=Fraction(82),
            waste=Fraction("0.08"),
        ),
        ("form", "wax"): StepTakeoff(
            owner="form",
            step="wax",
            parts=(StepPart(suffix="", minutes=30),),
            area=Fraction("1.2"),
            uses=(
                Use(
                    stock="wax", dimension=Dimension.VOLUME, net=Fraction("0.0001"), gross=Fraction("0.00011")
                ),
            ),
        ),
    },
    bill=(
        BillLine(
            stock="cement",
            dimension=Dimension.MASS,
            net=Fraction(74),
            gross=Fraction(80) + Fraction(1, 3000),
            of=(
                ("bench.body", Fraction(80)),
                ("bench.slurry", Fraction(1, 9000)),
                ("bench.fill", Fraction(1, 9000)),
                ("bench.edge", Fraction(1, 9000)),
            ),
        ),
        BillLine(
            stock="bracket",
            dimension=Dimension.COUNT,
            net=Fraction(2),
            gross=Fraction(2),
            of=(("hang.seat", Fraction(2)),),
        ),
    ),
    lifts=(
        Lift(step="bench.demold", things="bench", mass=Fraction(82), people=2, each=Fraction(41), limit=None),
        Lift(
            step="hang.seat",
            things="bench",
            mass=Fraction(80),
            people=2,
            each=Fraction(40),
            limit=Fraction(45),
        ),
    ),
    bearings=(Bearing(step="hang.seat", fitting="bracket", mass=Fraction(160), carries=Fraction(150)),),
    assumptions=(
        Assumption(subject="mix mortar", says="air 3 %", source="common practice, no source", line="air 3 %"),
    ),
)


def task(name: str, minutes: int, crew: int, **more: object) -> Task:
    return Task(name=name, minutes=minutes, crew=((None, crew),), **more)  # type: ignore[arg-type]


def bench_tasks(copy: str) -> tuple[Task, ...]:
    body = task(
        f"bench.{copy}.body", 40, 2, owner="bench", step="body", copy=copy, needs=(Need(resource="mixer"),)
    )
    demold = task(f"bench.{copy}.demold", 30, 2, owner="bench", step="demold", copy=copy)
    grits = tuple(
        Task(
            name=f"bench.{copy}.hone.grit-{grit}",
            minutes=60,
            crew=(("finisher", 1),),
            owner="bench",
            step="hone",
            copy=copy,
            part=f"grit-{grit}",
        )
        for grit in (60, 120)
    )
    ready = Task(name=f"bench.{copy}.ready", minutes=0, owner="bench", step="ready", copy=copy, kind="ready")
    return (body, demold, *grits, ready)


TASKS = (
    task("form.wax", 30, 1, owner="form", step="wax"),
    *bench_tasks("1"),
    *bench_tasks("2"),
    task("hang.seat", 60, 2, owner="hang", step="seat"),
    Task(name="cement.arrives", minutes=0, owner="cement", step="arrives", kind="arrival"),
)

STARTS = {
    "form.wax": 480,
    "bench.1.body": 540,
    "bench.2.body": 600,
    "bench.1.demold": DAY + 480,
    "bench.2.demold": DAY + 520,
    "bench.1.hone.grit-60": DAY + 560,
    "bench.1.hone.grit-120": DAY + 620,
    "bench.2.hone.grit-60": DAY + 680,
    "bench.2.hone.grit-120": DAY + 740,
    "bench.1.ready": 2 * DAY + 680,
    "bench.2.ready": 2 * DAY + 800,
    "hang.seat": 3 * DAY + 480,
    "cement.arrives": 2 * DAY,
}


def gaps() -> tuple[GapEdge, ...]:
    edges = []
    for copy in ("1", "2"):
        edges.append(
            GapEdge(
                before=f"bench.{copy}.body",
                after=f"bench.{copy}.demold",
                least=18 * 60,
                longest=72 * 60,
                why=Why.CURE,
                says=f"cure of bench.{copy}.body",
            )
        )
        edges.append(
            GapEdge(
                before=f"bench.{copy}.hone.grit-120",
                after=f"bench.{copy}.ready",
                least=DAY,
                why=Why.DRY,
                says=f"dry after bench.{copy}.hone",
            )
        )
        edges.append(
            GapEdge(before=f"bench.{copy}.ready", after="hang.seat", least=0, why=Why.AFTER, says="bench")
        )
    edges.append(
        GapEdge(
            before="bench.1.body",
            after="bench.2.body",
            least=30,
            longest=75,
            before_point=Point.START,
            why=Why.WINDOW,
            says="wet on wet",
        )
    )
    return tuple(edges)


WEEK = tuple(((480, 960),) if day < 5 else () for day in range(7))

PLAN = Plan(
    network=Network(
        tasks=TASKS,
        gaps=gaps(),
        holds=(),
        resources=(Resource(name="mixer", capacity=1),),
        hours=Hours(start=MONDAY, week=WEEK, crew=((None, 2), ("finisher", 1)), away={1: ((None, 1),)}),
        due=5 * DAY,
    ),
    placed=tuple(
        Placed(
            task=t.name,
            start=STARTS[t.name],
            end=STARTS[t.name] + t.minutes,
            spells=((STARTS[t.name], STARTS[t.name] + t.minutes),),
            latest=STARTS[t.name],
            slack=90 if t.name == "form.wax" else 0,
        )
        for t in sorted(TASKS, key=lambda t: STARTS[t.name])
    ),
    critical=(
        Link(task="bench.1.body", before=None, why=Why.DATE, gap=0, says="start of the build"),
        Link(
            task="bench.1.demold", before="bench.1.body", why=Why.CURE, gap=1080, says="cure of bench.1.body"
        ),
        Link(task="hang.seat", before="bench.1.demold", why=Why.CREW, gap=0),
    ),
    finish=3 * DAY + 540,
    bound=2 * DAY + 540,
    made="tasks by latest start, each as soon as it fits",
)

COSTING = Costing(
    orders=(
        OrderLine(
            name="cement",
            fitting=False,
            dimension=Dimension.MASS,
            need=Fraction(80),
            package="bag",
            package_size=Fraction(25),
            have=Fraction(1),
            buy=3,
            left=Fraction(20),
            price=Money(amount=Fraction("18.75"), currency="EUR"),
            cost=Money(amount=Fraction("56.25"), currency="EUR"),
            lead_days=2,
            first_use=MONDAY,
            order_by=date(2027, 1, 30),
        ),
        OrderLine(
            name="sand",
            fitting=False,
            dimension=Dimension.MASS,
            need=Fraction("120.5"),
            package=None,
            package_size=None,
            have=Fraction(0),
            buy=0,
            left=None,
            price=None,
            cost=None,
            lead_days=0,
            first_use=MONDAY,
            order_by=date(2027, 2, 2),
        ),
    ),
    hours=(OwnerHours(owner="bench", minutes=500), OwnerHours(owner="hang", minutes=120)),
    material={"EUR": Fraction("56.25")},
    labour={"EUR": Fraction("400")},
    unpriced=("sand",),
    assumptions=(
        Assumption(subject="cement", says="ordered at the start", source="shop", line="ordered DATE"),
    ),
)

NOTE = Problem(
    finding=Finding(
        name="heavy-lift", severity=Severity.NOTE, says="s", why="w", remedy="use the hoist", source="x"
    ),
    message="bench.demold lifts 41 kg a person",
    span=Span(file="yard/arcade.pour", line=40, column=5, end=9),
)


def binder(spec: Spec = SPEC, *, units: str | None = None) -> Binder:
    return binder_of(spec, TAKEOFF, PLAN, COSTING, (NOTE,), units=units)


def sheet(code: str, book: Binder | None = None) -> Sheet:
    return next(s for s in (book or binder()).sheets if s.code == code)


def table(of: Sheet, key: str) -> Table:
    return next(b for b in of.blocks if isinstance(b, Table) and b.key == key)


def items(of: Sheet) -> tuple[Item, ...]:
    return next(b.items for b in of.blocks if isinstance(b, Items))


def facts(of: Sheet) -> dict[str, str]:
    return dict(next(b.pairs for b in of.blocks if isinstance(b, Facts)))


def cells(of: Table) -> list[tuple[str, ...]]:
    return [row.cells for row in of.rows]


def points(of: Sheet, title: str) -> tuple[str, ...]:
    return next((b.lines for b in of.blocks if isinstance(b, Prose) and b.title == title), ())


def titles(of: Sheet) -> set[str]:
    return {b.title for b in of.blocks if isinstance(b, Caution)}


def warned(of: Sheet) -> set[str]:
    """What a sheet's box of short warnings names."""
    lines = [line for b in of.blocks if isinstance(b, Caution) for line in b.lines[:-1]]
    return {line.split(":")[0] for line in lines}


# ---------------------------------------------------------------- the binder


def test_a_binder_holds_every_kind_of_sheet_once_and_in_the_order_of_use() -> None:
    codes = [s.code for s in binder().sheets]

    assert codes == [
        "COVER",
        "BILL",
        "ORDER",
        "COST",
        "WEIGHTS",
        "PLAN",
        "PLAN STEPS",
        "BATCH bench.body",
        "MOLD form",
        "PIECE bench.1",
        "PIECE bench.2",
        "JOB hang",
        "DAY 01",
        "DAY 02",
        "DAY 03",
        "DAY 04",
    ]


def test_revision_paper_and_units_given_win_over_the_build() -> None:
    told = binder_of(SPEC, TAKEOFF, PLAN, COSTING)
    given = binder_of(SPEC, TAKEOFF, PLAN, COSTING, revision="C", paper="a4", units="us")
    american = binder_of(SPEC, TAKEOFF, PLAN, COSTING, units="us")

    assert (told.revision, told.paper, told.build, told.label) == (
        "B",
        "a4",
        "arcade",
        "Benches for an arcade",
    )
    assert (given.revision, given.paper) == ("C", "a4")
    assert american.paper == "letter"


def test_every_row_has_one_text_for_every_column() -> None:
    for book in (binder(), binder(units="us")):
        for of in book.sheets:
            for block in of.blocks:
                if isinstance(block, Table):
                    assert {len(row.cells) for row in block.rows} <= {len(block.columns)}
                    assert len({column.key for column in block.columns}) == len(block.columns)


@pytest.mark.parametrize("name", sorted(TABLES))
def test_each_single_table_can_be_had_alone(name: str) -> None:
    alone = table_of(name, SPEC, TAKEOFF, PLAN, COSTING, units="us")

    assert alone.key == name
    assert alone.rows


# ---------------------------------------------------------------- cover


def test_the_cover_lists_what_was_taken_by_every_stage_with_the_line_that_would_say_it() -> None:
    rows = cells(table(sheet("COVER"), "assumptions"))

    assert rows == [
        ("bench", "rest centred", "common practice", "placed 0 mm from left"),
        ("mix mortar", "air 3 %", "common practice, no source", "air 3 %"),
        ("cement", "ordered at the start", "shop", "ordered DATE"),
    ]


def test_the_cover_lists_waivers_with_their_reasons_and_findings_that_remain() -> None:
    cover = sheet("COVER")

    assert cells(table(cover, "waivers")) == [("grit-step", "bench.hone", "Tried on a sample.")]
    assert cells(table(cover, "findings")) == [
        ("note", "heavy-lift", "bench.demold lifts 41 kg a person", "use the hoist", "arcade.pour:40")
    ]
    assert table(cover, "findings").rows[0].data == (("place", "yard/arcade.pour:40:5"),)


def test_what_no_line_brings_about_has_no_line_on_the_cover() -> None:
    cover = sheet("COVER", binder_of(SPEC, TAKEOFF, PLAN, COSTING, (replace(NOTE, span=NOWHERE),)))

    assert cells(table(cover, "findings"))[0][4] == ""


def test_the_cover_says_what_is_built_by_whom_and_by_when() -> None:
    cover = sheet("COVER")

    assert facts(cover)["finish"] == "Thu 4 Feb 2027 09:00"
    assert facts(cover)["due"] == "Fri 5 Feb 2027, in time, 39 h to spare"
    assert facts(cover)["crew"] == "2, 1 finisher"
    assert cells(table(cover, "pieces")) == [
        ("Bench", "bench", "2", "slab 1500 mm long, 400 mm wide, 60 mm thick", "80 kg")
    ]


def test_the_cover_says_what_is_not_worked_out_yet_and_nothing_that_does_not_apply() -> None:
    told = points(sheet("COVER"), "Not worked out yet")
    plain = replace(
        SPEC,
        done=(),
        mixes={},
        pieces={"bench": replace(SPEC.pieces["bench"], sequence=())},
    )

    assert [line.split(":")[0] for line in told] == ["Drying times count as told"]
    assert unfinished(plain) == ()


def test_the_contents_name_every_sheet_but_the_cover() -> None:
    rows = cells(table(sheet("COVER"), "contents"))

    assert sum(int(row[2]) for row in rows) == len(binder().sheets) - 1
    assert ("PIECE", "travellers of pieces, one a copy: bench.1, bench.2", "2") in rows


# ---------------------------------------------------------------- cautions


def test_every_hazard_of_the_build_stands_on_the_cover_and_on_the_sheet_of_its_work() -> None:
    book = binder()
    travellers = [s for s in book.sheets if s.code.split(" ")[0] in ("MOLD", "PIECE", "JOB")]
    whole = {title_of(word) for word in hazards_of_build(SPEC)}

    assert whole == {
        "Solvent",
        "Wet cement",
        "Silica dust",
        "Slippery floor",
        "Lifting",
        "pinch-point",
    }
    assert titles(sheet("COVER")) == whole
    assert set().union(*map(warned, travellers)) == whole
    assert warned(sheet("MOLD form")) == {"Solvent"}
    assert warned(sheet("JOB hang")) == {"Lifting", "pinch-point"}
    assert titles(sheet("BATCH bench.body")) == {"Before you start"}


def test_a_traveller_warns_in_one_box_before_the_work_and_sends_the_crew_to_the_cover_for_the_rest() -> None:
    blocks = sheet("PIECE bench.1").blocks
    box = next(index for index, block in enumerate(blocks) if isinstance(block, Caution))
    work = next(index for index, block in enumerate(blocks) if isinstance(block, Items))
    lines = next(b.lines for b in blocks if isinstance(b, Caution))

    assert box < work
    assert lines[-1] == "In full on sheet COVER; safety data sheet, local code and licensed practice govern."
    assert (
        "Lifting: Weight and people stand on the WEIGHTS sheet; use the hoist or more people when in doubt"
        in lines
    )


def test_a_batch_sheet_warns_in_one_box_before_the_weighing() -> None:
    blocks = sheet("BATCH bench.body").blocks
    box = next(index for index, block in enumerate(blocks) if isinstance(block, Caution))
    weighing = next(index for index, block in enumerate(blocks) if isinstance(block, Table))
    lines = next(b for b in blocks if isinstance(b, Caution)).lines

    assert box < weighing
    assert [line.split(":")[0] for line in lines[:-1]] == ["Wet cement", "Silica dust"]
    assert lines[-1].startswith("In full on sheet COVER;")


def test_a_binder_stock_without_a_hazard_sends_the_crew_to_its_data_sheet() -> None:
    cement = replace(SPEC.stocks["cement"], hazards=())
    bare = replace(SPEC, stocks={**SPEC.stocks, "cement": cement})
    told, untold = (
        next(b.lines for b in sheet("BATCH bench.body", book).blocks if isinstance(b, Caution))
        for book in (binder(), binder(bare))
    )

    line = "Grey cement: the build tells no hazard, so read the safety data sheet"
    assert line in untold
    assert line not in told


def test_what_is_the_same_for_all_copies_stands_on_the_first_and_the_others_point_to_it() -> None:
    first, second = sheet("PIECE bench.1"), sheet("PIECE bench.2")

    assert warned(first) == {"Wet cement", "Silica dust", "Slippery floor", "Lifting"}
    assert "shape" in facts(first)
    assert facts(second) == {
        "from": "Mon 1 Feb 10:00",
        "to": "Wed 3 Feb 13:20",
        "shape, notes, cautions": "sheet PIECE bench.1",
    }
    assert titles(second) == set()
    assert [item.caution for item in items(second)] == [item.caution for item in items(first)]


def test_every_item_names_its_own_hazards() -> None:
    named = {item.what.split(":")[0]: item.caution for item in items(sheet("PIECE bench.1"))}

    assert named["body"] == ("Wet cement", "Silica dust")
    assert named["cure of bench.1.body"] == ("Slippery floor",)
    assert named["demold"] == ("Lifting",)
    assert named["hone.grit-120"] == ("Silica dust",)


def test_a_day_sheet_cautions_for_the_work_of_that_day() -> None:
    box = next(b for b in sheet("DAY 04").blocks if isinstance(b, Caution))

    assert [line.split(":")[0] for line in box.lines[:2]] == ["pinch-point", "Lifting"]


# ---------------------------------------------------------------- materials


def test_the_steps_of_a_material_add_up_to_its_figure_in_the_bill_to_the_last_digit() -> None:
    for units in ("metric", "us"):
        bill = sheet("BILL", binder(units=units))
        detail = [row for row in cells(table(bill, "bill-by-step")) if row[0] == "Grey cement"]

        assert sum(Fraction(row[2]) for row in detail if row[1] != "in all") == Fraction(detail[-1][2])
        assert detail[-1][2] == cells(table(bill, "bill"))[0][3]


def test_a_material_of_one_step_has_one_line_which_is_its_sum() -> None:
    detail = [row for row in table(sheet("BILL"), "bill-by-step").rows if row.cells[0] == "Steel bracket"]

    assert [(row.cells[1:3], row.strong) for row in detail] == [(("hang.seat", "2"), True)]


def test_the_bill_tells_net_and_waste_in_one_unit() -> None:
    rows = cells(table(sheet("BILL"), "bill"))

    assert rows == [
        ("Grey cement", "cement", "74.000", "80.000", "kg"),
        ("Steel bracket", "bracket", "2", "2", "pieces"),
    ]


def test_the_order_list_says_what_to_buy_and_leaves_no_false_count_for_loose_stock() -> None:
    order = sheet("ORDER")
    rows = [tuple(cell for cell in row) for row in cells(table(order, "order"))]

    assert rows[0][1:10] == (
        "Grey cement",
        "80.000",
        "kg",
        "bag of 25 kg",
        "1",
        "3",
        "20.000",
        "18.75 EUR",
        "56.25 EUR",
    )
    assert rows[0][10:] == ("2", "Mon 1 Feb", "Sat 30 Jan")
    assert rows[1][1] == "in all"
    assert rows[1][9] == "56.25 EUR"
    assert points(order, "Not bought") == ("sand, 120.500 kg: the build does not say how it is sold",)
    assert points(order, "Order before the build starts") == ("Grey cement: by Sat 30 Jan 2027",)


def test_the_order_list_says_of_what_is_short_that_all_work_waits_for_the_delivery() -> None:
    line = replace(COSTING.orders[0], have=Fraction(1), buy=3, lead_days=2)
    short = binder_of(SPEC, TAKEOFF, PLAN, replace(COSTING, orders=(line, *COSTING.orders[1:])))
    enough = binder_of(SPEC, TAKEOFF, PLAN, replace(COSTING, orders=(replace(line, buy=0),)))

    (told,) = points(sheet("ORDER", short), "On hand, and short")
    assert told.startswith("Grey cement: what is on hand (1) does not last for the whole build")
    assert told.endswith("planned for after the delivery")
    assert "planned for after the delivery" not in said(sheet("ORDER", enough))


def test_the_order_list_goes_by_the_day_to_order_and_then_by_what_the_reader_sees() -> None:
    cement = replace(COSTING.orders[0], order_by=date(2027, 2, 3))
    soon = replace(cement, name="wax", order_by=date(2027, 2, 2))
    same_day = replace(cement, name="bolt")
    on_hand = replace(cement, name="alum", buy=0)
    costing = replace(COSTING, orders=(on_hand, same_day, cement, soon))

    rows = table(sheet("ORDER", binder_of(SPEC, TAKEOFF, PLAN, costing)), "order").rows

    assert [row.cells[1] for row in rows] == ["wax", "bolt", "Grey cement", "alum", "in all"]


def test_the_bill_goes_by_what_the_reader_sees() -> None:
    cement = replace(SPEC.stocks["cement"], label="Zinc-white cement")
    spec = replace(SPEC, stocks={**SPEC.stocks, "cement": cement})
    bill = sheet("BILL", binder(spec))

    names = [row[0] for row in cells(table(bill, "bill"))]
    steps = [row[0] for row in cells(table(bill, "bill-by-step"))]

    assert names == sorted(names, key=str.casefold)
    assert names[-1] == steps[-1] == "Zinc-white cement"


def test_only_what_is_bought_has_a_box_to_tick_and_a_day_to_order_by() -> None:
    cement = COSTING.orders[0]
    on_hand = replace(cement, name="wax", have=Fraction(5), buy=0, order_by=None)
    costing = replace(COSTING, orders=(cement, on_hand))

    rows = table(sheet("ORDER", binder_of(SPEC, TAKEOFF, PLAN, costing)), "order").rows

    assert [(row.cells[1], row.cells[-1], row.ticked) for row in rows] == [
        ("Grey cement", "Sat 30 Jan", True),
        ("wax", "", False),
        ("in all", "", False),
    ]


def test_work_and_money_stand_in_sums_with_what_is_bought_and_has_no_price() -> None:
    bare = replace(COSTING.orders[0], price=None, cost=None)
    sums = Sums(
        currency="EUR",
        material=Fraction(55),
        waste=Fraction(5),
        labour=Fraction(400),
        stations=Fraction(0),
        contingency=Fraction(0),
    )
    costing = replace(COSTING, orders=(bare, COSTING.orders[1]), unpriced=("cement", "sand"), sums=sums)
    cost = sheet("COST", binder_of(SPEC, TAKEOFF, PLAN, costing))

    assert cells(table(cost, "work"))[-1] == ("in all", "", "10 h 20 min")
    assert cells(table(cost, "money")) == [
        ("material, without waste", "55.00", "EUR"),
        ("waste of material", "5.00", "EUR"),
        ("work of people", "400.00", "EUR"),
        ("in all", "460.00", "EUR"),
    ]
    assert points(cost, "No price told, so not in any sum") == ("Grey cement",)


# ---------------------------------------------------------------- batches


def test_equal_batches_share_one_weigh_out_and_each_has_its_row_of_ticks() -> None:
    batch = sheet("BATCH bench.body")
    ticks = table(batch, "batch-ticks")

    assert cells(table(batch, "weigh-outs")) == [
        ("1", "Grey cement", "20.000", "20.000", "kg", ""),
        ("2", "sand", "30.000", "50.000", "kg", ""),
    ]
    assert [row[:3] for row in cells(ticks)] == [
        ("1: batch-1", "Mon 1 Feb 09:00", "□1  □2"),
        ("1: batch-2", "Mon 1 Feb 09:20", "□1  □2"),
        ("2: batch-1", "Mon 1 Feb 10:00", "□1  □2"),
        ("2: batch-2", "Mon 1 Feb 10:20", "□1  □2"),
    ]
    assert ticks.rows[3].data == (("planned", "2027-02-01T10:20"),)
    assert [c.title for c in ticks.columns if c.blank] == ["mix temp.", "first liquid", "by"]
    assert facts(batch)["batches"] == "2 each copy, 4 in all"


def mixing(minutes: int, carry: int) -> Spec:
    """The build with a mortar that is mixed and carried so long, min."""
    mortar = replace(SPEC.mixes["mortar"], mixing=Fraction(60 * minutes), carry=Fraction(60 * carry))
    return replace(SPEC, mixes={"mortar": mortar})


def test_a_batch_sheet_says_from_when_to_mix_so_that_placing_begins_when_the_plan_says() -> None:
    plain = table(sheet("BATCH bench.body"), "batch-ticks")
    mixed = sheet("BATCH bench.body", binder(mixing(4, 3)))
    ticks = table(mixed, "batch-ticks")

    titles_of_columns = [column.title for column in ticks.columns]
    assert titles_of_columns[1:3] == ["mix from", "place from"]
    assert (plain.rows[0].cells[1], ticks.rows[0].cells[1:3]) == (
        "Mon 1 Feb 09:00",
        ("Mon 1 Feb 08:53", "09:00"),
    )
    assert ticks.rows[0].data == (("mixed", "2027-02-01T08:53"), ("planned", "2027-02-01T09:00"))
    pairs = [pair for block in mixed.blocks if isinstance(block, Facts) for pair in block.pairs]
    assert {("mix for", "4 min"), ("carry", "3 min")} <= set(pairs)
    assert "The time of the step is that of placing. Mixing and carrying take 7 min before it" in said(mixed)
    assert "Mixing and carrying" not in said(sheet("BATCH bench.body"))


def said(of: Sheet) -> str:
    """Every line of prose on a sheet."""
    return " ".join(line for block in of.blocks if isinstance(block, Prose) for line in block.lines)


def test_batches_of_a_step_that_stops_at_closing_begin_in_the_hours_that_are_worked() -> None:
    spells = ((940, 960), (DAY + 480, DAY + 500))
    placed = tuple(
        replace(p, start=940, end=DAY + 500, spells=spells) if p.task == "bench.1.body" else p
        for p in PLAN.placed
    )
    batch = sheet("BATCH bench.body", binder_of(SPEC, TAKEOFF, replace(PLAN, placed=placed), COSTING))

    assert [row[1] for row in cells(table(batch, "batch-ticks"))][:2] == [
        "Mon 1 Feb 15:40",
        "Tue 2 Feb 08:00",
    ]


def test_the_readings_of_a_weigh_out_have_the_same_decimals() -> None:
    first = pour(1)[0]
    fine = replace(first.lines[0], shown=Fraction("0.0203"), running=Fraction("0.0203"))
    coarse = replace(first.lines[1], shown=Fraction("4.27"), running=Fraction("4.2903"))
    key = ("bench", "body")
    parts = (StepPart(suffix="", minutes=40, batches=(replace(first, lines=(fine, coarse)),)),)
    takeoff = replace(TAKEOFF, steps={**TAKEOFF.steps, key: replace(TAKEOFF.steps[key], parts=parts)})

    weighed = table(sheet("BATCH bench.body", binder_of(SPEC, takeoff, PLAN, COSTING)), "weigh-outs")

    assert [row[2:4] for row in cells(weighed)] == [("20.3", "20.3"), ("4270.0", "4290.3")]


def test_us_sheets_tell_concrete_in_cubic_feet_and_liquids_in_gallons() -> None:
    book = binder(units="us")
    liquid = replace(SPEC.mixes["mortar"], ingredients=())
    wet = binder_of(replace(SPEC, mixes={"mortar": liquid}), TAKEOFF, PLAN, COSTING, units="us")

    assert table(sheet("BATCH bench.body", book), "weigh-outs").title.endswith("each: 0.883 ft3, 110 lb")
    assert table(sheet("BATCH bench.body", wet), "weigh-outs").title.endswith("each: 6.6 gal, 110 lb")
    assert cells(table(sheet("WEIGHTS", book), "piece-weights"))[0][2] == "1.27 ft3"


def test_a_different_batch_gets_its_own_weigh_out() -> None:
    first, second = pour(2)
    smaller = replace(second, lines=tuple(replace(line, shown=line.shown / 2) for line in second.lines))
    key = ("bench", "body")
    parts = (StepPart(suffix="", minutes=40, batches=(first, smaller)),)
    takeoff = replace(TAKEOFF, steps={**TAKEOFF.steps, key: replace(TAKEOFF.steps[key], parts=parts)})

    batch = sheet("BATCH bench.body", binder_of(SPEC, takeoff, PLAN, COSTING))
    weighed = [b for b in batch.blocks if isinstance(b, Table) and b.key == "weigh-outs"]

    assert [(t.rows[0].cells[0], t.rows[0].cells[3]) for t in weighed] == [
        ("batch-1", "20.000"),
        ("batch-2", "10.000"),
    ]


def test_the_list_of_batches_counts_every_bucket() -> None:
    rows = cells(table_of("batches", SPEC, TAKEOFF, PLAN, COSTING))

    assert rows[0] == (
        "bench.body",
        "batch-1 to batch-2",
        "1 to 2",
        "4",
        "mortar",
        "1",
        "Grey cement",
        "20.000",
        "20.000",
        "kg",
    )


# ---------------------------------------------------------------- travellers


def test_a_traveller_goes_through_the_work_of_its_copy_in_order_with_the_waits_between() -> None:
    work = items(sheet("PIECE bench.1"))

    assert [(item.when, item.what, item.wait) for item in work] == [
        ("Mon 1 Feb 09:00", "body: fill the body with Bench mortar", False),
        ("Mon 1 Feb 09:40", "cure of bench.1.body: 18 h to 3 days", True),
        ("Tue 2 Feb 08:00", "demold: take out of Bench mold", False),
        ("Tue 2 Feb 09:20", "hone.grit-60: grit 60 on top, dry", False),
        ("Tue 2 Feb 10:20", "hone.grit-120: grit 120 on top, dry", False),
        ("Tue 2 Feb 11:20", "dry after bench.1.hone: 24 h", True),
        ("Wed 3 Feb 11:20", "bench.1 is ready for what comes next", False),
    ]
    assert [item.until for item in work[1:3]] == ["Thu 4 Feb 09:40", "Thu 4 Feb 09:40"]
    assert work[1].lines == ("at least to Tue 2 Feb 03:40; at 20 degC, covered; Keep the sheet on.",)
    assert [item.critical for item in work] == [True, True, True, False, False, False, False]


def test_an_item_says_how_long_by_whom_with_what_and_what_was_done() -> None:
    body = items(sheet("PIECE bench.1"))[0]

    assert body.lines == (
        "40 min, to 09:40; by 2; using Pan mixer",
        "Tap the mold until the bubbles stop.",
        "2 batches: sheet BATCH bench.body; 36 L, 82 kg",
        "done Mon 1 Feb 2027 09:05 to Mon 1 Feb 2027 09:40, Edge a little dry., lot of Grey cement: 4471-B",
    )
    assert body.write == ("began", "ended", "by", "slump")


def test_a_record_is_shown_on_its_own_copy_alone() -> None:
    body = items(sheet("PIECE bench.2"))[0]

    assert not [line for line in body.lines if line.startswith("done")]


def test_a_window_between_wet_layers_says_when_to_start_and_when_it_closes() -> None:
    body = items(sheet("PIECE bench.2"))[0]

    assert body.until == "10:15"
    assert "start 09:30 to 10:15: wet on wet, 30 min to 1 h 15 min" in body.lines


def alone(**more: object) -> Plan:
    """The plan with one task changed: the first body."""
    tasks = tuple(replace(t, **more) if t.name == "bench.1.body" else t for t in TASKS)  # type: ignore[arg-type]
    return replace(PLAN, network=replace(PLAN.network, tasks=tasks))


@pytest.mark.parametrize(
    ("told", "line"),
    [
        ({"earliest": 0}, "start not before Mon 1 Feb: told in the build"),
        ({"earliest": 500}, "start not before Mon 1 Feb 08:20: told in the build"),
        ({"latest": DAY}, "end by the end of Mon 1 Feb: told in the build"),
        ({"latest": DAY + 600}, "end by Tue 2 Feb 10:00: told in the build"),
    ],
)
def test_a_date_of_the_build_is_told_with_its_day(told: dict[str, int], line: str) -> None:
    body = items(sheet("PIECE bench.1", binder_of(SPEC, TAKEOFF, alone(**told), COSTING)))[0]

    assert line in body.lines


def test_a_window_from_a_start_reads_as_it_is_said() -> None:
    within = GapEdge(
        before="bench.1.body", after="hang.seat", least=0, longest=4 * DAY, why=Why.WAIT,
        before_point=Point.START, says="within after bench.1.body.start",
    )  # fmt: skip
    plan = replace(PLAN, network=replace(PLAN.network, gaps=(*gaps(), within)))
    seat = items(sheet("JOB hang", binder_of(SPEC, TAKEOFF, plan, COSTING)))[-1]

    assert "start by Fri 5 Feb 09:00: within 4 days after bench.1.body.start" in seat.lines


def test_what_is_covered_at_once_says_by_when_and_no_more() -> None:
    cover = GapEdge(
        before="bench.1.body",
        after="bench.1.demold",
        least=0,
        longest=2 * DAY,
        why=Why.COVER,
        says="covering",
    )
    plan = replace(PLAN, network=replace(PLAN.network, gaps=(cover,)))
    demold = items(sheet("PIECE bench.1", binder_of(SPEC, TAKEOFF, plan, COSTING)))[1]

    assert demold.until == "Wed 3 Feb 09:40"
    assert not [line for line in demold.lines if "covering" in line or "by Wed" in line]


def test_a_wait_that_stands_above_a_step_is_not_told_again_with_it_on_a_traveller() -> None:
    told = "start by Thu 4 Feb 09:40: cure of bench.1.body, 3 days at most"
    traveller = items(sheet("PIECE bench.1"))[2]
    day = next(item for item in items(sheet("DAY 02")) if item.what.startswith("bench.1.demold"))

    assert traveller.what.startswith("demold")
    assert told not in traveller.lines
    assert told in day.lines


@pytest.mark.parametrize(("lasts", "told"), [(1, "1 casting"), (20, "20 castings")])
def test_a_mold_says_how_many_castings_it_lasts(lasts: int, told: str) -> None:
    spec = replace(SPEC, molds={"form": replace(SPEC.molds["form"], lasts=lasts)})

    assert facts(sheet("MOLD form", binder(spec)))["lasts"] == told


def test_of_waits_told_alike_the_one_that_ends_last_stands_for_all() -> None:
    dry = [
        GapEdge(
            before=f"bench.{copy}.hone.grit-120",
            after="hang.seat",
            least=DAY,
            why=Why.DRY,
            says=f"dry after bench.{copy}.hone",
        )
        for copy in ("1", "2")
    ]
    plan = replace(PLAN, network=replace(PLAN.network, gaps=(*gaps(), *dry)))

    waits = [item for item in items(sheet("JOB hang", binder_of(SPEC, TAKEOFF, plan, COSTING))) if item.wait]

    assert [(item.when, item.what) for item in waits] == [("Tue 2 Feb 13:20", "dry after bench.2.hone: 24 h")]


def test_a_wait_from_start_to_start_is_a_line_of_the_later_layer_and_no_wait_of_its_own() -> None:
    edges = tuple(
        replace(edge, why=Why.WAIT) if edge.before_point is Point.START else edge for edge in gaps()
    )
    plan = replace(PLAN, network=replace(PLAN.network, gaps=edges))

    first = items(sheet("PIECE bench.2", binder_of(SPEC, TAKEOFF, plan, COSTING)))[0]

    assert not first.wait
    assert "start 09:30 to 10:15: wet on wet, 30 min to 1 h 15 min" in first.lines


def test_a_mold_has_its_cut_list_and_what_it_takes_from_the_stores() -> None:
    mold = sheet("MOLD form")

    assert cells(table(mold, "cut-list")) == [("long-side", "2", "1500 mm", "400 mm", "Plywood", "")]
    assert "from the stores: 110 mL wax" in items(mold)[0].lines


# ---------------------------------------------------------------- schedule and days


def test_the_chain_gives_each_link_its_reason_in_words() -> None:
    rows = cells(table(sheet("PLAN"), "critical-chain"))

    assert [row[2] for row in rows] == [
        "start of the build",
        "cure of bench.1.body",
        "people are busy with bench.1.demold",
    ]
    assert rows[1][3] == "18 h"


@pytest.mark.parametrize(
    ("says", "told"),
    [
        ("crew", "people are busy with bench.1.demold"),
        ("finisher", "the finisher is busy with bench.1.demold"),
        ("mixer", "Pan mixer is held by bench.1.demold"),
        ("form, then until the shop is open for it",
         "Bench mold is held by bench.1.demold, then until the shop is open for it"),
        ("hang.seat follows bench.1.demold", "follows bench.1.demold"),
        ("so that bench.2.body keeps its window", "so that bench.2.body keeps its window"),
    ],
)  # fmt: skip
def test_the_chain_names_what_was_not_free(says: str, told: str) -> None:
    link = replace(PLAN.critical[2], says=says)
    plan = replace(PLAN, critical=(*PLAN.critical[:2], link))

    assert (
        cells(table(sheet("PLAN", binder_of(SPEC, TAKEOFF, plan, COSTING)), "critical-chain"))[2][2] == told
    )


def test_the_chain_says_when_a_delivery_was_ordered() -> None:
    link = Link(task="cement.arrives", before=None, why=Why.DATE, gap=0, says="not before its date")
    spec = replace(SPEC, stocks={**SPEC.stocks, "cement": replace(SPEC.stocks["cement"], ordered=MONDAY)})
    book = binder_of(spec, TAKEOFF, replace(PLAN, critical=(link,)), COSTING)

    assert cells(table(sheet("PLAN", book), "critical-chain"))[0][2] == "delivered then, if ordered Mon 1 Feb"


def test_slack_on_the_chain_is_told_and_explained_and_not_drawn() -> None:
    slack = {"bench.1.body": 3 * DAY + 61, "form.wax": 90}
    placed = tuple(replace(p, slack=slack.get(p.task, 0)) for p in PLAN.placed)
    of = sheet("PLAN", binder_of(SPEC, TAKEOFF, replace(PLAN, placed=placed), COSTING))
    chart = next(b for b in of.blocks if isinstance(b, Chart))
    plain = [b for b in sheet("PLAN").blocks if isinstance(b, Prose) and b.title is None]

    rows = table(of, "critical-chain").rows
    assert [row.cells[4] for row in rows] == ["3 days 1 h", "none", "none"]
    assert rows[0].data == (("start", "2027-02-01T09:00"), ("slack", "3 days 1 h 1 min"))
    assert [b for b in of.blocks if isinstance(b, Prose) and b.title is None]
    assert plain == []
    assert [row.label for row in chart.rows if row.slack_to is not None] == ["form.wax"]


def test_programs_get_dates_and_times_in_iso_8601_for_a_column_of_the_table() -> None:
    plan = table_of("plan", SPEC, TAKEOFF, PLAN, COSTING)

    assert plan.rows[0].data == (
        ("start", "2027-02-01T08:00"),
        ("end", "2027-02-01T08:30"),
        ("slack", "1 h 30 min"),
    )
    for of in binder().sheets:
        for block in of.blocks:
            if isinstance(block, Table):
                keys = {column.key for column in block.columns}
                assert {key for row in block.rows for key, _ in row.data} <= keys


def test_the_schedule_says_how_it_was_made_and_what_cannot_be_beaten() -> None:
    told = " ".join(points(sheet("PLAN"), "How the plan was made"))

    assert told.startswith("Tasks by latest start, each as soon as it fits. ")
    assert told.endswith(" No plan can finish before Wed 3 Feb 09:00; this one finishes 24 h after that.")


def test_the_chart_draws_work_and_waits_on_the_open_hours_of_every_day() -> None:
    chart = next(b for b in sheet("PLAN").blocks if isinstance(b, Chart))
    row = next(r for r in chart.rows if r.label == "bench.1.body")

    assert chart.days == ("Mon 1 Feb", "Tue 2 Feb", "Wed 3 Feb", "Thu 4 Feb")
    assert chart.open == tuple((d * DAY + 480, d * DAY + 960) for d in range(4))
    assert [(bar.start, bar.end, bar.kind, bar.critical) for bar in row.bars] == [
        (540, 580, BarKind.WORK, True),
        (580, 580 + 18 * 60, BarKind.WAIT, True),
    ]
    assert next(r for r in chart.rows if r.label == "form.wax").slack_to == 600


def test_the_chart_names_the_hours_as_the_other_sheets_do() -> None:
    metric, us = (
        next(b for b in sheet("PLAN", binder(units=u)).blocks if isinstance(b, Chart))
        for u in ("metric", "us")
    )

    assert (metric.hours[0], metric.hours[13]) == ("0", "13")
    assert (us.hours[0], us.hours[12], us.hours[13]) == ("12 am", "12 pm", "1 pm")


def test_a_long_plan_is_charted_one_row_a_copy() -> None:
    extra = tuple(task(f"form.step-{n}", 1, 1, owner="form", step=f"step-{n}") for n in range(1, 61))
    placed = tuple(
        Placed(task=t.name, start=480, end=481, spells=((480, 481),), latest=480, slack=0) for t in extra
    )
    network = replace(PLAN.network, tasks=(*TASKS, *extra))
    plan = replace(PLAN, network=network, placed=(*PLAN.placed, *placed))

    of = sheet("PLAN", binder_of(SPEC, TAKEOFF, plan, COSTING))
    chart = next(b for b in of.blocks if isinstance(b, Chart))

    assert [row.label for row in chart.rows] == ["form", "bench.1", "bench.2", "hang"]


def test_the_table_of_steps_marks_the_chain_by_word_and_weight() -> None:
    rows = table_of("plan", SPEC, TAKEOFF, PLAN, COSTING).rows
    wax, body = rows[0], rows[1]

    assert wax.cells == (
        "Mon 1 Feb 08:00",
        "08:30",
        "form.wax",
        "30 min",
        "1",
        "",
        "1 h 30 min",
        "",
    )
    assert (body.cells[5:], body.strong, wax.strong) == (("Pan mixer", "none", "critical"), True, False)


def test_a_day_sheet_says_who_is_needed_what_closes_and_what_cures() -> None:
    tuesday = sheet("DAY 02")

    assert facts(tuesday) == {
        "shop open": "08:00 to 16:00",
        "people needed at once": "2, of them at most 1 finisher",
        "work of people": "6 h",
        "away": "1",
    }
    assert items(tuesday)[0].what.startswith("bench.1.demold:")
    assert cells(table(tuesday, "waiting"))[0] == (
        "cure of bench.1.body",
        "18 h to 3 days",
        "at 20 degC, covered; Keep the sheet on.",
        "Mon 1 Feb 09:40",
        "Tue 2 Feb 03:40",
    )


def test_a_window_is_called_to_mind_on_the_day_on_which_it_closes_if_its_step_is_still_to_do() -> None:
    late = tuple(
        replace(p, start=3 * DAY + 490, end=3 * DAY + 520) if p.task == "bench.1.demold" else p
        for p in PLAN.placed
    )
    waits = sheet("DAY 04", binder_of(SPEC, TAKEOFF, replace(PLAN, placed=late), COSTING))
    done = [b.key for b in sheet("DAY 04").blocks if isinstance(b, Table)]

    closing = table(waits, "closing-windows")
    assert cells(closing)[0] == (
        "09:40",
        "start of bench.1.demold",
        "08:10",
        "cure of bench.1.body, 3 days at most",
    )
    assert closing.rows[0].data == (("by", "2027-02-04T09:40"), ("planned", "2027-02-04T08:10"))
    assert "closing-windows" not in done


def test_a_window_that_closes_in_the_night_closes_at_the_last_time_at_which_its_step_can_begin() -> None:
    edges = (
        replace(gaps()[0], before="form.wax", after="form.fix", longest=16 * 60, before_point=Point.END),
    )
    tasks = (task("form.wax", 30, 1), task("form.fix", 30, 1))
    placed = tuple(
        Placed(task=name, start=start, end=start + 30, spells=((start, start + 30),), latest=start, slack=0)
        for name, start in (("form.wax", 480), ("form.fix", 900))
    )
    network = replace(PLAN.network, tasks=tasks, gaps=edges, holds=())
    plan = replace(PLAN, network=network, placed=placed, critical=())
    monday = sheet("DAY 01", binder_of(SPEC, TAKEOFF, plan, COSTING))

    assert [row[:3] for row in cells(table(monday, "closing-windows"))] == [
        ("15:30", "start of form.fix", "15:00")
    ]


def test_a_window_whose_step_is_recorded_as_done_is_not_called_to_mind() -> None:
    mist = sheet("DAY 01")
    done = Done(
        step=StepRef(owner="bench", copies=Copies(), step="body"),
        start=datetime(2027, 2, 1, 9, 0),
        end=datetime(2027, 2, 1, 9, 40),
    )
    recorded = sheet("DAY 01", binder(replace(SPEC, done=(*SPEC.done, done))))

    told = {row[1] for row in cells(table(mist, "closing-windows"))}
    left = {
        row[1]
        for b in recorded.blocks
        if isinstance(b, Table) and b.key == "closing-windows"
        for row in cells(b)
    }
    assert any(".body" in what for what in told)
    assert not any(".body" in what for what in left)


def test_people_needed_at_once_are_those_of_one_moment() -> None:
    tasks = (task("form.wax", 60, 1), task("form.fix", 60, 2))
    tasks = (replace(tasks[0], crew=(("caster", 1), ("helper", 1))), replace(tasks[1], crew=((None, 2),)))
    placed = tuple(
        Placed(task=name, start=start, end=start + 60, spells=((start, start + 60),), latest=start, slack=0)
        for name, start in (("form.wax", 480), ("form.fix", 540))
    )
    network = replace(PLAN.network, tasks=tasks, gaps=(), holds=())
    plan = replace(PLAN, network=network, placed=placed, critical=())
    monday = sheet("DAY 01", binder_of(SPEC, TAKEOFF, plan, COSTING))

    assert facts(monday)["people needed at once"] == "2: 1 caster, 1 helper"


def test_a_day_sheet_bears_what_the_build_says_to_whoever_works_and_boxes_to_write_in() -> None:
    monday = sheet("DAY 01")
    body = next(item for item in items(monday) if item.what.startswith("bench.1.body"))
    step = next(s for s in SPEC.pieces["bench"].sequence if isinstance(s, Step) and s.name == "body")

    assert step.instruction in body.lines
    assert set(step.notes) <= set(body.lines)
    assert step.writes == body.write[: len(step.writes)]
    assert step.writes


def test_a_window_that_ends_on_a_closed_day_ends_at_the_last_open_time_before_it() -> None:
    hours = replace(PLAN.network.hours, closed=frozenset({3}))
    plan = replace(PLAN, network=replace(PLAN.network, hours=hours))
    open_day, closed_day = (
        next(item for item in items(sheet("PIECE bench.1", book)) if item.what.startswith("demold"))
        for book in (binder(), binder_of(SPEC, TAKEOFF, plan, COSTING))
    )

    assert open_day.until == "Thu 4 Feb 09:40"
    assert closed_day.until == "Wed 3 Feb 15:30"


def test_notes_on_stations_and_fittings_stand_on_the_sheets_of_the_work_that_uses_them() -> None:
    mixer = replace(SPEC.stations["mixer"], notes=("Wash it out.",))
    bracket = replace(SPEC.fittings["bracket"], notes=("Bolts are in the bag.",))
    noted = replace(SPEC, stations={"mixer": mixer}, fittings={"bracket": bracket})
    told = {
        sheet.code: " ".join(said(sheet).split())
        for sheet in binder(noted).sheets
        if "Wash it out." in said(sheet) or "Bolts are in the bag." in said(sheet)
    }

    wash, bolts = "Pan mixer: Wash it out.", "Steel bracket: Bolts are in the bag."
    assert wash in told["BATCH bench.body"]
    assert wash in told["PIECE bench.1"]
    assert "PIECE bench.2" not in told
    assert wash in told["DAY 01"]
    assert bolts in told["JOB hang"]
    assert bolts in told["BILL"]
    assert [code for code, text in told.items() if bolts in text and code.startswith("DAY")] != []


def test_a_day_without_work_still_has_its_sheet_with_what_dries() -> None:
    wednesday = sheet("DAY 03")

    assert not [b for b in wednesday.blocks if isinstance(b, Items)]
    assert [row[0] for row in cells(table(wednesday, "waiting"))] == [
        "dry after bench.1.hone",
        "dry after bench.2.hone",
    ]


def test_a_day_sheet_says_what_to_order_and_what_comes() -> None:
    sand = replace(COSTING.orders[0], name="sand", order_by=date(2027, 2, 2))
    book = binder_of(SPEC, TAKEOFF, PLAN, replace(COSTING, orders=(COSTING.orders[0], sand)))

    assert points(sheet("DAY 01", book), "Order today") == (
        "Grey cement: should have been ordered by Sat 30 Jan",
    )
    assert points(sheet("DAY 02", book), "Order today") == ("sand: last day to order",)
    assert points(sheet("DAY 03", book), "Expected today") == ("Grey cement: if ordered Mon 1 Feb",)
    assert not [s.code for s in book.sheets if s.code.endswith(" cement")]


def later(days: int) -> Plan:
    """The plan with everything so many days later; the build starts on the same Monday."""
    placed = tuple(
        replace(
            p,
            start=p.start + days * DAY,
            end=p.end + days * DAY,
            spells=tuple((a + days * DAY, b + days * DAY) for a, b in p.spells),
        )
        for p in PLAN.placed
    )
    return replace(PLAN, placed=placed, finish=PLAN.finish + days * DAY)


def test_days_without_work_share_a_sheet_and_the_first_day_of_the_build_has_one_to_order_from() -> None:
    cement = replace(COSTING.orders[0], order_by=date(2027, 2, 1))
    sand = replace(cement, name="sand", order_by=date(2027, 2, 6))  # a Saturday
    costing = replace(COSTING, orders=(cement, sand))
    book = binder_of(SPEC, TAKEOFF, later(7), costing)
    first = sheet("DAY 01", book)

    assert [s.code for s in book.sheets if s.code.startswith("DAY")][:2] == [
        "DAY 01",
        "DAY 06",
    ]
    assert (first.title, first.subtitle) == (
        "Mon 1 Feb to Fri 5 Feb 2027",
        "calendar days 1 to 5 of the build, without work",
    )
    assert points(first, "Order in these days") == (
        "Grey cement: last day to order is Mon 1 Feb",
        "sand: last day to order is Sat 6 Feb",
    )
    assert [b.lines for b in first.blocks if isinstance(b, Prose) and b.title is None] == [
        ("Nothing to do in the shop.",)
    ]


def test_days_of_which_there_is_nothing_to_say_have_no_sheet_and_the_one_before_says_so() -> None:
    moved = {"hang.seat": 7 * DAY + 480, "cement.arrives": 0}
    placed = tuple(
        replace(p, start=moved[p.task], end=moved[p.task], spells=()) if p.task in moved else p
        for p in PLAN.placed
    )
    plan = replace(PLAN, placed=placed, network=replace(PLAN.network, gaps=()))
    book = binder_of(SPEC, TAKEOFF, plan, replace(COSTING, orders=()))
    days = [s for s in book.sheets if s.code.startswith("DAY")]

    assert [s.code for s in days[-2:]] == ["DAY 02", "DAY 06"]
    assert days[-2].blocks[-1] == Prose(
        lines=("Then there is nothing to do in the shop: Wed 3 Feb to Fri 5 Feb 2027.",)
    )


def test_what_comes_on_a_closed_day_stands_on_the_next_sheet() -> None:
    placed = tuple(
        replace(p, start=5 * DAY, end=5 * DAY) if p.task == "cement.arrives" else p for p in later(7).placed
    )
    monday = sheet("DAY 06", binder_of(SPEC, TAKEOFF, replace(later(7), placed=placed), COSTING))

    assert points(monday, "Expected today") == ("Grey cement, Sat 6 Feb: if ordered Mon 1 Feb",)


def test_work_that_runs_over_night_goes_on_the_next_day() -> None:
    placed = tuple(
        replace(p, end=DAY + 490, spells=((950, 960), (DAY + 480, DAY + 490)), start=950)
        if p.task == "form.wax"
        else p
        for p in PLAN.placed
    )
    tuesday = sheet("DAY 02", binder_of(SPEC, TAKEOFF, replace(PLAN, placed=placed), COSTING))
    wax = next(item for item in items(tuesday) if "wax" in item.what)

    assert (wax.when, wax.what) == ("08:00", "form.wax, goes on")
    assert wax.lines == (
        "begun Mon 1 Feb 15:50",
        "30 min, to Tue 2 Feb 08:10; by 1; traveller: MOLD form",
        "Thin coat.",
    )


# ---------------------------------------------------------------- weights


def test_lifts_are_set_against_the_builds_limit_or_the_published_ceiling() -> None:
    metric = cells(table(sheet("WEIGHTS"), "lifts"))
    us = cells(table(sheet("WEIGHTS", binder(units="us")), "lifts"))

    # load constant, DHHS (NIOSH) 94-110, 1994: 23 kg or 51 lb
    assert metric[0][4:] == ("41 kg", "23 kg, reference", "over by 18 kg: hoist or more people")
    assert metric[1][4:] == ("40 kg", "45 kg", "within")
    assert us[0][4:6] == ("90.4 lb", "51 lb, reference")


def test_a_fitting_that_bears_too_much_is_told_with_the_excess() -> None:
    rows = cells(table(sheet("WEIGHTS"), "bearings"))

    assert rows == [("hang.seat", "Steel bracket", "160 kg", "150 kg", "over by 10 kg")]


def test_figures_of_count_have_no_decimals() -> None:
    assert figure(Fraction(2), Dimension.COUNT, "metric") == "2"
