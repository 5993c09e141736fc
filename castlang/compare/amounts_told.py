"""What a comparison says in amounts: materials and packages, weights, money, work."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from castlang.compare.model import Amount, Comparison, Sum
from castlang.sheets import amounts, times
from castlang.sheets.model import Align, Caution, Column, Facts, Prose, Row, Table
from castlang.spec.quantity import Money

Told = Table | Prose | Caution | Facts
"""The blocks that a comparison is told in."""


def cut(lines: Sequence[str], most: int | None) -> tuple[str, ...]:
    """The first lines, and how many more there are."""
    if most is None or len(lines) <= most:
        return tuple(lines)
    return (*lines[: most - 1], f"and {len(lines) - most + 1} more: `castlang compare` prints them all")


def more_text(amount: int | Fraction, text: str) -> str:
    """`text` more or less, by the sign of the amount."""
    if not amount:
        return "as before"
    return f"{text} {'more' if amount > 0 else 'less'}"


def sum_text(line: Sum) -> str:
    """What something costs now, and what it cost before."""
    before = amounts.money(line.old) if line.old is not None else "no price"
    after = amounts.money(line.new) if line.new is not None else "no price"
    more = _money_more(line)
    return f"{after}, {more}; was {before}" if more else f"{after}; was {before}"


def _money_more(line: Sum) -> str:
    """`18.10 EUR more`; empty where the two cannot be compared."""
    before, after = line.old, line.new
    known = before or after
    if known is None or (before and after and before.currency != after.currency):
        return ""
    gap = (after.amount if after else Fraction(0)) - (before.amount if before else Fraction(0))
    return more_text(gap, amounts.money(Money(amount=abs(gap), currency=known.currency)))


def order_told(told: Comparison, most: int | None) -> Prose:
    """What to order, and what is left over: whole packages."""
    lines = [f"{amount.label}: {_so(amount)}" for amount in told.amounts if _so(amount)]
    if not lines:
        return Prose(title="To buy, and left over", lines=("Nothing more to buy, and nothing left over.",))
    said = [line for line in lines if "left over" in line]
    rest = () if said else ("nothing is left over",)
    bought = [] if len(said) < len(lines) else ["nothing more to buy"]
    return Prose(title="To buy, and left over", lines=(*bought, *cut(lines, most), *rest), points=True)


def materials_told(told: Comparison, units: str, most: int | None) -> Iterator[Told]:
    """The table of what is needed of each material; the first `most` rows."""
    if not told.amounts:
        return
    rows = [_amount_row(amount, units) for amount in told.amounts]
    shown = rows if most is None else rows[:most]
    yield Table(
        key="materials",
        title="Materials",
        columns=(
            Column(key="material", title="material", share=2.6),
            Column(key="net_was", title="net, was", align=Align.RIGHT, share=1.2, spare=2),
            Column(key="net_is", title="net, is", align=Align.RIGHT, share=1.2, spare=2),
            Column(key="need_was", title="with waste, was", align=Align.RIGHT, share=1.3),
            Column(key="need_is", title="with waste, is", align=Align.RIGHT, share=1.3),
            Column(key="sold_as", title="sold as", share=1.6, spare=3),
            Column(key="buy_was", title="buy, was", align=Align.RIGHT, share=0.7, spare=1),
            Column(key="buy_is", title="buy, is", align=Align.RIGHT, share=0.7),
        ),
        rows=tuple(shown),
    )
    if len(rows) > len(shown):
        yield Prose(lines=(f"and {len(rows) - len(shown)} more: `castlang compare` prints them all",))


def _amount_row(amount: Amount, units: str) -> Row:
    def total(value: Fraction) -> str:
        return amounts.total(value, amount.dimension, units)

    sold = amount.new_sold or amount.old_sold or ""
    if amount.old_sold and amount.new_sold and amount.old_sold != amount.new_sold:
        sold = f"{amount.new_sold}, was {amount.old_sold}"
    return Row(
        cells=(
            amount.label,
            total(amount.old_net),
            total(amount.new_net),
            total(amount.old_need),
            total(amount.new_need),
            sold,
            "" if amount.old_buy is None else str(amount.old_buy),
            "" if amount.new_buy is None else str(amount.new_buy),
        ),
        strong=bool(amount.more) or (amount.more is None and amount.old_sold != amount.new_sold),
    )


def _so(amount: Amount) -> str:
    """What it means for the order; empty where that stays as it is."""
    by = f", by {times.day(amount.order_by)}" if amount.order_by is not None else ""
    if amount.more is None:  # other packages than before, or none at all
        return "; ".join(
            words
            for words in (
                f"buy {_packages(amount.new_buy, amount.new_sold)}{by}" if amount.new_buy else "",
                f"{_packages(amount.old_buy, amount.old_sold)} left over" if amount.old_buy else "",
            )
            if words
        )
    if amount.more > 0:
        return f"buy {_packages(amount.more, amount.new_sold)} more{by}"
    if amount.more < 0:
        return f"{_packages(-amount.more, amount.old_sold)} left over: do not order, or send back"
    return ""


def _packages(number: int | None, sold: str | None) -> str:
    """`2 bags of 25 kg`, `1 piece`."""
    word, of, size = (sold or "package").partition(" of ")
    return f"{number or 0} {word}{'s' if number != 1 else ''}{of}{size}"


# ---------------------------------------------------------------- figures


def figures_told(told: Comparison, units: str, most: int | None) -> Iterator[Told]:
    """The table of weights, sums of money and hours of work; the first `most` rows."""
    rows = [
        *(_weight_row(w.label, w.old, w.new, units) for w in told.weights),
        *(_sum_row(line) for line in told.sums),
        *(_work_row(w.label, w.old, w.new) for w in told.work),
    ]
    shown = rows if most is None else rows[:most]
    if not rows:
        return
    yield Table(
        key="figures",
        title="Weight, money, work",
        columns=(
            Column(key="what", title="what", share=3.4),
            Column(key="was", title="was", align=Align.RIGHT, share=1.5),
            Column(key="is", title="is", align=Align.RIGHT, share=1.5),
            Column(key="difference", title="difference", align=Align.RIGHT, share=1.8),
        ),
        rows=tuple(shown),
    )
    if len(rows) > len(shown):
        yield Prose(lines=(f"and {len(rows) - len(shown)} more: `castlang compare` prints them all",))


def _weight_row(label: str, old: Fraction | None, new: Fraction | None, units: str) -> Row:
    gap = (new or Fraction(0)) - (old or Fraction(0))
    return Row(
        cells=(
            f"weight of {label}, each",
            "" if old is None else amounts.mass(old, units),
            "" if new is None else amounts.mass(new, units),
            more_text(gap, amounts.mass(abs(gap), units)),
        )
    )


def _sum_row(line: Sum) -> Row:
    return Row(
        cells=(
            line.what,
            "" if line.old is None else amounts.money(line.old),
            "" if line.new is None else amounts.money(line.new),
            _money_more(line),
        ),
        strong=line.what == "cost in all",
    )


def _work_row(label: str, old: int, new: int) -> Row:
    gap = new - old
    return Row(
        cells=(
            f"work on {label}",
            times.working_hours(old),
            times.working_hours(new),
            more_text(gap, times.working_hours(abs(gap))),
        )
    )
