"""How amounts and times are shown. Exact sizes of units: NIST Handbook 44, Appendix C (2024); NIST SP 811,
Appendix B (2008)."""

from datetime import date, datetime
from fractions import Fraction

import pytest

from castlang.sheets import amounts, times
from castlang.sheets.amounts import FOOT, GALLON, INCH, OUNCE, POUND
from castlang.sheets.scale import scale_readings, scale_unit
from castlang.spec.model import Window
from castlang.spec.quantity import Dimension, Money, Quantity


@pytest.mark.parametrize(
    ("unit", "exact"),
    [
        # NIST Handbook 44, Appendix C, tables of exact equivalents
        (INCH, Fraction("0.0254")),
        (FOOT, Fraction("0.3048")),
        (FOOT**2, Fraction("0.09290304")),
        (FOOT**3, Fraction("0.028316846592")),
        (GALLON, Fraction("0.003785411784")),
        (GALLON / 4, Fraction("0.000946352946")),
        (amounts.FLUID_OUNCE, Fraction("0.0000295735295625")),
        (POUND, Fraction("0.45359237")),
        (OUNCE, Fraction("0.028349523125")),
    ],
)
def test_us_units_have_their_exact_size(unit: Fraction, exact: Fraction) -> None:
    assert unit == exact


def test_a_pound_per_square_inch_is_6894_757_293_pascals() -> None:
    shown = amounts.fixed(amounts.POUND_FORCE_PER_SQUARE_INCH, 6)

    assert shown == "6894.757293"  # NIST SP 811, Appendix B.8


@pytest.mark.parametrize(
    ("value", "places", "shown"),
    [
        (Fraction(5, 2), 0, "2"),
        (Fraction(7, 2), 0, "4"),
        (Fraction("0.125"), 2, "0.12"),
        (Fraction("0.375"), 2, "0.38"),
        (Fraction("-0.125"), 2, "-0.12"),
        (Fraction("-0.001"), 2, "0.00"),
        (Fraction("1234567.5"), 1, "1234567.5"),
        (Fraction("0.05"), 3, "0.050"),
    ],
)
def test_a_half_goes_to_the_even_digit_and_nothing_marks_thousands(
    value: Fraction, places: int, shown: str
) -> None:
    assert amounts.fixed(value, places) == shown


def test_rounded_parts_add_up_to_their_rounded_sum() -> None:
    parts = [Fraction(1, 3)] * 3 + [Fraction(1, 7)] * 4

    rounded = amounts.rounded_to_sum(parts, 2)

    assert sum(rounded) == Fraction(157, 100)
    assert all(abs(shown - part) < Fraction(1, 100) for shown, part in zip(rounded, parts, strict=True))


@pytest.mark.parametrize(
    ("metres", "metric", "us"),
    [
        (Fraction("1.08"), "1080 mm", "3'-6 1/2\""),
        (Fraction("0.0015"), "1.5 mm", "0.059 in"),
        (INCH / 16, "1.6 mm", '1/16"'),
        (Fraction("0.007"), "7 mm", '1/4"'),
        (Fraction("1.5") * INCH, "38.1 mm", '1-1/2"'),
        (54 * INCH + INCH / 2, "1384.3 mm", "4'-6 1/2\""),
        (36 * INCH, "914.4 mm", "3'-0\""),
        (Fraction("35.99") * INCH, "914.1 mm", "3'-0\""),
        (Fraction("0.0005"), "0.5 mm", "0.020 in"),
        (Fraction(0), "0 mm", '0"'),
    ],
)
def test_lengths_are_millimetres_or_feet_and_sixteenths(metres: Fraction, metric: str, us: str) -> None:
    assert (amounts.length(metres, "metric"), amounts.length(metres, "us")) == (metric, us)


@pytest.mark.parametrize(
    ("cubic_metres", "metric", "us"),
    [
        (Fraction("0.000350"), "350 mL", "11.8 fl-oz"),
        (Fraction("0.0245"), "24.5 L", "6.47 gal"),
        (Fraction("0.0019"), "1.9 L", "2.01 qt"),
        (Fraction("0.0009999"), "1 L", "1.06 qt"),
        (Fraction("2.5"), "2.5 m3", "660.4 gal"),
    ],
)
def test_volumes_change_unit_with_their_size(cubic_metres: Fraction, metric: str, us: str) -> None:
    assert (amounts.volume(cubic_metres, "metric"), amounts.volume(cubic_metres, "us")) == (metric, us)


@pytest.mark.parametrize(
    ("kilograms", "metric", "us"),
    [
        (Fraction("0.0085"), "8.5 g", "0.3 oz"),
        (Fraction("0.355"), "355 g", "12.5 oz"),
        (Fraction("0.9999"), "1 kg", "2 lb 3 oz"),
        (Fraction("5.6699046"), "5.67 kg", "12 lb 8 oz"),
        (Fraction("51") * POUND, "23.1 kg", "51 lb"),
        (Fraction("240"), "240 kg", "529 lb"),
    ],
)
def test_masses_change_unit_with_their_size(kilograms: Fraction, metric: str, us: str) -> None:
    assert (amounts.mass(kilograms, "metric"), amounts.mass(kilograms, "us")) == (metric, us)


def test_a_temperature_and_a_difference_are_not_confused() -> None:
    point = Quantity(si=Fraction("293.15"), dimension=Dimension.TEMPERATURE)
    step = Quantity(si=Fraction(20), dimension=Dimension.TEMPERATURE_STEP)

    shown = [amounts.amount(q, units) for q in (point, step) for units in ("metric", "us")]

    assert shown == ["20 degC", "68 degF", "20 degC", "36 degF"]


@pytest.mark.parametrize(
    ("quantity", "metric", "us"),
    [
        (Quantity(si=Fraction(2240), dimension=Dimension.DENSITY), "2240 kg/m3", "139.8 lb/ft3"),
        (Quantity(si=Fraction("0.2"), dimension=Dimension.AREAL_MASS), "200 g/m2", "0.66 oz/ft2"),
        (Quantity(si=Fraction(9000), dimension=Dimension.COVERAGE), "9 m2/L", "367 ft2/gal"),
        (Quantity(si=Fraction("0.06"), dimension=Dimension.SHARE), "6 %", "6 %"),
        (Quantity(si=Fraction(15_000_000), dimension=Dimension.PRESSURE), "15 MPa", "2176 psi"),
        (Quantity(si=Fraction(2, 3600), dimension=Dimension.AREA_RATE), "2 m2/h", "21.5 ft2/h"),
        (Quantity(si=Fraction(3), dimension=Dimension.COUNT, word="coats"), "3 coats", "3 coats"),
        (Quantity(si=Fraction(1), dimension=Dimension.COUNT, word="coats"), "1 coat", "1 coat"),
        (
            Quantity(si=Fraction(44, 3600), dimension=Dimension.MONEY_RATE, word="EUR"),
            "44.00 EUR/h",
            "44.00 EUR/h",
        ),
    ],
)
def test_every_kind_of_amount_is_shown_with_its_unit(quantity: Quantity, metric: str, us: str) -> None:
    assert (amounts.amount(quantity, "metric"), amounts.amount(quantity, "us")) == (metric, us)


def test_money_has_two_decimals_and_its_code() -> None:
    assert amounts.money(Money(amount=Fraction("1234.5"), currency="EUR")) == "1234.50 EUR"


@pytest.mark.parametrize(
    ("si", "greatest", "by_volume", "units", "reading"),
    [
        (Fraction("12.35"), Fraction(40), False, "metric", "12.350 kg"),
        (Fraction("0.355"), Fraction("1.2"), False, "metric", "355 g"),
        (Fraction("0.0085"), Fraction("1.2"), False, "metric", "8.5 g"),
        (Fraction("5.6699046"), Fraction(40), False, "us", "12 lb 8 oz"),
        (Fraction("0.1"), Fraction("0.4"), False, "us", "3.53 oz"),
        (Fraction("0.000250"), Fraction("0.001"), True, "metric", "250 mL"),
        (Fraction("0.0025"), Fraction("0.004"), True, "metric", "2.500 L"),
        (Fraction("0.0015"), Fraction("0.004"), True, "us", "1 qt 18.72 fl-oz"),
    ],
)
def test_a_weigh_out_is_told_as_the_scale_gives_it(
    si: Fraction, greatest: Fraction, by_volume: bool, units: str, reading: str
) -> None:
    unit = scale_unit(greatest, by_volume, units)
    shown = scale_readings([si], unit)[0]

    assert (shown if " " in unit else f"{shown} {unit}") == reading


@pytest.mark.parametrize(
    ("minutes", "shown"),
    [
        (0, "0 min"),
        (35, "35 min"),
        (135, "2 h 15 min"),
        (1440, "24 h"),
        (2880, "2 days"),
        (3 * 1440 + 375, "3 days 6 h 15 min"),
        (-20, "-20 min"),
    ],
)
def test_spans_are_hours_up_to_two_days_then_days(minutes: int, shown: str) -> None:
    assert times.span(minutes) == shown


@pytest.mark.parametrize(
    ("least", "longest", "shown"),
    [(18 * 3600, 3 * 86400, "18 h to 3 days"), (0, 2700, "within 45 min"), (7200, None, "2 h")],
)
def test_windows_are_told_as_they_are_written(least: int, longest: int | None, shown: str) -> None:
    told = Window(least=Fraction(least), longest=None if longest is None else Fraction(longest))

    assert times.window(told) == shown


def test_days_and_clock_times_use_our_own_words() -> None:
    start = date(2027, 2, 1)

    assert times.full_day(start) == "Mon 1 Feb 2027"
    assert times.moment(start, 1440 + 450, "metric") == "Tue 2 Feb 07:30"
    assert times.moment(start, 450, "us") == "Mon 1 Feb 7:30 am"
    assert times.moment_after(start, 450, 600, "metric") == "10:00"
    assert times.moment_after(start, 450, 1440 + 600, "metric") == "Tue 2 Feb 10:00"
    assert [times.clock(m, "us") for m in (0, 720, 810, 1440)] == [
        "12:00 am",
        "12:00 pm",
        "1:30 pm",
        "12:00 am",
    ]
    assert times.point(datetime(2027, 1, 19, 9, 10), "metric") == "Tue 19 Jan 2027 09:10"


def test_a_weigh_out_with_a_dose_finer_than_a_gram_is_told_in_grams() -> None:
    kilo = Fraction(1)

    assert scale_unit(4 * kilo, False, "metric", [kilo, Fraction(956, 100_000)]) == "g"
    assert scale_unit(4 * kilo, False, "metric", [kilo, Fraction(956, 1000)]) == "kg"
    assert scale_unit(40 * kilo, False, "metric", [kilo, Fraction(956, 100_000)]) == "kg"
