"""Tracing: figures of the sheets, each followed down from the lines of its build."""

import csv
import io
import re
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from castlang.cli.main import main
from castlang.out.csv_files import csv_files
from castlang.pipeline import Compiled, compile_build
from castlang.sheets import amounts
from castlang.sheets.from_plan import binder_of
from castlang.sheets.traced import rounded, trace_lines
from castlang.source.files import Disk
from castlang.spec.quantity import Dimension
from castlang.trace.figures import figure_of, ground_of, names_of, near_names, trace_of
from castlang.trace.ground import Ground

EXAMPLES = Path(__file__).parent.parent / "examples"
BUILDS = ("desk", "stools", "fountain", "stair")


@cache
def built(name: str) -> tuple[Compiled, Ground]:
    path = EXAMPLES / name / f"{name}.pour"
    build = compile_build(str(path), path.read_bytes(), Disk(main=path))
    assert build.costing is not None, [problem.message for problem in build.problems]
    return build, ground_of(build.spec, build.takeoff, build.plan, build.costing, build.texts)  # type: ignore[arg-type]


@cache
def sheets(name: str, units: str | None = None) -> dict[str, list[dict[str, str]]]:
    """Every CSV file of a build's binder, as rows by column."""
    build, ground = built(name)
    made = binder_of(ground.spec, ground.takeoff, ground.plan, ground.costing, build.problems, units=units)
    return {file: list(csv.DictReader(io.StringIO(text))) for file, text in csv_files(made).items()}


def value(name: str, figure: str) -> Fraction:
    found = figure_of(built(name)[1], figure)
    assert found is not None, figure
    return found.number


def row(name: str, file: str, trace: str, units: str | None = None) -> dict[str, str]:
    return next(r for r in sheets(name, units)[file] if r.get("trace") == trace)


# ---------------------------------------------------------------- every figure


@pytest.mark.parametrize("name", BUILDS)
def test_every_name_that_can_be_asked_for_has_a_figure_with_a_reason(name: str) -> None:
    _, ground = built(name)
    names = names_of(ground)
    bare = []
    for one in names:
        figure = figure_of(ground, one)
        if figure is None or not (figure.told or figure.formula or figure.source):
            bare.append(one)

    assert len(names) > 500
    assert bare == []


@pytest.mark.parametrize("name", BUILDS)
def test_every_name_that_a_sheet_prints_can_be_asked_for(name: str) -> None:
    _, ground = built(name)
    printed = {r["trace"] for rows in sheets(name).values() for r in rows if r.get("trace")}
    missing = sorted(trace for trace in printed if figure_of(ground, trace) is None)

    assert missing == []
    assert len(printed) > 100


TRACED = {
    "bill.csv", "bill-by-step.csv", "order.csv", "work.csv", "money.csv", "cost-by-piece.csv", "pieces.csv",
    "piece-weights.csv", "lifts.csv", "bearings.csv", "plan.csv", "critical-chain.csv", "weigh-outs.csv",
    "cut-list.csv", "cuts.csv", "indications.csv", "shipments.csv", "quote.csv", "prices.csv",
}  # fmt: skip


@pytest.mark.parametrize("name", BUILDS)
def test_every_row_of_figures_carries_the_name_to_ask_for(name: str) -> None:
    found = sheets(name)
    without = {
        file: [r for r in rows if not r.get("trace")] for file, rows in found.items() if file in TRACED
    }
    # A second size of one stock stands on a row of its own; its figures are the first row's.
    without["order.csv"] = [r for r in without["order.csv"] if r["need"]]

    assert {file: rows for file, rows in without.items() if rows} == {}


CHIEF = {
    "bill.csv": "with_waste", "bill-by-step.csv": "with_waste", "order.csv": "buy", "money.csv": "amount",
    "cost-by-piece.csv": "in_all", "quote.csv": "amount", "prices.csv": "price", "pieces.csv": "weight",
    "piece-weights.csv": "dry", "lifts.csv": "each", "bearings.csv": "load", "weigh-outs.csv": "weigh",
    "work.csv": "work", "plan.csv": "start", "critical-chain.csv": "start", "indications.csv": "bears",
}  # fmt: skip
"""The column that a row's trace explains."""

SI = {
    "kg": Fraction(1), "g": Fraction("0.001"), "t": Fraction(1000), "lb": Fraction("0.45359237"),
    "oz": Fraction("0.028349523125"), "L": Fraction("0.001"), "mL": Fraction("0.000001"),
    "gal": Fraction("0.003785411784"), "qt": Fraction("0.000946352946"),
    "fl-oz": Fraction("0.0000295735295625"),
    "m2": Fraction(1), "ft2": Fraction("0.09290304"), "m": Fraction(1), "ft": Fraction("0.3048"),
    "days": Fraction(86400), "h": Fraction(3600), "min": Fraction(60), "kPa": Fraction(1000),
    "MPa": Fraction(10**6),
    "psi": Fraction("6894.757293168"), "lb/ft2": Fraction("47.880258980336"),
    "pieces": Fraction(1), "": Fraction(1),
}  # fmt: skip
"""NIST Special Publication 811 (2008), appendix B.8: the units in SI."""


def amounts_in(text: str) -> list[tuple[str, str]]:
    """(figure, unit) of `41.5 kg`, `33 lb 3.4 oz`, `1 day 2 h`."""
    return re.findall(r"(-?[0-9]+(?:\.[0-9]+)?) ?([A-Za-z][A-Za-z0-9/-]*)?", text)


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("name", BUILDS)
def test_every_traced_figure_is_the_one_that_its_row_prints(name: str, units: str) -> None:
    _, ground = built(name)
    wrong, held = [], 0
    for file, rows in sheets(name, units).items():
        for r in rows if file in CHIEF else ():
            figure = figure_of(ground, r.get("trace") or "")
            printed = r[CHIEF[file]]
            if file == "order.csv" and r["trace"].startswith("buy."):
                # Packages of all sizes; each size stands on a row of its own.
                printed = str(sum(int(o["buy"] or 0) for o in rows if o["material"] == r["material"]))
            if figure is None or not printed:
                continue
            held += 1
            if figure.value is None:
                if figure.text.split()[1:] != printed.split("T"):
                    wrong.append((file, r["trace"], printed, figure.text))
                continue
            unit = "" if file == "order.csv" else r.get("unit") or ""
            found = amounts_in(f"{printed} {unit}".replace(" day ", " days "))
            value = sum((Fraction(number) * SI[unit] for number, unit in found), Fraction(0))
            last, unit = found[-1]
            step = SI[unit] / 10 ** len(last.partition(".")[2])
            if abs(value - figure.value) > step:
                wrong.append((file, r["trace"], printed, float(figure.value)))

    assert wrong == []
    assert held > 100


@pytest.mark.parametrize("name", BUILDS)
def test_sums_are_the_sums_of_their_inputs(name: str) -> None:
    _, ground = built(name)
    wrong = []
    for one in names_of(ground):
        figure = figure_of(ground, one)
        if figure is None or figure.value is None or not figure.formula.startswith("sum of "):
            continue
        if (
            len({i.symbol for i in figure.inputs}) == 1
            and figure.formula == f"sum of {figure.inputs[0].symbol}"
        ):
            total = sum(i.figure.number for i in figure.inputs)
            if total != figure.value:
                wrong.append(one)

    assert wrong == []


@pytest.mark.parametrize("name", BUILDS)
def test_products_and_quotients_come_out_as_printed(name: str) -> None:
    """Formulas of few symbols, worked out anew from the inputs' values."""
    known = {
        "V c": lambda v: v["V"] * v["c"],
        "V rho": lambda v: v["V"] * v["rho"],
        "m / V": lambda v: v["m"] / v["V"],
        "V / n": lambda v: v["V"] / v["n"],
        "v (1 + w)": lambda v: v["v"] * (1 + v["w"]),
        "V c (1 + w)": lambda v: v["V"] * v["c"] * (1 + v["w"]),
        "A e + k": lambda v: v["A"] * v["e"] + v["k"],
        "A e": lambda v: v["A"] * v["e"],
        "A a": lambda v: v["A"] * v["a"],
        "n A / c": lambda v: v["n"] * v["A"] / v["c"],
        "n x 1 kg": lambda v: v["n"],
        "n x 1 kg (1 + d)": lambda v: v["n"] * (1 + v["d"]),
        "s B": lambda v: v["s"] * v["B"],
        "s B / q": lambda v: v["s"] * v["B"] / v["q"],
        "m / n": lambda v: v["m"] / v["n"],
        "m n": lambda v: v["m"] * v["n"],
        "x n": lambda v: v["x"] * v["n"],
        "x n rho": lambda v: v["x"] * v["n"] * v["rho"],
        "n p": lambda v: v["n"] * v["p"],
        "l w": lambda v: v["l"] * v["w"],
        "c + o + m": lambda v: v["c"] + v["o"] + v["m"],
        "T p n": lambda v: v["T"] * v["p"] * v["n"],
        "n L W A / S": lambda v: v["n"] * v["L"] * v["W"] * v["A"] / v["S"],
        "rho g h": lambda v: v["rho"] * v["g"] * v["h"],
        "A n (1 + l / 1 m) (1 + w)": lambda v: v["A"] * v["n"] * (1 + v["l"]) * (1 + v["w"]),
    }
    _, ground = built(name)
    tried, wrong = set(), []
    for one in names_of(ground):
        for figure in trace_of(figure_of(ground, one)):
            symbols = [i.symbol for i in figure.inputs]
            if figure.value is None or figure.formula not in known or len(set(symbols)) < len(symbols):
                continue
            tried.add(figure.formula)
            if known[figure.formula]({i.symbol: i.figure.number for i in figure.inputs}) != figure.value:
                wrong.append(figure.name)

    assert wrong == []
    assert len(tried) > 8


# ---------------------------------------------------------------- ten figures, against their sheets


def test_a_batch_line_is_what_the_batch_sheet_says() -> None:
    shown = row("desk", "weigh-outs.csv", "shell.back-1.batch-1.white-cement")

    assert Fraction(shown["weigh"]) == value("desk", "shell.back-1.batch-1.white-cement")
    assert Fraction(shown["running_total"]) == value("desk", "shell.back-1.batch-1.white-cement.so-far")


def test_a_count_of_bags_is_what_the_order_list_says() -> None:
    shown = row("stools", "order.csv", "buy.grey-cement")

    assert Fraction(shown["buy"]) == value("stools", "buy.grey-cement")
    assert shown["left"] == amounts.figure(value("stools", "left.grey-cement"), Dimension.MASS, "metric")
    assert shown["cost"] == f"{amounts.fixed(value('stools', 'pay.grey-cement'), 2)} EUR"


def test_a_weight_is_what_the_sheet_of_weights_says() -> None:
    shown = row("stair", "piece-weights.csv", "weight.tread")

    assert shown["dry"] == amounts.mass(value("stair", "weight.tread"), "metric")
    assert shown["wet"] == amounts.mass(value("stair", "weight.tread.wet"), "metric")
    assert shown["dried"] == amounts.mass(value("stair", "weight.tread.dried"), "metric")


def test_an_area_is_worked_out_by_hand() -> None:
    # 2400 x 1080 less a slot of 45 x 1044; 1500 x 1080; a lip of 90 round the corner: 90 (2400 + 1500 - 90).
    front = Fraction("2.4") * Fraction("1.08") - Fraction("0.045") * Fraction("1.044")
    side, lip = Fraction("1.5") * Fraction("1.08"), Fraction("0.09") * Fraction("3.81")

    assert value("desk", "area.shell.show") == front + side + lip


def test_a_duration_is_what_the_plan_says() -> None:
    assert row("desk", "plan.csv", "start.shell.fill")["work"] == "1 h 31 min"
    assert value("desk", "minutes.shell.fill") == 91 * 60


def test_a_cost_is_what_the_sheet_of_money_says() -> None:
    for word in ("material", "waste", "labour", "contingency", "all"):
        shown = row("desk", "money.csv", f"cost.{word}")

        assert shown["amount"] == amounts.fixed(value("desk", f"cost.{word}"), 2)


def test_a_price_is_what_the_quote_says() -> None:
    assert row("desk", "quote.csv", "quote.price")["amount"] == amounts.fixed(value("desk", "quote.price"), 2)
    assert row("desk", "prices.csv", "quote.piece.shell")["price"] == amounts.fixed(
        value("desk", "quote.piece.shell"), 2
    )


def test_a_lift_on_a_gantry_is_what_the_sheet_says_in_pounds_and_nobody_carries() -> None:
    lift = next(r for r in sheets("fountain")["lifts.csv"] if r["step"] == "trough.demold")

    assert (lift["each"], lift["limit"]) == ("", "")
    assert lift["weight"] == amounts.mass(value("fountain", "lift.trough.demold"), "us")
    assert lift["weight"] == amounts.mass(value("fountain", "lift.trough.demold.mass"), "us")


def test_a_load_counts_the_piece_and_the_water_in_it() -> None:
    name = "load.hang.seat.bracket"
    figure = figure_of(built("fountain")[1], name)
    assert figure is not None

    assert [i.figure.name for i in figure.inputs] == ["weight.trough", "mass.hang.fill"]
    assert row("fountain", "bearings.csv", name)["load"] == amounts.mass(value("fountain", name), "us")


def test_the_sheets_of_board_are_those_of_the_cut_list() -> None:
    cuts = [r for r in sheets("desk")["cuts.csv"] if r["sheet"] == "CUT ply-18"]

    assert value("desk", "sheets.ply-18") == len({r["sheet_number"] for r in cuts})


# ---------------------------------------------------------------- as text


def test_a_trace_begins_with_the_lines_of_the_build_and_ends_with_the_figure() -> None:
    _, ground = built("desk")
    figure = figure_of(ground, "shell.back-1.batch-1.polymer")
    assert figure is not None
    lines = trace_lines(trace_of(figure), "metric")
    heads = [line.partition(" = ")[0] for line in lines if line and not line.startswith(" ")]

    assert heads[-1] == "shell.back-1.batch-1.polymer"
    assert heads.index("dose.backer.polymer") < heads.index("mix.backer.polymer")
    assert any("stores.pour" in line and "liquid polymer 6 % of binder as solids" in line for line in lines)
    assert any("solids 47 %" in line for line in lines)


def test_a_size_by_name_is_followed_to_its_own_line() -> None:
    _, ground = built("desk")
    figure = figure_of(ground, "area.shell.side")
    assert figure is not None

    assert "size tall 2 * mid; size mid 540 mm" in "\n".join(trace_lines(trace_of(figure), "metric"))


def test_a_value_of_the_base_mix_is_followed_to_the_base() -> None:
    _, ground = built("desk")
    figure = figure_of(ground, "batches.shell.back-1")
    assert figure is not None
    works = next(i.figure for i in figure.inputs if i.symbol == "t")

    assert works.text == "works 40 min at 20 degC"


def test_a_us_build_is_traced_in_feet_and_pounds() -> None:
    _, ground = built("fountain")
    figure = figure_of(ground, "area.trough.foot")
    assert figure is not None
    lines = trace_lines(trace_of(figure), "us")

    assert any(line.startswith("      long  4.54167 ft ") for line in lines)
    # 4'-6 1/2" x 16" less a drain of 1-1/4": 6.05556 - pi/4 0.104167^2 = 6.04703 ft2.
    assert lines[0] == "area.trough.foot = 6.04703 ft2"
    assert lines[-1] == "on the sheet: 6.05 ft2"


def test_a_moment_is_followed_back_a_few_links_and_the_last_says_how_to_go_on() -> None:
    _, ground = built("desk")
    lines = trace_lines(trace_of(figure_of(ground, "start.shell.demold")), "metric")  # type: ignore[arg-type]
    starts = [line.split(" = ")[0] for line in lines if line.startswith("start.")]
    (last,) = [line for line in lines if "links more" in line]
    left = re.search(r"(start\.\S+) +(\d+) links more: trace (\S+)$", last)

    assert starts == [
        "start.shell.back-1",
        "start.shell.net",
        "start.shell.back-2",
        "start.shell.back-2.uncover",
        "start.shell.take-braces",
        "start.shell.demold",
    ]
    assert left is not None
    assert left.group(1) == left.group(3) == "start.shell.skin"
    rest = trace_lines(trace_of(figure_of(ground, left.group(1))), "metric")  # type: ignore[arg-type]
    assert len([line for line in rest if line.startswith("start.")]) == int(left.group(2))


def test_what_a_fresh_face_loses_is_worked_out_by_hand() -> None:
    text = "\n".join(trace_lines(trace_of(figure_of(built("desk")[1], "drying.shell.mist")), "metric"))  # type: ignore[arg-type]

    # Uno 1998, at 20 degC, 55 % and no wind: 5 (38^2.5 - 0.55 38^2.5) 4 1e-6 = 9e-6 x 8901.3 = 0.0801
    assert text.startswith("drying.shell.mist = 0.08 kg/(m2 h)\n")
    assert "limit 0.50 kg/(m2 h), half of the usual one" in text
    assert re.search(r"Tc +20 degC .*\n +r +0.55 .*\n +Ta +20 degC .*\n +V +0 km/h", text)


def test_depth_stops_short() -> None:
    _, ground = built("desk")
    figure = figure_of(ground, "cost.all")
    assert figure is not None

    assert len(trace_of(figure, 1)) == 1
    assert 1 < len(trace_of(figure, 2)) < len(trace_of(figure))


def test_a_copy_in_a_name_means_what_all_copies_share() -> None:
    _, ground = built("stools")

    assert figure_of(ground, "stool.3.body.batch-1.grey-cement") == figure_of(
        ground, "stool.body.batch-1.grey-cement"
    ) or figure_of(ground, "stool.3.body.batch-1.grey-cement").value == value(  # type: ignore[union-attr]
        "stools", "stool.body.batch-1.grey-cement"
    )


def test_a_name_that_is_not_there_brings_the_near_ones() -> None:
    _, ground = built("desk")

    assert "buy.white-cement" in near_names(ground, "buy.white-cemnt")
    assert near_names(ground, "white-cement")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("1/3", "0.333333"), ("1234567", "1234567"), ("12.3456789", "12.3457"), ("0", "0"),
        ("0.00001234567", "0.0000123457"), ("-2.5", "-2.5"),
    ],
)  # fmt: skip
def test_values_are_printed_to_six_figures(text: str, shown: str) -> None:
    assert rounded(Fraction(text)) == shown


# ---------------------------------------------------------------- the command

DESK = str(EXAMPLES / "desk" / "desk.pour")


def test_the_command_prints_the_arithmetic(capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["trace", DESK, "quote.goods", "--depth", "1"])
    printed = capsys.readouterr().out

    assert status == 0
    assert printed.splitlines()[:3] == [
        f"quote.goods = {amounts.fixed(value('desk', 'quote.goods'), 2)} EUR",
        "    the price without freight",
        "    = c + o + m",
    ]


def test_the_command_lists_all_names_when_it_is_given_none(capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["trace", DESK])

    assert status == 0
    assert "shell.back-1.batch-1.white-cement" in capsys.readouterr().out.splitlines()


def test_an_unknown_name_is_trouble_and_the_near_ones_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["trace", DESK, "buy.white-cemnt"])

    assert status == 2
    assert "did you mean buy.white-cement" in capsys.readouterr().err
