"""What `check` says of a build that can be built: a few lines for a terminal."""

from castlang.plan.clock import moment_text
from castlang.plan.model import Plan
from castlang.spec.model import Spec


def summary_lines(spec: Spec, plan: Plan, assumed: int, waived: int) -> tuple[str, ...]:
    """Pieces, steps, finish, and how much was assumed or waived."""
    pieces = sum(p.count + p.mirrored for p in spec.pieces.values())
    steps = sum(1 for task in plan.network.tasks if task.crew)
    due = "" if spec.build.due is None else f", due {spec.build.due.isoformat()}"
    name = spec.build.label or spec.build.name
    return (
        f"{name}: {pieces} {'piece' if pieces == 1 else 'pieces'}, {steps} steps of work",
        f"ends {moment_text(plan.network.hours.start, plan.finish)}{due}",
        f"{assumed} assumed, {waived} waived; the binder's cover lists them",
    )
