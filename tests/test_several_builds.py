"""One order for several builds."""

from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path

from test_costing import CEMENT, LAMP, PLAN, PLY, spec, takeoff

from castlang.cli.main import main
from castlang.costing.several import Planned, joint_order
from castlang.takeoff.model import BoardPanel
from castlang.takeoff.nesting import SheetStock, nest_of

SHEET = SheetStock(name="ply", long=Fraction(2), wide=Fraction(1))


LATE = replace(PLAN, network=replace(PLAN.network, hours=replace(PLAN.network.hours, start=date(2027, 4, 5))))


def planned(name, cement=60, stocks=(CEMENT, PLY), **build):
    told = spec(stocks=stocks, **{"name": name, **build})
    return Planned(spec=told, takeoff=takeoff(cement), plan=PLAN)


def order(*builds):
    return {o.name: o for o in joint_order(builds).value.orders}


def test_needs_are_added_up_before_they_are_rounded_and_stock_on_hand_serves_them_once():
    # 60 kg each: alone 10 kg short of the two bags on hand, one bag each; together 70 kg short, three bags.
    found = order(planned("a"), planned("b"))["cement"]

    assert (found.need, found.buy, found.left) == (120, 3, 5)


def test_a_small_rest_of_two_builds_shares_a_bag():
    found = order(planned("a", cement=52), planned("b", cement=8))["cement"]

    assert (found.buy, found.left) == (1, 15)


def test_the_first_use_in_any_build_sets_the_order_date_and_the_last_in_any_the_shelf_life():
    builds = (planned("a"), replace(planned("b"), plan=LATE))
    found = order(*builds)["cement"]

    assert (found.first_use, found.last_use) == (date(2027, 2, 3), date(2027, 4, 8))
    assert found.order_by == date(2027, 1, 27)


def test_what_does_not_keep_until_the_last_build_is_told():
    stocks = (replace(CEMENT, keeps=Fraction(30 * 86400)), PLY)
    builds = (planned("a", stocks=stocks), replace(planned("b", stocks=stocks), plan=LATE))

    assert [p.finding.name for p in joint_order(builds[:1]).problems] == []
    assert [p.finding.name for p in joint_order(builds).problems] == ["kept-too-long"]


def test_a_stock_told_differently_by_two_builds_is_refused():
    other = planned("b", stocks=(replace(CEMENT, have=Fraction(3)), PLY))
    outcome = joint_order((planned("a"), other))

    assert outcome.value is None
    assert [p.message for p in outcome.problems] == ["stock cement is told differently by two of the builds"]


def test_fittings_of_all_builds_are_bought_together():
    assert order(planned("a"), planned("b"))["lamp"].buy == 4
    assert order(planned("a"))["lamp"].cost == replace(LAMP.price, amount=Fraction(60))


def test_panels_of_two_builds_share_a_sheet():
    panel = BoardPanel(mold="form", name="side", stock="ply", long=Fraction(1), wide=Fraction(1, 2), count=2)
    builds = []
    for name in ("a", "b"):
        build = planned(name)
        bill = tuple(
            replace(line, net=Fraction(1), gross=Fraction(2), of=(("form.panels", Fraction(2)),))
            if line.stock == "ply"
            else line
            for line in build.takeoff.bill
        )
        nests = (nest_of(SHEET, [panel]),)
        bare = replace(build.spec, stocks={**build.spec.stocks, "ply": replace(PLY, kerf=Fraction(0))})
        builds.append(
            replace(build, spec=bare, takeoff=replace(build.takeoff, bill=bill, panels=(panel,), nests=nests))
        )

    assert order(builds[0])["ply"].buy == 1
    assert order(*builds)["ply"].buy == 1


EXAMPLES = Path(__file__).parent.parent / "examples"


def test_the_command_prints_one_list_for_all_the_builds_that_it_names(capsys):
    status = main(
        ["order", str(EXAMPLES / "stair" / "stair.pour"), str(EXAMPLES / "stools" / "stools.pour"), "--csv"]
    )
    printed, told = capsys.readouterr()
    rows = [line.split(",") for line in printed.splitlines()]

    assert status == 1  # the cement of the stair would be too old for the stools, and that is told
    assert "kept-too-long" in told
    assert sum(1 for row in rows if row[1] == "Grey portland cement") == 1


def test_one_build_that_cannot_be_built_stops_the_list(capsys, tmp_path):
    bad = tmp_path / "bad.pour"
    bad.write_text("build bad\n", encoding="utf-8")
    status = main(["order", str(EXAMPLES / "stools" / "stools.pour"), str(bad)])

    assert (status, capsys.readouterr().out) == (1, "")
