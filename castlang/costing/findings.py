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
    dated=True,
)
KEPT_TOO_LONG = Finding(
    name="kept-too-long",
    severity=Severity.WARNING,
    says="a stock is bought and is past its shelf life before the last of it is used",
    why="what is past its shelf life sets badly or not at all",
    remedy="order it later, or in two goes, and write `ordered DATE` under it",
    source="the `keeps` line of the stock",
    dated=True,
)
STOCKS_DIFFER = Finding(
    name="stocks-differ",
    severity=Severity.ERROR,
    says="two builds of one order tell a stock or fitting of the same name differently",
    why="what they need cannot be added up while it is not the same thing",
    remedy="tell it once, in a file that both builds use",
    source="the language's rules",
)

ALL = (TWO_CURRENCIES, ORDERED_TOO_LATE, KEPT_TOO_LONG, STOCKS_DIFFER)
