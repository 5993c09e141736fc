"""A comparison as one JSON document, which comparison.schema.json beside this file describes."""

import json
from collections.abc import Sequence
from datetime import timedelta
from fractions import Fraction
from typing import Any

from castlang.compare.model import Amount, Change, Comparison, Ending
from castlang.problems.model import Problem
from castlang.sheets import amounts, times
from castlang.spec.quantity import Dimension, Money

SCHEMA = "castlang-comparison-1"  # changes with every change after which an old reader would fail


def comparison_json(told: Comparison, units: str) -> str:
    """The document as text: keys sorted, two spaces of indent, a line end at its end. Figures are texts in
    the unit told beside them; days and times are ISO 8601."""
    document = {
        "schema": SCHEMA,
        "build": told.name,
        "old": told.old,
        "new": told.new,
        "same": told.same,
        "changes": [_change(change) for change in told.changes],
        "materials": [_amount(amount, units) for amount in told.amounts],
        "weights": [
            {
                "piece": weight.piece,
                "unit": amounts.column_unit(Dimension.MASS, units)[0],
                "old": _mass(weight.old, units),
                "new": _mass(weight.new, units),
            }
            for weight in told.weights
        ],
        "money": [{"what": s.what, "old": _money(s.old), "new": _money(s.new)} for s in told.sums],
        "work": [{"block": w.block, "old_minutes": w.old, "new_minutes": w.new} for w in told.work],
        "finish": {"old": _ending(told.old_end), "new": _ending(told.new_end), "shift_minutes": told.shift},
        "chain": {
            "old": list(told.chain.old),
            "new": list(told.chain.new),
            "joined": list(told.chain.joined),
            "left": list(told.chain.left),
        },
        "findings": {"new": _problems(told.found), "gone": _problems(told.gone)},
        "done": [
            {
                "step": cast.step,
                "start": cast.done.start.isoformat(timespec="minutes"),
                "end": cast.done.end.isoformat(timespec="minutes"),
                "changes": list(cast.changes),
            }
            for cast in told.cast
        ],
        "sheets": [
            {"do": str(s.swap), "code": s.code, "title": s.title, "old_stamp": s.old, "new_stamp": s.new}
            for s in told.swaps
        ],
    }
    return json.dumps(document, indent=2, sort_keys=True, ensure_ascii=False) + "\n"


def _change(change: Change) -> dict[str, Any]:
    return {
        "kind": str(change.kind),
        "block": change.block,
        "step": change.step,
        "what": change.what,
        "old": change.old,
        "new": change.new,
        "says": change.says,
    }


def _amount(amount: Amount, units: str) -> dict[str, Any]:
    def figure(value: Fraction) -> str:
        return amounts.figure(value, amount.dimension, units)

    return {
        "name": amount.name,
        "label": amount.label,
        "unit": amounts.column_unit(amount.dimension, units)[0],
        "old_net": figure(amount.old_net),
        "new_net": figure(amount.new_net),
        "old_need": figure(amount.old_need),
        "new_need": figure(amount.new_need),
        "old_sold_as": amount.old_sold,
        "new_sold_as": amount.new_sold,
        "old_buy": amount.old_buy,
        "new_buy": amount.new_buy,
        "order_by": None if amount.order_by is None else amount.order_by.isoformat(),
    }


def _mass(value: Fraction | None, units: str) -> str | None:
    return None if value is None else amounts.figure(value, Dimension.MASS, units)


def _money(value: Money | None) -> dict[str, str] | None:
    if value is None:
        return None
    figure = amounts.money(value).removesuffix(f" {value.currency}")
    return {"amount": figure, "currency": value.currency}


def _ending(end: Ending) -> dict[str, Any]:
    due = None if end.due is None else (end.start + timedelta(days=(end.due - 1) // times.DAY)).isoformat()
    return {
        "at": str(times.iso(end.start, end.finish)),
        "due": due,
        "late_minutes": end.late if end.due is not None else None,
    }


def _problems(problems: Sequence[Problem]) -> list[dict[str, Any]]:
    return [
        {"name": p.finding.name, "severity": str(p.finding.severity), "message": p.message} for p in problems
    ]
