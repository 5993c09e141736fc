"""When to order: lead counts calendar days, closed ones too.

order by = first use - lead         arrival = ordered + lead
"""

from datetime import date, timedelta
from fractions import Fraction
from math import ceil

DAY = 86400


def days_of(lead: Fraction) -> int:
    """Whole days of a lead in s, rounded up."""
    return ceil(lead / DAY)


def order_by(first_use: date, lead: Fraction) -> date:
    """The latest day to order what is first used on `first_use` and takes `lead` s to come."""
    return first_use - timedelta(days=days_of(lead))
