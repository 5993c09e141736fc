"""Days, clock times and spans of time in words of our own, never the machine's language settings.

Days and clock times are dated texts; spans are not, and neither is a moment that was told or recorded.
"""

from datetime import date, datetime, timedelta
from fractions import Fraction

from castlang.sheets.amounts import US
from castlang.sheets.dated_text import DatedText, dated
from castlang.spec.model import Window

DAY = 1440  # minutes

DAY_NAMES = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTH_NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day(when: date) -> DatedText:
    """`Mon 1 Feb`."""
    return dated(f"{DAY_NAMES[when.weekday()]} {when.day} {MONTH_NAMES[when.month - 1]}")


def full_day(when: date) -> DatedText:
    """`Mon 1 Feb 2027`."""
    return dated(f"{day(when)} {when.year}")


def clock(minute: int, units: str) -> DatedText:
    """A minute of the day: `07:30`, or `7:30 am` on US sheets. 1440 is the end of the day, `24:00`."""
    hour, rest = divmod(minute, 60)
    if units != US:
        return dated(f"{hour:02d}:{rest:02d}")
    half = "pm" if 12 <= hour < 24 else "am"
    return dated(f"{(hour - 1) % 12 + 1}:{rest:02d} {half}")


def hours(units: str) -> tuple[str, ...]:
    """What the 24 hours of a day are called: `7`, or `7 am` on US sheets."""
    if units != US:
        return tuple(str(hour) for hour in range(24))
    return tuple(f"{(hour - 1) % 12 + 1} {'am' if hour < 12 else 'pm'}" for hour in range(24))


def date_of(start: date, minute: int) -> date:
    """The date on which a minute of the plan lies; `start` is the plan's first day."""
    return start + timedelta(days=minute // DAY)


def moment(start: date, minute: int, units: str) -> DatedText:
    """A minute of the plan: `Mon 1 Feb 07:30`."""
    return dated(f"{day(date_of(start, minute))} {clock(minute % DAY, units)}")


def point(when: datetime, units: str) -> str:
    """A moment of which the build keeps a record: `Mon 1 Feb 2027 07:30`."""
    return f"{full_day(when)} {clock(when.hour * 60 + when.minute, units)}"


def moment_after(start: date, first: int, second: int, units: str) -> DatedText:
    """`second` as told beside `first`: the clock alone when both lie on one day."""
    if first // DAY == second // DAY:
        return clock(second % DAY, units)
    return moment(start, second, units)


def iso(start: date, minute: int) -> str:
    """A minute of the plan for programs, ISO 8601: `2027-02-01T07:30`."""
    clock_time = f"{minute % DAY // 60:02d}:{minute % 60:02d}"
    return f"{date_of(start, minute).isoformat()}T{clock_time}"


def about(minutes: int) -> str:
    """A span, from two days on down to the whole hour: `23 h 11 min`, `4 days 23 h`."""
    return span(minutes if abs(minutes) < 2 * DAY else minutes // 60 * 60)


def span(minutes: int) -> str:
    """`35 min`, `2 h 15 min`, `18 h`, `3 days`, `2 days 6 h`: hours up to two days, then days."""
    if minutes < 0:
        return f"-{span(-minutes)}"
    days, rest = divmod(minutes, DAY) if minutes >= 2 * DAY else (0, minutes)
    hours, rest = divmod(rest, 60)
    words = [
        f"{days} day{'s' if days != 1 else ''}" if days else "",
        f"{hours} h" if hours else "",
        f"{rest} min" if rest else "",
    ]
    return " ".join(word for word in words if word) or "0 min"


def working_hours(minutes: int) -> str:
    """Work of people: hours however many, `61 h 30 min`."""
    hours, rest = divmod(minutes, 60)
    return " ".join(w for w in (f"{hours} h" if hours else "", f"{rest} min" if rest else "") if w) or "0 h"


def seconds(amount: Fraction) -> str:
    """A span told in seconds, to the whole minute; seconds below one minute."""
    if 0 < amount < 60:
        return f"{round(amount)} s"
    return span(round(amount / 60))


def window(told: Window) -> str:
    """`18 h to 3 days`, `18 h`, or `within 45 min` when there is no least."""
    if told.longest is None:
        return seconds(told.least)
    if not told.least:
        return f"within {seconds(told.longest)}"
    return f"{seconds(told.least)} to {seconds(told.longest)}"
