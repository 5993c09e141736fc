"""What can be wrong with what is lifted, carried and borne."""

from castlang.problems.model import Finding, Severity

LIFT_OVER_LIMIT = Finding(
    name="lift-over-limit",
    severity=Severity.WARNING,
    says="a lift asks more of each person than the build allows",
    why="the build's `lift-limit` says what one person may lift",
    remedy="put more people on the step, or lift it `using` a station that `lifts` so much",
    source="the build's own limit",
)
HEAVY_LIFT = Finding(
    name="heavy-lift",
    severity=Severity.NOTE,
    says="a lift asks more than 23 kg of each person",
    why="23 kg is the most that the lifting equation allows at the best of postures, for one person alone",
    remedy="put more people on the step, lift it `using` a station that `lifts` so much, or tell "
    "the shop's own limit",
    source="DHHS (NIOSH) 94-110, revised lifting equation, 1994: load constant 23 kg",
)
FITTING_OVERLOADED = Finding(
    name="fitting-overloaded",
    severity=Severity.ERROR,
    says="more is laid on a fitting than it carries",
    why="the fitting's `carries` says what one of them may bear",
    remedy="use more or stronger fittings; have a competent person check what holds them",
    source="the fitting's own figure",
)
HOIST_OVERLOADED = Finding(
    name="hoist-overloaded",
    severity=Severity.ERROR,
    says="more is hung on a hoist than it lifts",
    why="the station's `lifts` says what it carries safely",
    remedy="use a stronger hoist, or a lighter piece; have a competent person check the lift",
    source="the station's own figure",
)
STATION_OVERLOADED = Finding(
    name="station-overloaded",
    severity=Severity.ERROR,
    says="a step puts more weight on a station than it holds",
    why="the station's `holds` says what it may bear at once",
    remedy="divide the step in two",
    source="the station's own figure",
)
