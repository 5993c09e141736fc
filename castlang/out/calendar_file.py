"""A calendar as an iCalendar text (RFC 5545), for phones and desks.

Times are of form 1 of its section 3.3.5: the clock of the shop, without a zone.
"""

from datetime import UTC
from typing import TYPE_CHECKING

from castlang.sheets.calendar import Calendar, Event

if TYPE_CHECKING:
    import icalendar

MADE_BY = "-//castlang//castlang//EN"
HOST = "castlang"


def ics_of(calendar: Calendar) -> bytes:
    """The file: CRLF at line ends, no line of more than 75 octets."""
    import icalendar

    whole = icalendar.Calendar()
    whole.add("prodid", MADE_BY)
    whole.add("version", "2.0")
    whole.add("calscale", "GREGORIAN")
    whole.add("name", printable(calendar.name))  # RFC 7986
    for event in calendar.events:
        whole.add_component(_event(calendar, event))
    return bytes(whole.to_ical())


def _event(calendar: Calendar, event: Event) -> "icalendar.Event":
    import icalendar

    made = icalendar.Event()
    made.add("uid", printable(f"{event.uid}@{HOST}"))
    made.add("dtstamp", calendar.stamp.replace(tzinfo=UTC))
    made.add("sequence", calendar.revision)
    made.add("summary", printable(event.title))
    made.add("dtstart", event.begin.date() if event.whole_day else event.begin)
    if event.end is not None:
        made.add("dtend", event.end)
    else:
        made.add("transp", "TRANSPARENT")
    if event.lines:
        made.add("description", "\n".join(printable(line) for line in event.lines))
    if event.alarm is not None:
        alarm = icalendar.Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", printable(event.title))
        alarm.add("trigger", -event.alarm)
        made.add_component(alarm)
    return made


def printable(text: str) -> str:
    """The text without what RFC 5545 forbids in one: controls, and halves of pairs. A backslash before
    an N stands before an n: the library would write a line end for it."""
    kept = "".join(c if c >= " " and c != "\x7f" else " " for c in text)
    return kept.encode("utf-8", "replace").decode("utf-8").replace("\\N", "\\n")
