"""The days of a chart along a line: open hours to scale, nights and closed days drawn narrow.

Most of a week the shop is closed. Drawn to one scale, the work would be slivers between white nights; so
a closed minute has a small part of an open one's width, and a wait still shows the nights it runs through.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

DAY = 1440  # minutes
NIGHT = 0.13  # width of a closed minute in open ones, on a day with open hours
CLOSED_DAY = 40.0  # points: room for the name of the day in two lines
OPEN_DAY = 66.0  # points: the least at which half an hour of work is seen

Span = tuple[int, int]  # minutes, from and to


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """Some days of a chart. breaks, places: minutes and their places in points from the axis's left end;
    between two breaks the scale is even. closed: spans in which the shop is closed."""

    first: int  # day
    last: int  # the day after the last
    breaks: tuple[int, ...]
    places: tuple[float, ...]
    closed: tuple[Span, ...]

    @property
    def start(self) -> int:
        return self.breaks[0]

    @property
    def end(self) -> int:
        return self.breaks[-1]

    def place(self, minute: int) -> float:
        """Where a minute lies; a minute outside lies at the nearer end."""
        if minute <= self.start:
            return 0.0
        if minute >= self.end:
            return self.places[-1]
        index = bisect_right(self.breaks, minute) - 1
        part = (minute - self.breaks[index]) / (self.breaks[index + 1] - self.breaks[index])
        return self.places[index] + part * (self.places[index + 1] - self.places[index])


def axes(days: int, open_: Sequence[Span], room: float) -> tuple[Axis, ...]:
    """The days on one axis if they fit, else a week on each, else as many as fit."""
    spans = [_day_spans(day, open_) for day in range(days)]
    least = [OPEN_DAY if any(opened for _, _, opened in span) else CLOSED_DAY for span in spans]
    most = days if sum(least) <= room else _greatest(least, room)
    return tuple(_axis(first, spans[first : first + most], room) for first in range(0, days, max(most, 1)))


def _greatest(least: Sequence[float], room: float) -> int:
    """The most days, up to a week, of which any run of that length fits."""
    for count in range(min(7, len(least)), 1, -1):
        if all(sum(least[at : at + count]) <= room for at in range(0, len(least), count)):
            return count
    return 1


def _day_spans(day: int, open_: Sequence[Span]) -> list[tuple[int, int, bool]]:
    """A day as spans of (from, to, open), with none left out."""
    start, end = day * DAY, (day + 1) * DAY
    spans: list[tuple[int, int, bool]] = []
    at = start
    for opens, closes in sorted(open_):
        opens, closes = max(opens, at), min(closes, end)
        if opens >= closes:
            continue
        if opens > at:
            spans.append((at, opens, False))
        spans.append((opens, closes, True))
        at = closes
    if at < end:
        spans.append((at, end, False))
    return spans


def _axis(first: int, days: list[list[tuple[int, int, bool]]], room: float) -> Axis:
    shut = [all(not opened for _, _, opened in spans) for spans in days]
    fixed = CLOSED_DAY * sum(shut) if not all(shut) else 0.0
    weights = [
        sum((to - start) * (1.0 if opened else NIGHT) for start, to, opened in spans) for spans in days
    ]
    total = sum(weight for weight, day_shut in zip(weights, shut, strict=True) if not day_shut or not fixed)
    breaks, places, closed = [first * DAY], [0.0], []
    for spans, weight, day_shut in zip(days, weights, shut, strict=True):
        wide = CLOSED_DAY if day_shut and fixed else (room - fixed) * weight / total
        for start, to, opened in spans:
            breaks.append(to)
            places.append(places[-1] + wide * (to - start) * (1.0 if opened else NIGHT) / weight)
            if not opened:
                closed.append((start, to))
    return Axis(
        first=first,
        last=first + len(days),
        breaks=tuple(breaks),
        places=tuple(places),
        closed=tuple(closed),
    )
