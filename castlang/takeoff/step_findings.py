"""What can be wrong with the amounts of a step, its boards and its fittings."""

from castlang.problems.model import Finding, Severity
from castlang.takeoff.sources import ARITHMETIC

RATE_WITHOUT_MEASURE = Finding(
    name="rate-without-measure",
    severity=Severity.ERROR,
    says="a step's rate counts something that the step does not have",
    why="time is area over an area rate, or volume over a volume rate",
    remedy="write `takes T` in place of the rate",
    source=ARITHMETIC,
)
POUR_INTO_SHELL = Finding(
    name="pour-into-shell",
    severity=Severity.ERROR,
    says="a pour is to fill the body of a piece whose shape has no thickness of its own",
    why="an open shell is made of its layers alone",
    remedy="use `layer NAME L of MIX on FACES`, or a shape with a thickness",
    source=ARITHMETIC,
)
NOTHING_LEFT_TO_POUR = Finding(
    name="nothing-left-to-pour",
    severity=Severity.ERROR,
    says="layers and other pours leave nothing for a full pour",
    why="`full` is what is left of the body or cavity",
    remedy="make a layer thinner, or leave the pour out",
    source=ARITHMETIC,
)
HOLDS_NOTHING = Finding(
    name="holds-nothing",
    severity=Severity.ERROR,
    says="a liquid is loaded on a face that cannot hold it",
    why="it would run off, and its weight is counted nowhere",
    remedy="load the inside of a tray or bowl, or a cut-out that opens upward",
    source=ARITHMETIC,
)
LOAD_TOO_DEEP = Finding(
    name="load-too-deep",
    severity=Severity.ERROR,
    says="a load is deeper, or more, than what it is filled into",
    why="what does not fit runs over, and is counted nowhere",
    remedy="fill less, or write `full`; what is to stand on the rim is loaded on the rim, by its mass",
    source=ARITHMETIC,
)
HOLE_BELOW_LEVEL = Finding(
    name="hole-below-level",
    severity=Severity.WARNING,
    says="a load stands higher than a hole that nothing closes",
    why="it runs out through the hole, and a leak test fails for no fault of the piece",
    remedy="fill lower, or say what closes the hole: `insert` a plug on its face, or do `work` on it",
    source=ARITHMETIC,
)
POUR_TOO_DEEP = Finding(
    name="pour-too-deep",
    severity=Severity.ERROR,
    says="a pour is deeper than what it is poured into",
    why="what does not fit runs over",
    remedy="lower the depth, or write `full`",
    source=ARITHMETIC,
)
LAYERS_TOO_THICK = Finding(
    name="layers-too-thick",
    severity=Severity.ERROR,
    says="layers on one face are thicker than the piece is there",
    why="layers grow inward from the mold, and sizes are the finished outside",
    remedy="make the layers thinner, or the piece thicker",
    source=ARITHMETIC,
)
PANEL_LARGER_THAN_SHEET = Finding(
    name="panel-larger-than-sheet",
    severity=Severity.WARNING,
    says="a panel cannot be cut from one sheet of its stock",
    why="neither way round does it fit",
    remedy="divide the panel and say both parts, or use a larger sheet",
    source=ARITHMETIC,
)
BUY_TOO_FEW = Finding(
    name="buy-too-few",
    severity=Severity.WARNING,
    says="the steps use more of a fitting than the build buys",
    why="the order list buys what the steps use, never fewer",
    remedy="raise `buy`, or leave it out",
    source=ARITHMETIC,
)
