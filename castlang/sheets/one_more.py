"""The table of what one more of each thing would save."""

from collections.abc import Sequence

from castlang.plan.model import Plan
from castlang.plan.told.one_more import Gain
from castlang.sheets import times
from castlang.sheets.model import Align, Column, Row, Table


def one_more_table(plan: Plan, gains: Sequence[Gain], units: str) -> Table:
    """One row a thing, the greatest saving first. units: "metric" or "us", for the clock."""
    start = plan.network.hours.start
    return Table(
        key="one-more",
        title="What one more would save",
        columns=(
            Column(key="one-more", title="one more", share=2),
            Column(key="finish", title="finish", share=1.5),
            Column(key="saved", title="saved", align=Align.RIGHT, share=1.2),
        ),
        rows=tuple(
            Row(
                cells=(gain.what, times.moment(start, gain.finish, units), _saved(gain)),
                data=(("finish", times.iso(start, gain.finish)), ("saved", times.span(gain.saved))),
            )
            for gain in gains
        ),
        empty="nothing in this build has a number",
    )


def _saved(gain: Gain) -> str:
    return times.about(gain.saved) if gain.saved else "none"
