"""When to order: lead counts calendar days, closed ones too; what comes on a closed day is there when the
shop opens next, and somebody must be there to order.

order by = the last open day up to (first use - lead)
arrival  = the first open hours from (ordered + lead) on
"""

from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction
from math import ceil

from castlang.plan.model import Hours
from castlang.plan.shop_hours import last_open_day

DAY = 86400


def days_of(lead: Fraction) -> int:
    """Whole days of a lead in s, rounded up."""
    return ceil(lead / DAY)


def order_by(first_use: date, lead: Fraction, shops: Sequence[Hours] = ()) -> date:
    """The latest day to order what is first used on `first_use` and takes `lead` s to come, on which one of
    `shops` is open."""
    latest = first_use - timedelta(days=days_of(lead))
    return max((last_open_day(hours, latest) for hours in shops), default=latest)
