"""The chart of a plan: a row for each piece of work, bars over the days, the meaning of the bars beside them.

Rows that do not fit go on on the next page, under the days again; days that do not fit go on on further
pages, where rows with nothing in those days are left out.
"""

from collections.abc import Callable, Iterator, Sequence

from castlang.out.pdf import patterns
from castlang.out.pdf.axis import DAY, Axis, axes
from castlang.out.pdf.pen import FINE, HAIR, RULE, Pen
from castlang.out.pdf.prose import heading_strip
from castlang.out.pdf.strip import Room, Strip
from castlang.out.pdf.text import BODY, SMALL, Style, cut, limited, one_line, width, wrapped
from castlang.sheets.model import Bar, BarKind, Chart, ChartRow

LABEL_SHARE = 0.21  # of the width
LABEL_LEAST = 118.0
GUTTER = 9.0  # beside the days, for the arrows of what goes on
ROW = 19.0
LABEL_SIZES = (9.5, 8.5)  # a long label is set smaller, down to the last, then shortened
LABEL_LINES = 3
DAY_NAME = Style(size=9, bold=True)
HOUR = Style(size=8)
SAMPLE = 26.0
HOUR_APART = 9.9  # points between two hours that are named
HOUR_STEPS = (60, 120, 180, 240, 360)  # minutes between two hours that are named
LEGEND_LINE = 17.0

Sample = Callable[[Pen, float, float], None]  # with a pen, from the left, at the middle


def _bar_sample(kind: BarKind, critical: bool) -> Sample:
    return lambda pen, left, middle: patterns.bar(pen, left, middle, SAMPLE, kind, critical)


def _slack_sample(pen: Pen, left: float, middle: float) -> None:
    patterns.slack(pen, left, middle, left + SAMPLE - 2, ends=True)


def _closed_sample(pen: Pen, left: float, middle: float) -> None:
    patterns.closed(pen, left, middle + 6, SAMPLE, 12)
    pen.frame(left, middle + 6, SAMPLE, 12, HAIR)


LEGEND: tuple[tuple[Sample, str], ...] = (
    (_bar_sample(BarKind.WORK, True), "work, critical"),
    (_bar_sample(BarKind.WORK, False), "work"),
    (_bar_sample(BarKind.WAIT, True), "wait, critical"),
    (_bar_sample(BarKind.WAIT, False), "wait"),
    (_slack_sample, "could slip to here"),
    (_closed_sample, "shop closed, drawn narrow"),
)


def chart_strips(chart: Chart, room: Room) -> Iterator[Strip]:
    """The title, then for each run of days a head of days and the rows with something in them."""
    labels = max(LABEL_LEAST, room.width * LABEL_SHARE)
    parts = axes(len(chart.days), chart.open, room.width - labels - 2 * GUTTER)
    if chart.title:
        yield heading_strip(chart.title, room)
    if not parts or not chart.rows:
        yield _note("nothing planned", room.width)
        return
    for number, axis in enumerate(parts):
        head = _head(chart, axis, labels, room.width)
        yield Strip(height=head.height, draw=head.draw, before=6 if number == 0 else 18, with_next=True)
        rows = [row for row in chart.rows if _touches(row, axis)]
        for row in rows:
            yield _row(row, axis, labels, room.width, head)
        if not rows:
            yield _note("nothing planned in these days", room.width)


def _touches(row: ChartRow, axis: Axis) -> bool:
    """Whether a bar lies in these days; slack alone, which an arrow tells of, is not worth a row."""
    spans = [(bar.start, max(bar.end, bar.start + 1)) for bar in row.bars]
    return any(start < axis.end and end > axis.start for start, end in spans) or not row.bars


def _slack(row: ChartRow) -> list[tuple[int, int]]:
    """From the end of the row's last bar to where it could slip, if it can."""
    end = max((bar.end for bar in row.bars), default=0)
    return [(end, row.slack_to)] if row.bars and row.slack_to is not None and row.slack_to > end else []


def _note(text: str, wide: float) -> Strip:
    def draw(pen: Pen, left: float, top: float) -> None:
        pen.lines(left + 4, top - 4, (text,), BODY)
        pen.line(left, top - BODY.leading - 8, left + wide, top - BODY.leading - 8, FINE)

    return Strip(height=BODY.leading + 9, draw=draw)


def _head(chart: Chart, axis: Axis, labels: float, wide: float) -> Strip:
    """What the bars mean, which days these are, and the days with their hours."""
    names = [_day_name(chart.days[day], _day_width(axis, day)) for day in range(axis.first, axis.last)]
    name_lines = max(len(name) for name in names)
    legend = LEGEND_LINE * len(_legend_lines(wide)) + 4
    band = name_lines * DAY_NAME.leading + HOUR.leading + 6
    whole = axis.first == 0 and axis.last == len(chart.days)
    days = "" if whole else f"days {axis.first + 1} to {axis.last} of {len(chart.days)}"

    def draw(pen: Pen, left: float, top: float) -> None:
        _legend(pen, left, top, wide)
        start, low = left + labels + GUTTER, top - legend - band
        pen.line(left, top - legend, left + wide, top - legend, FINE)
        pen.line(left, low, left + wide, low, RULE)
        pen.lines(left, low + SMALL.leading + 3, (cut(days, SMALL, labels),), SMALL)
        for day, name in zip(range(axis.first, axis.last), names, strict=True):
            begin = start + axis.place(day * DAY)
            pen.line(begin, top - legend, begin, low, RULE)
            pen.lines(begin + 3, top - legend - 2, name, DAY_NAME)
        pen.line(start + axis.places[-1], top - legend, start + axis.places[-1], low, RULE)
        _hours(pen, axis, chart.hours, start, low)

    return Strip(height=legend + band, draw=draw)


def _day_width(axis: Axis, day: int) -> float:
    return axis.place((day + 1) * DAY) - axis.place(day * DAY)


def _day_name(name: str, wide: float) -> tuple[str, ...]:
    """On one line, or with the day of the week above the date."""
    if width(one_line(name), DAY_NAME) <= wide - 5:
        return (one_line(name),)
    first, _, rest = name.partition(" ")
    return limited(f"{first}\n{rest}" if rest else first, DAY_NAME, wide - 5, 3)


def _hours(pen: Pen, axis: Axis, names: tuple[str, ...], left: float, low: float) -> None:
    """The hours in which the shop is open, as many as can be read."""
    scale = max(_scale(axis), 0.001)
    room = max(width(name, HOUR) for name in names) + HOUR_APART
    step = next((minutes for minutes in HOUR_STEPS if minutes * scale > room), None)
    if step is None:
        return
    for minute in range(axis.start, axis.end + 1, 60):
        if minute % DAY == 0 or any(start < minute < to for start, to in axis.closed):
            continue
        place = left + axis.place(minute)
        named = minute % step == 0
        pen.line(place, low, place, low + (3.5 if named else 2), FINE)
        text = names[minute % DAY // 60]
        if named:
            pen.text(place - width(text, HOUR) / 2, low + 5, text, HOUR)


def _scale(axis: Axis) -> float:
    """Points to an open minute, where it is least."""
    shut = dict(axis.closed)
    scales = [
        (axis.places[i + 1] - axis.places[i]) / (axis.breaks[i + 1] - axis.breaks[i])
        for i in range(len(axis.breaks) - 1)
        if axis.breaks[i] not in shut
    ]
    return min(scales, default=0.0)


def _legend_lines(room: float) -> list[list[tuple[Sample, str, float]]]:
    """The samples and their words, each with its place from the left, on as many lines as they need."""
    lines: list[list[tuple[Sample, str, float]]] = [[]]
    left = 0.0
    for sample, word in LEGEND:
        wide = SAMPLE + 5 + width(word, SMALL)
        if lines[-1] and left + wide > room:
            lines.append([])
            left = 0.0
        lines[-1].append((sample, word, left))
        left += wide + 15
    return lines


def _legend(pen: Pen, left: float, top: float, room: float) -> None:
    for number, line in enumerate(_legend_lines(room)):
        middle = top - LEGEND_LINE * (number + 0.5)
        for sample, word, place in line:
            sample(pen, left + place, middle)
            pen.text(left + place + SAMPLE + 5, middle - SMALL.size * 0.36, word, SMALL)


def _row(row: ChartRow, axis: Axis, labels: float, wide: float, head: Strip) -> Strip:
    style, lines = _label(row, labels - 10)
    height = max(ROW, len(lines) * style.leading + 3)

    def draw(pen: Pen, left: float, top: float) -> None:
        start, middle = left + labels + GUTTER, top - height / 2
        for begin, end in axis.closed:
            place = axis.place(begin)
            patterns.closed(pen, start + place, top, axis.place(end) - place, height)
        for day in range(axis.first, axis.last + 1):
            place = start + axis.place(day * DAY)
            pen.line(place, top, place, top - height, FINE)
        if row.critical:
            pen.black(left, top - 1.5, 4, height - 3)
        pen.lines(left + 8, top - (height - len(lines) * style.leading) / 2, lines, style)
        pen.line(left, top - height, left + wide, top - height, HAIR)
        _bars(pen, row, axis, start, middle)

    return Strip(height=height, draw=draw, repeat=head)


def _label(row: ChartRow, room: float) -> tuple[Style, tuple[str, ...]]:
    """The largest size in which the label stands whole; else the smallest, shortened."""
    style = Style(size=LABEL_SIZES[-1], bold=row.critical)
    for size in LABEL_SIZES:
        style = Style(size=size, bold=row.critical)
        lines = wrapped(row.label, style, room)
        if len(lines) <= LABEL_LINES:
            return style, lines
    return style, limited(row.label, style, room, LABEL_LINES)


def _bars(pen: Pen, row: ChartRow, axis: Axis, left: float, middle: float) -> None:
    for begin, end in _slack(row):
        if begin < axis.end and end > axis.start:
            ends = end <= axis.end
            patterns.slack(pen, left + axis.place(begin), middle, left + axis.place(end), ends=ends)
    for bar in sorted(row.bars, key=lambda b: (b.kind is BarKind.WORK, b.critical, b.start)):
        if (bar.start < axis.end and bar.end > axis.start) or bar.start == bar.end == axis.start:
            _bar(pen, bar, axis, left, middle)
    spans: Sequence[tuple[int, int]] = [(bar.start, bar.end) for bar in row.bars] + _slack(row)
    if any(begin < axis.start < end for begin, end in spans):
        _arrow(pen, left - 6.5, middle, -1)
    if any(begin < axis.end < end for begin, end in spans):
        _arrow(pen, left + axis.places[-1] + 6.5, middle, 1)


def _bar(pen: Pen, bar: Bar, axis: Axis, left: float, middle: float) -> None:
    begin, end = axis.place(bar.start), axis.place(bar.end)
    wide = max(end - begin - 0.5, patterns.narrowest(bar.kind, bar.critical))
    begin = max(0.0, min(begin, axis.places[-1] - wide))
    patterns.bar(pen, left + begin, middle, wide, bar.kind, bar.critical)


def _arrow(pen: Pen, tip: float, middle: float, way: int) -> None:
    """It goes on on the page before or after."""
    pen.shape([(tip, middle), (tip - 5 * way, middle + 4), (tip - 5 * way, middle - 4)], fill=True)
