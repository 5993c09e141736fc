"""What a costing can find wrong, each declared once."""

from castlang.problems.model import Finding, Severity

TWO_CURRENCIES = Finding(
    name="two-currencies",
    severity=Severity.ERROR,
    says="prices of one build are told in two currencies, and no rate between them",
    why="money of two currencies cannot be added up",
    remedy="write `exchange CUR N CUR on DATE` in the build, or price everything in one currency",
    source="arithmetic",
)
ORDERED_TOO_LATE = Finding(
    name="ordered-too-late",
    severity=Severity.WARNING,
    says="something is needed before it can have arrived",
    why="it arrives its lead after it is ordered: on its `ordered` day, or on the first day of the build",
    remedy="order it before the build starts and write `ordered DATE`, or start later",
    source="arithmetic",
)

ALL = (TWO_CURRENCIES, ORDERED_TOO_LATE)
