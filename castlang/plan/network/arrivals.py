"""What must have arrived before a step: fittings, and stock that is not on hand."""

from fractions import Fraction

from castlang.plan.model import GapEdge, Task, Why
from castlang.plan.network.chain_of_steps import Draft, Run
from castlang.plan.shop_hours import DAY, day_of, first_open, hours_of, minutes_up
from castlang.spec.model import Fitting, Mold, Step, StepKind, Stock
from castlang.spec.quantity import Dimension


def arrives(draft: Draft, name: str) -> str | None:
    """The task (a point in time) at which a fitting or stock is there: when the shop opens, or is open, on or
    after the day on which it comes. None when it is there at once."""
    thing: Fitting | Stock | None = draft.spec.fittings.get(name) or draft.spec.stocks.get(name)
    if thing is None or thing.lead <= 0:
        return None
    task = f"{name}.arrives"
    if task not in draft.tasks:
        build = draft.spec.build
        ordered = 0 if thing.ordered is None else day_of(build, thing.ordered) * DAY
        draft.tasks[task] = Task(
            name=task,
            minutes=0,
            earliest=first_open(hours_of(build), max(0, ordered + minutes_up(thing.lead))),
            owner=name,
            step="arrives",
            kind="arrival",
            span=thing.span,
        )
    return task


def tie_arrivals(draft: Draft) -> None:
    """Every step waits for the fittings and the short stock that it uses."""
    short = {line.stock for line in draft.takeoff.bill if _short(draft, line.stock, line.gross)}
    for key in sorted(draft.runs):
        run = draft.runs[key]
        done = draft.takeoff.steps.get((run.step.owner, run.step.name))
        wanted = [use.stock for use in done.uses] if done is not None else []
        if run.step.onto is not None and run.step.onto.kind == "fitting":
            wanted.append(run.step.onto.name)
        wanted += [thing.name for thing in run.step.things if thing.kind == "fitting"]
        wanted += _sheets(draft, run)
        for name in dict.fromkeys(wanted):
            if name in draft.spec.fittings or name in short:
                tie_arrival(draft, name, run)


def _sheets(draft: Draft, run: Run) -> list[str]:
    """The sheet stock that a mold is cut from: the first step that makes it waits for it, else its taking."""
    step = run.step
    made = draft.spec.molds.get(step.owner)
    if made is not None and next((i for i in made.sequence if isinstance(i, Step)), None) is step:
        return _stocks_of(made)
    taken = draft.spec.molds.get(step.target or "") if step.kind is StepKind.TAKE else None
    if taken is not None and not any(isinstance(item, Step) for item in taken.sequence):
        return _stocks_of(taken)
    return []


def _stocks_of(mold: Mold) -> list[str]:
    stocks = [panel.stock or mold.board for panel in mold.panels] if mold.panels else [mold.board]
    return [stock for stock in stocks if stock is not None]


def tie_arrival(draft: Draft, name: str, run: Run) -> None:
    """Let a run wait until `name` is there."""
    task = arrives(draft, name)
    if task is not None:
        draft.gaps.append(
            GapEdge(
                before=task,
                after=run.first,
                least=0,
                why=Why.ARRIVAL,
                says=f"{name} arrives",
                span=run.step.span,
            )
        )


def _short(draft: Draft, name: str, gross: Fraction) -> bool:
    """Whether what is on hand does not cover the whole build."""
    stock = draft.spec.stocks.get(name)
    if stock is None or stock.package is None:
        return True
    amount = stock.package.amount
    if stock.package.sheet is not None:
        size = stock.package.sheet[0] * stock.package.sheet[1]
    elif amount is None:
        return True
    elif amount.dimension is Dimension.VOLUME and stock.density is not None:
        line = next(line for line in draft.takeoff.bill if line.stock == name)
        size = amount.si * (stock.density if line.dimension is Dimension.MASS else 1)
    else:
        size = amount.si
    return stock.have * size < gross
