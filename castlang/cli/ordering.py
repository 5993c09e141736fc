"""`castlang order` for several builds: one list of what to buy for all of them."""

import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

from castlang.cli.builds import compiled, status, tell
from castlang.problems.as_text import in_order, problem_text

if TYPE_CHECKING:
    from castlang.sheets.model import Table


def joint_table(specs: Sequence[str], units: str | None) -> "tuple[Table | None, int]":
    """The order list of all `specs` together, None where one cannot be built; and the exit status."""
    from castlang.costing.several import Planned, joint_order
    from castlang.sheets.order_list import joint_order_table

    builds = [compiled(spec) for spec in specs]
    worst = 0
    planned = []
    texts: dict[str, str] = {}
    for build in builds:
        tell(build, notes=False)
        worst = max(worst, status(build))
        texts |= build.texts
        if build.spec is not None and build.takeoff is not None and build.plan is not None:
            planned.append(Planned(spec=build.spec, takeoff=build.takeoff, plan=build.plan))
    if len(planned) < len(builds):
        return None, 1
    joint = joint_order(planned)
    for problem in in_order(joint.problems, tuple(texts)):
        print(problem_text(problem, texts), file=sys.stderr)
    if joint.value is None:
        return None, 1
    shown = units or planned[0].spec.build.units
    table = joint_order_table(joint.value, tuple(p.spec.build.name for p in planned), shown)
    return table, max(worst, 1 if joint.problems else 0)
