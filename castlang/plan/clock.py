"""The clock of a plan: minutes turned into dates and into the words that the shop uses for them."""

from datetime import date, datetime, time, timedelta

from castlang.plan.model import Network

DAY = 24 * 60
WEEK = 7 * DAY
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def clock(network: Network, minute: int) -> datetime:
    """The moment that is `minute` minutes after midnight of the build's start day; days have 24 h."""
    return datetime.combine(network.hours.start, time()) + timedelta(minutes=minute)


def moment_text(start: date, minute: int) -> str:
    """`Tue 2027-05-04 16:00`, counted from midnight of `start`; the same in every locale."""
    moment = datetime.combine(start, time()) + timedelta(minutes=minute)
    return f"{WEEKDAYS[moment.weekday()]} {moment.date().isoformat()} {moment.hour:02d}:{moment.minute:02d}"


def duration_text(minutes: int) -> str:
    """`95 min` below two hours, `5 h 10 min` below two days, then `3 days 4 h`."""
    if minutes < 0:
        return f"-{duration_text(-minutes)}"
    if minutes < 120:
        return f"{minutes} min"
    days = minutes // DAY if minutes >= 2 * DAY else 0
    hours, rest = divmod(minutes - days * DAY, 60)
    parts = ((days, "days"), (hours, "h"), (rest, "min"))
    return " ".join(f"{amount} {unit}" for amount, unit in parts if amount)
