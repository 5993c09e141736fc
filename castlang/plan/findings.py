"""What can be wrong with a plan."""

from castlang.problems.model import Finding, Severity

_CONSTRAINTS = 'Dechter, Meiri & Pearl, "Temporal constraint networks", Artificial Intelligence 49, 1991'
_PRACTICE = "common practice, no source"

CIRCLE = Finding(
    name="circle",
    severity=Severity.ERROR,
    says="steps wait for one another in a circle",
    why="each step of the circle comes after the one before it, so none of them can be the first",
    remedy="take out one of the `after` lines",
    source=_CONSTRAINTS,
)
WINDOW_MISSED = Finding(
    name="window-missed",
    severity=Severity.ERROR,
    says="what has to be done takes longer than a window allows",
    why="past its window a layer no longer bonds, or a coat no longer joins the one below",
    remedy="shorten the steps inside the window, or widen the window",
    source=_CONSTRAINTS,
)
DATE_MISSED = Finding(
    name="date-missed",
    severity=Severity.ERROR,
    says="a step cannot end by its latest date",
    why="gaps and hours alone, with people and places without end, already take longer",
    remedy="move the date, start sooner, or shorten what comes before",
    source=_CONSTRAINTS,
)
WINDOW_SHUT = Finding(
    name="window-shut",
    severity=Severity.ERROR,
    says="the shop's hours never leave room for a window",
    why="a longest gap runs on through breaks, nights and days off, when nobody works",
    remedy="open longer, let a step pause or run through breaks, or widen the window",
    source=_PRACTICE,
)
NEVER_FITS = Finding(
    name="never-fits",
    severity=Severity.ERROR,
    says="a step is longer than any time the shop is open without a stop",
    why="a step that may not pause has to end before the next break or closing",
    remedy="say may-pause or through-breaks, or make the step shorter with more people or a better rate",
    source=_PRACTICE,
)
CREW_SHORT = Finding(
    name="crew-short",
    severity=Severity.ERROR,
    says="a step wants more people than the crew has",
    why="nobody is at two places at once",
    remedy="give the step fewer people, or the crew more",
    source=_PRACTICE,
)
PLACES_SHORT = Finding(
    name="places-short",
    severity=Severity.ERROR,
    says="a step wants more of a station, mold or temporary work than there is",
    why="what there is too little of cannot be waited for",
    remedy="have or make more of it, or split the step",
    source=_PRACTICE,
)
NO_PLAN_FOUND = Finding(
    name="no-plan-found",
    severity=Severity.ERROR,
    says="the search found no plan",
    why="crew, stations and molds were full wherever the windows would have let a step run",
    remedy="widen the window or add what was full",
    source=_PRACTICE,
)
NO_ROOM = Finding(
    name="no-room",
    severity=Severity.ERROR,
    says="windows cannot all be kept with the crew, stations and molds that there are",
    why="the solver has shown that there is no plan at all, not only that none was found",
    remedy="widen one of the windows, or add people, stations or molds",
    source="proof by constraint solving, within one run of the solver",
)
SOLVER_MISSING = Finding(
    name="solver-missing",
    severity=Severity.ERROR,
    says="a thorough search wants the solver, which is not installed",
    why="a plan made without it would be a second best that nobody asked for",
    remedy='install it with `pip install "castlang[solve]"`, or search normally',
    source="the command's rules",
)
SHOPS_DIFFER = Finding(
    name="shops-differ",
    severity=Severity.ERROR,
    says="builds that are planned together tell the shop differently",
    why="hours, crew, stations and molds of one name are one thing, which cannot be two sizes at once",
    remedy="tell the shop alike in all of them, best in one file that they all `use`",
    source="the command's rules",
)
DUE_MISSED = Finding(
    name="due-missed",
    severity=Severity.WARNING,
    says="the plan ends after the due date",
    why="somebody counts on the date",
    remedy="shorten what the critical chain waits for (`castlang plan FILE --one-more` tells what one more "
    "person, mold or station saves), start sooner, or move the date",
    source=_PRACTICE,
    dated=True,
)

CURE_NEVER = Finding(
    name="cure-never",
    severity=Severity.ERROR,
    says="a cure would never end in this shop",
    why="below the datum of its mix nothing sets, however long it waits",
    remedy="warm the shop, or tell the mix's datum with `ages nurse-saul`",
    source="ASTM C1074, Eq. 1: hours at or below the datum count nothing",
)
CURE_COLD = Finding(
    name="cure-cold",
    severity=Severity.WARNING,
    says="a cure runs through hours below 10 degC",
    why="down there the published rules differ by a factor of two, and what freezes never hardens",
    remedy="keep it warm, move it out of the cold days, or test before it is demolded or loaded",
    source="EN 1992-1-1, Annex B, against TI-B 103 (94): hours at 5 degC for 24 h at 20 degC, 50 against 82",
    dated=True,
)
CURE_HOT = Finding(
    name="cure-hot",
    severity=Severity.WARNING,
    says="a cure runs through hours above 35 degC",
    why="what hardens hot dries out, and ends weaker than the rules for its age tell",
    remedy="keep it cool and wet, move it out of the hot days, or test before it is demolded or loaded",
    source=_PRACTICE,
    dated=True,
)

CURE_FAR_OFF = Finding(
    name="cure-far-off",
    severity=Severity.WARNING,
    says="a cure is told at a temperature far from the shop's",
    why="the rule that stretches it holds near the temperature told, and not in an oven or a heated box",
    remedy="tell the cure at a temperature near the shop's, or as a plain `wait` where it is kept that warm",
    source='I. A. Leenson, "Old Rule of Thumb and the Arrhenius Equation", Journal of Chemical Education; '
    "how far it reaches: common practice, no source",
)

TEND_CLOSED = Finding(
    name="tend-closed",
    severity=Severity.WARNING,
    says="a cure is to be looked after when the shop is closed, or its people are away",
    why="a sheet that dries, blows off or is not turned in the night is found when it is too late",
    remedy="waive it with who comes in, tend it less often, or cover it so that nobody need come",
    source=_PRACTICE,
    dated=True,
)
TEND_BUSY = Finding(
    name="tend-busy",
    severity=Severity.NOTE,
    says="a cure is to be looked after when all who are there are at work",
    why="the plan keeps nobody free for a visit; somebody has to leave the work for it",
    remedy="nothing need be done where it can be left for a few minutes; else add people, or tend less often",
    source=_PRACTICE,
    dated=True,
)

FINDINGS = (
    TEND_CLOSED,
    TEND_BUSY,
    CURE_NEVER,
    CURE_COLD,
    CURE_HOT,
    CURE_FAR_OFF,
    CIRCLE,
    WINDOW_MISSED,
    DATE_MISSED,
    WINDOW_SHUT,
    NEVER_FITS,
    CREW_SHORT,
    PLACES_SHORT,
    NO_PLAN_FOUND,
    NO_ROOM,
    SOLVER_MISSING,
    SHOPS_DIFFER,
    DUE_MISSED,
)
