"""A face is dry before a sealer that forms a film."""

from collections.abc import Iterator

from castlang.problems.model import Finding, Problem, Severity
from castlang.rules.drying import wet_under
from castlang.rules.examples import CAST
from castlang.rules.faces import shared_faces
from castlang.rules.materials import acts_of
from castlang.rules.model import Ground, Rule
from castlang.rules.places import name_of, problem_at
from castlang.spec.model import Acts, StepKind

FINDING = Finding(
    name="wet-under-film",
    severity=Severity.ERROR,
    says="a sealer that forms a film goes on a face that nothing let dry",
    why="water shut in under a film clouds it, and lifts it off in blisters",
    remedy="put a `dry` line between the last wet work and the sealer",
    source="common practice, no source",
)


def check(ground: Ground) -> Iterator[Problem]:
    """A film over wet work on the same face, with neither `dry` nor a cure in the open between them."""
    for piece, steps in ground.work.items():
        for step in steps:
            if step.kind is not StepKind.PASS or acts_of(ground, step) is not Acts.FILM:
                continue
            wet = [w for w in wet_under(ground, piece, step) if shared_faces(ground, piece, w, step)]
            if wet:
                yield problem_at(
                    FINDING,
                    step,
                    piece,
                    f"{name_of(step)} puts a film on {piece}, "
                    f"and nothing lets it dry after {name_of(wet[-1])}",
                    related=wet[-1:],
                )


_SEAL = "    pass      seal 1 coat of varnish on show rolled takes 20 min by 1\n"
_HONE = "    pass      hone grit 100, 200 wet on show takes 30 min by 1\n"

RULE = Rule(
    finding=FINDING,
    check=check,
    breaks=CAST + "    dry       2 days\n" + _HONE + _SEAL,
    keeps=CAST + _HONE + "    dry       2 days\n" + _SEAL,
)
