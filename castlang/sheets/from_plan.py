"""The binder of a planned build: every sheet in the order in which the crew turns them."""

from collections.abc import Mapping

from castlang.costing.model import Costing
from castlang.plan.model import Plan
from castlang.problems.model import Problem
from castlang.sheets.amounts import US
from castlang.sheets.basis import basis_of
from castlang.sheets.batch_sheets import batch_sheets, batches_table
from castlang.sheets.bill import bill_sheet
from castlang.sheets.calendar import Calendar, calendar_of, joint_calendar
from castlang.sheets.cost import cost_sheet
from castlang.sheets.cover import cover_sheet
from castlang.sheets.cut_list import cut_sheets
from castlang.sheets.day_sheets import day_sheets
from castlang.sheets.model import Binder, Table
from castlang.sheets.order_list import order_sheet, order_table
from castlang.sheets.quote import quote_sheets
from castlang.sheets.schedule import plan_table, schedule_sheets
from castlang.sheets.travellers import travellers
from castlang.sheets.weights import weights_sheet, weights_table
from castlang.spec.model import Spec
from castlang.takeoff.model import Takeoff

TABLES = {
    "order": order_table,
    "batches": batches_table,
    "plan": plan_table,
    "weights": weights_table,
}


def binder_of(
    spec: Spec,
    takeoff: Takeoff,
    plan: Plan,
    costing: Costing,
    problems: tuple[Problem, ...] = (),
    *,
    revision: str | None = None,
    paper: str | None = None,
    units: str | None = None,
) -> Binder:
    """All sheets. revision, paper ("a4", "letter") and units ("metric", "us") win over what the build says;
    paper left out is letter for US units, else a4. `problems` are those that remain after waiving."""
    shown = units or spec.build.units
    basis = basis_of(spec, takeoff, plan, costing, problems, shown)
    others = (
        bill_sheet(basis),
        order_sheet(basis),
        cost_sheet(basis),
        *quote_sheets(basis),
        weights_sheet(basis),
        *schedule_sheets(basis),
        *batch_sheets(basis),
        *cut_sheets(basis),
        *travellers(basis),
        *day_sheets(basis),
    )
    return Binder(
        build=spec.build.name,
        label=spec.build.label or spec.build.name,
        revision=revision or spec.build.revision or "",
        paper=paper or ("letter" if shown == US else "a4"),
        sheets=(cover_sheet(basis, others), *others),
    )


def plan_calendar(
    spec: Spec,
    takeoff: Takeoff,
    plan: Plan,
    costing: Costing,
    *,
    revision: str | None = None,
    units: str | None = None,
) -> Calendar:
    """The plan for a calendar; revision and units win over what the build says."""
    return calendar_of(basis_of(spec, takeoff, plan, costing, (), units or spec.build.units), revision or "")


def joint_plan_calendar(
    parts: Mapping[str, tuple[Spec, Takeoff, Plan, Costing]], *, units: str | None = None
) -> Calendar:
    """The plan of several builds for a calendar. parts: by the name of each, what it was planned from, and
    its part of the joint plan with the costing that follows; units win over what each build says."""
    return joint_calendar(
        {
            name: basis_of(spec, takeoff, plan, costing, (), units or spec.build.units)
            for name, (spec, takeoff, plan, costing) in parts.items()
        }
    )


def table_of(
    name: str,
    spec: Spec,
    takeoff: Takeoff,
    plan: Plan,
    costing: Costing,
    *,
    units: str | None = None,
) -> Table:
    """One table by its name, a key of TABLES: "order", "batches", "plan", "weights"."""
    return TABLES[name](basis_of(spec, takeoff, plan, costing, (), units or spec.build.units))
