"""Every figure by its name: the one door of this folder."""

from collections.abc import Mapping
from difflib import get_close_matches

from castlang.costing.model import Costing
from castlang.plan.model import Plan
from castlang.spec.model import Spec
from castlang.takeoff.model import Takeoff
from castlang.trace.areas import AREAS
from castlang.trace.batches import BATCHES
from castlang.trace.buying import BUYING
from castlang.trace.doses import DOSES
from castlang.trace.drying import DRYING
from castlang.trace.durations import DURATIONS
from castlang.trace.ground import Ground
from castlang.trace.hours import HOURS
from castlang.trace.loads import LOADS
from castlang.trace.model import Figure
from castlang.trace.money import MONEY
from castlang.trace.panels import PANELS
from castlang.trace.quotes import QUOTES
from castlang.trace.recipes import RECIPES
from castlang.trace.shared_batches import SHARED
from castlang.trace.steps import STEPS
from castlang.trace.times import TIMES
from castlang.trace.uses import USES
from castlang.trace.volumes import VOLUMES
from castlang.trace.weights import WEIGHTS

SUBJECTS = (
    AREAS,
    VOLUMES,
    DOSES,
    RECIPES,
    STEPS,
    USES,
    DURATIONS,
    BATCHES,
    SHARED,
    DRYING,
    WEIGHTS,
    LOADS,
    PANELS,
    BUYING,
    HOURS,
    MONEY,
    QUOTES,
    TIMES,
)


def ground_of(spec: Spec, takeoff: Takeoff, plan: Plan, costing: Costing, texts: Mapping[str, str]) -> Ground:
    """What figures are traced in. texts: the files of the build by name."""
    return Ground(spec=spec, takeoff=takeoff, plan=plan, costing=costing, texts=texts, subjects=SUBJECTS)


def figure_of(ground: Ground, name: str) -> Figure | None:
    """The figure called `name`, with all that it was computed from; None when there is none."""
    return ground.find(name)


def names_of(ground: Ground) -> tuple[str, ...]:
    """Every name that can be asked for, in the order of the subjects."""
    return tuple(dict.fromkeys(name for subject in SUBJECTS for name in subject.names(ground)))


def near_names(ground: Ground, name: str) -> tuple[str, ...]:
    """Names that come close to one that is not there: those that hold it, else those that look like it."""
    names = names_of(ground)
    holding = [known for known in names if name in known]
    return tuple(holding[:5] or get_close_matches(name, names, n=5, cutoff=0.6))


def trace_of(figure: Figure, depth: int | None = None) -> tuple[Figure, ...]:
    """Every computed figure that `figure` goes back to, each once, each behind its inputs; itself last.
    depth: only so many figures down, itself counted; None is all the way."""
    found: dict[str, Figure] = {}
    _gather(figure, depth, found)
    found.pop(figure.name, None)
    return (*found.values(), figure)


def _gather(figure: Figure, depth: int | None, found: dict[str, Figure]) -> None:
    if figure.name in found or not figure.inputs or depth == 0:
        return
    for one in figure.inputs:
        _gather(one.figure, None if depth is None else depth - 1, found)
    found[figure.name] = figure
