"""What can be wrong with the batches of a step."""

from castlang.problems.model import Finding, Severity
from castlang.takeoff.sources import ARITHMETIC, COMMON

WORKS_TOO_SHORT = Finding(
    name="works-too-short",
    severity=Severity.ERROR,
    says="mixing and carrying alone use up the mix's working time",
    why="working time runs from the first liquid in the bucket to the last of that batch in place",
    remedy="shorten `mixing` or `carry`, or use a mix that works longer",
    source=COMMON,
)
WORKS_FAR_OFF = Finding(
    name="works-far-off",
    severity=Severity.WARNING,
    says="a mix is used more than 15 K from the temperature that its working time is told at",
    why="the rule by which a working time follows the temperature holds for about 15 K either way",
    remedy="take the working time at a nearer temperature from the data sheet, or keep the shop nearer to it",
    source="rule of thumb; ISO 9514 and ISO 2535 leave the time in the shop to a trial at its temperature",
)
WET_EDGE_TOO_SHORT = Finding(
    name="wet-edge-too-short",
    severity=Severity.ERROR,
    says="mixing and carrying the next batch take longer than the edge of the last one stays wet",
    why="a layer of several batches stays whole only where each batch meets a wet edge",
    remedy="shorten `mixing` or `carry`, or use a larger mixer, so that one batch is enough",
    source=COMMON,
)
CHARGE_BELOW_LEAST = Finding(
    name="charge-below-least",
    severity=Severity.WARNING,
    says="a batch is smaller than its mixer mixes well",
    why="a mixer with too little in it throws the mix at its wall and leaves it unmixed",
    remedy="use a smaller mixer for this step: `using STATION`",
    source=COMMON,
)
TOO_MANY_BATCHES = Finding(
    name="too-many-batches",
    severity=Severity.ERROR,
    says="a step comes to more than 999 batches",
    why="no crew mixes a thousand buckets for one step; a size or a unit is likely wrong",
    remedy="check `holds` of the station and the sizes of the piece",
    source=COMMON,
)
TOO_MANY_PARTS = Finding(
    name="too-many-parts",
    severity=Severity.ERROR,
    says="a step comes to more than 999 lifts or coats",
    why="no crew pours a thousand lifts; a size or a unit is likely wrong",
    remedy="check `lift` of the mix, the number of coats, and the sizes of the piece",
    source=COMMON,
)
BELOW_SCALE = Finding(
    name="below-scale",
    severity=Severity.WARNING,
    says="a line of a batch is less than the scale can show",
    why="a scale says nothing below its least load, and a dose below its step is left out",
    remedy="use a finer scale, or weigh the material for several batches at once and share it out",
    source=ARITHMETIC,
)

ROUNDED_OFF = Finding(
    name="rounded-off",
    severity=Severity.WARNING,
    says="the scale moves a dose too far: the ratio of parts that set by over 2 %, another by over 5 %",
    why="parts off their ratio stay soft or brittle; a pigment or admixture off its dose shows",
    remedy="use a finer scale, or one batch in place of several small ones",
    source=COMMON,
)
NOT_SHARED = Finding(
    name="batches-not-shared",
    severity=Severity.ERROR,
    says="steps are to share their batches that cannot",
    why="one bucket holds one mix, and what is poured from it follows on within its working time",
    remedy="let them use the same mix in as many lifts or coats, without a pause, or mix for each alone",
    source=COMMON,
)
