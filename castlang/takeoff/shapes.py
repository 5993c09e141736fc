"""From a shape as it was told to a form, with what is wrong with its sizes."""

from collections.abc import Callable, Mapping
from fractions import Fraction

from castlang.problems.model import Outcome, Problem
from castlang.spec.kinds import KINDS, plain_words
from castlang.spec.model import Shape
from castlang.takeoff import blocks, wording
from castlang.takeoff.balls import Bowl, Dome
from castlang.takeoff.forms import ZERO, Form
from castlang.takeoff.prisms import Fold, Ramp, Run
from castlang.takeoff.revolutions import Frustum, Tube
from castlang.takeoff.shape_findings import NO_BODY, told
from castlang.takeoff.wording import METRIC

Sizes = Mapping[str, Fraction]

SHELL_KINDS = ("corner-wall", "panel", "run")


def is_shell(kind: str, sizes: Sizes) -> bool:
    """Whether a shape (by its plain size words) has no thickness of its own."""
    return kind in SHELL_KINDS and "thick" not in sizes


def sizes_of(shape: Shape) -> dict[str, Fraction]:
    """The sizes (m) by their plain words: the `wall` of a tray is its `thick`."""
    plain = plain_words(shape.kind, shape.sizes)
    return {plain[word]: length for word, length in shape.sizes.items() if word in plain}


def form_of(shape: Shape, sizes: Sizes, who: str, *about: str, units: str = METRIC) -> Outcome[Form]:
    """The form of a shape that has a thickness, from its sizes by plain words (every needed one there, m).

    `who` names it in messages, which tell lengths in `units`. Finding: no-body.
    """
    problems = no_body(shape, sizes, who, *about, units=units)
    if problems:
        return Outcome(value=None, problems=problems)
    if shape.kind == "run":
        return Outcome(value=Run(fold=fold_of(shape), high=sizes["high"], thick=sizes["thick"]))
    return Outcome(value=_FORMS[shape.kind](sizes))


def no_body(shape: Shape, sizes: Sizes, who: str, *about: str, units: str = METRIC) -> tuple[Problem, ...]:
    """Why these sizes make no body, one problem a reason."""
    reasons = [f"it is {wording.length(size, units)} {word}" for word, size in sizes.items() if size <= 0]
    reasons += [f"a leg is {wording.length(leg.long, units)} long" for leg in shape.legs if leg.long <= 0]
    reasons = reasons or _reasons(shape, sizes, units)
    return tuple(told(NO_BODY, f"{who} makes no body: {why}", shape.span, *about) for why in reasons)


def fold_of(shape: Shape) -> Fold:
    """The line of a run's legs."""
    turns = tuple(leg.turn or ZERO for leg in shape.legs[:-1])
    return Fold(legs=tuple(leg.long for leg in shape.legs), turns=turns)


def _reasons(shape: Shape, s: Sizes, units: str) -> list[str]:
    if shape.kind == "run":
        most = fold_of(shape).greatest()
        thick = s.get("thick", ZERO)
        if most is None or thick < most:
            return []
        allowed = f"its legs and turns allow less than {wording.length(most, units)}"
        return [f"it is {wording.length(thick, units)} thick, {allowed}"]
    found: list[str] = []
    for small, factor, large in _LIMITS.get(shape.kind, ()):
        if small in s and s[small] * factor >= s[large]:
            twice = "twice " if factor == 2 else ""
            found.append(
                f"{twice}{wording.length(s[small], units)} {small} is not less than "
                f"{wording.length(s[large], units)} {large}"
            )
    if shape.kind == "dome" and s["high"] * 2 > s["dia"]:
        half = wording.length(s["dia"] / 2, units)
        found.append(f"it is {wording.length(s['high'], units)} high, half its dia is {half}")
    if shape.kind == "bowl" and not found:
        found += _bowl_reasons(s, units)
    return found


def _bowl_reasons(s: Sizes, units: str) -> list[str]:
    bowl = Bowl(dia=s["dia"], high=s["high"], thick=s["thick"], foot_dia=s.get("foot-dia", ZERO))
    if bowl.middle < bowl.high:
        return [f"it is {wording.length(bowl.high, units)} high and would close in again below its rim"]
    if bowl.radius - bowl.thick <= bowl.middle - bowl.high:
        return [f"a wall {wording.length(bowl.thick, units)} thick leaves no room inside"]
    return []


# Per kind: a size, times a factor, must stay below another size.
_LIMITS: Mapping[str, tuple[tuple[str, int, str], ...]] = {
    "tray": (("thick", 2, "long"), ("thick", 2, "wide"), ("thick", 1, "high"), ("deep", 1, "high")),
    "channel": (("thick", 2, "wide"), ("thick", 1, "high")),
    "angle": (("thick", 1, "leg"), ("thick", 1, "rise")),
    "tube": (("thick", 2, "dia"), ("deep", 1, "high")),
    "dome": (("thick", 1, "high"),),
    "bowl": (("thick", 1, "high"), ("thick", 2, "dia"), ("foot-dia", 1, "dia")),
}


def _slab(s: Sizes) -> Form:
    return blocks.plain_block(s["long"], s["wide"], s["thick"], order=KINDS["slab"].faces, depth=s["thick"])


def _panel(s: Sizes) -> Form:
    return blocks.plain_block(s["long"], s["thick"], s["high"], order=KINDS["panel"].faces, depth=s["thick"])


def _box(s: Sizes) -> Form:
    return blocks.plain_block(s["long"], s["wide"], s["high"], order=KINDS["box"].faces, depth=s["high"])


def _tray(s: Sizes) -> Form:
    floor = s["high"] - s["deep"] if "deep" in s else s["thick"]
    return blocks.tray(s["long"], s["wide"], s["high"], s["thick"], floor, order=KINDS["tray"].faces)


def _channel(s: Sizes) -> Form:
    return blocks.channel(s["long"], s["wide"], s["high"], s["thick"], order=KINDS["channel"].faces)


def _angle(s: Sizes) -> Form:
    return blocks.angle(s["long"], s["leg"], s["rise"], s["thick"], order=KINDS["angle"].faces)


def _tube(s: Sizes) -> Form:
    floor = s["high"] - s["deep"] if "deep" in s else ZERO
    return Tube(dia=s["dia"], high=s["high"], thick=s["thick"], floor=floor)


_FORMS: Mapping[str, Callable[[Sizes], Form]] = {
    "slab": _slab,
    "panel": _panel,
    "box": _box,
    "tray": _tray,
    "channel": _channel,
    "angle": _angle,
    "disc": lambda s: Frustum(top_dia=s["dia"], foot_dia=s["dia"], high=s["thick"]),
    "frustum": lambda s: Frustum(top_dia=s["top-dia"], foot_dia=s["foot-dia"], high=s["high"]),
    "tube": _tube,
    "dome": lambda s: Dome(dia=s["dia"], high=s["high"], thick=s.get("thick", ZERO)),
    "bowl": lambda s: Bowl(dia=s["dia"], high=s["high"], thick=s["thick"], foot_dia=s.get("foot-dia", ZERO)),
    "ramp": lambda s: Ramp(long=s["long"], wide=s["wide"], rise=s["rise"], thick=s.get("thick", ZERO)),
}
