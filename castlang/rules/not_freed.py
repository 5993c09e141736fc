"""What is taken is freed."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.examples import CAST
from castlang.rules.model import Ground, Rule
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Step

FINDING = Finding(
    name="not-freed",
    severity=Severity.WARNING,
    says="a mold, a temporary work or a station is taken and never given back",
    why="whoever wants it next waits for ever, and a brace or dam is left on the piece",
    remedy="put `demold` for a mold, `free` for the rest, where it is given back; waive what stays on",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """Every `take` that nothing gives back, once for all copies."""
    owners = {task.name: (task.owner, task.step) for task in ground.network.tasks}
    kept = {owners[hold.first] for hold in ground.network.holds if hold.last is None}
    for owner in ground.spec.owners():
        for step in owner.sequence:
            if not isinstance(step, Step) or (step.owner, step.name) not in kept:
                continue
            target = step.target or ""
            mold = ground.spec.molds.get(target)
            wanted = "no demold follows" if mold is not None and not mold.temporary else "nothing frees it"
            message = f"{name_of(step)} takes {target}, and {wanted}"
            yield problem_at(FINDING, step, owner.name, message, about=(target,))


RULE = Rule(
    finding=FINDING,
    check=check,
    breaks="""\
temp brace "Corner brace"
    work      cut takes 1 h by 1
"""
    + CAST
    + """\
    take      brace takes 20 min by 1
    work      drill takes 30 min by 1
""",
    keeps="""\
temp brace "Corner brace"
    work      cut takes 1 h by 1
"""
    + CAST
    + """\
    take      brace takes 20 min by 1
    work      drill takes 30 min by 1
    free      brace takes 10 min by 1
""",
)
