"""Amounts as people write them, to exact values in SI.

Exact sizes of units: NIST Handbook 44, Appendix C (2024); NIST SP 811, Appendix B (2008).
"""

from fractions import Fraction

import pytest

from castlang.source.model import Span
from castlang.spec.amounts import money_an_hour, quantity_of
from castlang.spec.ledger import Ledger
from castlang.spec.quantity import Dimension, Money, Quantity
from castlang.spec.units import currencies, near_unit, plain_units, unit_of
from castlang.syntax.grammar import Refusal, read_line
from castlang.syntax.model import Part

LINE = Span(file="a.pour", line=1, column=1, end=2)


def amount_part(text: str) -> Part:
    """The amount as the language reads it, on a line that takes any."""
    line = read_line(f"density {text}", "stock", LINE)
    assert isinstance(line, Part), f"{text} is refused"
    part = line.part("amount")
    assert part is not None
    return part


def amount(text: str, *dimensions: Dimension, word: str | None = None) -> Quantity:
    ledger = Ledger()
    found = quantity_of(ledger, amount_part(text), *dimensions, word=word)
    assert found is not None, [p.message for p in ledger.problems]
    return found


def refusal(text: str, *dimensions: Dimension, word: str | None = None) -> tuple[str, str, str | None]:
    """The name, message and remedy of the one finding."""
    ledger = Ledger()
    quantity_of(ledger, amount_part(text), *dimensions, word=word)
    (problem,) = ledger.problems
    return problem.finding.name, problem.message, problem.remedy


@pytest.mark.parametrize(
    ("text", "si"),
    [
        # NIST Handbook 44, Appendix C, "Tables of Units of Measurement": length, area, volume, mass
        ("1 in", "0.0254"),
        ("1 ft", "0.3048"),
        ("1 yd", "0.9144"),
        ("1/64 in", "0.000396875"),
        ("1 mil", "0.0000254"),
        ("1 ft2", "0.09290304"),
        ("1 ft3", "0.028316846592"),
        ("1 gal", "0.003785411784"),
        ("1 qt", "0.000946352946"),
        ("16 fl-oz", "0.000473176473"),  # one pint
        ("1 fl-oz", "0.0000295735295625"),
        ("1 lb", "0.45359237"),
        ("1 oz", "0.028349523125"),
        ("94 lb", "42.63768278"),
        # the International System, NIST SP 330 (2019)
        ("1 um", "0.000001"),
        ("1 mm", "0.001"),
        ("1 cm", "0.01"),
        ("1 mL", "0.000001"),
        ("1 L", "0.001"),
        ("1 mg", "0.000001"),
        ("1 g", "0.001"),
        ("1 t", "1000"),
        ("1 min", "60"),
        ("1 h", "3600"),
        ("1 days", "86400"),
        ("1 weeks", "604800"),
        ("1 MPa", "1000000"),
    ],
)
def test_a_unit_has_its_exact_size(text: str, si: str) -> None:
    found = amount(text).si

    assert found == Fraction(si)


@pytest.mark.parametrize(
    ("text", "si"),
    [
        # NIST SP 811, Appendix B.8: factors given there to seven digits, here to their exact fraction
        ("1 psi", Fraction("0.45359237") * Fraction("9.80665") / Fraction("0.0254") ** 2),
        ("1 lb/ft3", Fraction("0.45359237") / Fraction("0.3048") ** 3),
        ("1 lb/ft2", Fraction("0.45359237") / Fraction("0.3048") ** 2),
        ("1 oz/ft2", Fraction("0.028349523125") / Fraction("0.3048") ** 2),
        ("1 ft2/gal", Fraction("0.09290304") / Fraction("0.003785411784")),
        ("1 gal/ft2", Fraction("0.003785411784") / Fraction("0.09290304")),
        ("1 ft2/h", Fraction("0.09290304") / 3600),
        ("1 ft/min", Fraction("0.3048") / 60),
        ("1 kg/m3", Fraction(1)),
        ("1 g/m2", Fraction(1, 1000)),
        ("1 L/m2", Fraction(1, 1000)),
        ("1 m2/L", Fraction(1000)),
        ("1 m2/h", Fraction(1, 3600)),
        ("1 L/h", Fraction(1, 3600000)),
    ],
)
def test_a_compound_unit_is_built_from_exact_parts(text: str, si: Fraction) -> None:
    found = amount(text).si

    assert found == si


@pytest.mark.parametrize(
    ("text", "figures", "shown"),
    [
        # NIST SP 811, Appendix B.8 and B.9
        ("1 psi", 10, "6894.757293"),
        ("1 lb/ft3", 8, "16.018463"),
        ("1 ft2/gal", 6, "24.5424"),
    ],
)
def test_a_compound_unit_agrees_with_the_table_to_all_its_figures(
    text: str, figures: int, shown: str
) -> None:
    found = f"{float(amount(text).si):.{figures}g}"

    assert found == shown


def test_a_us_gallon_is_231_cubic_inches() -> None:
    gallon = amount("1 gal").si

    assert gallon == 231 * Fraction("0.0254") ** 3  # NIST Handbook 44, Appendix C


def test_an_imperial_gallon_is_another_unit_than_the_us_gallon() -> None:
    imperial = amount("1 imp-gal").si

    assert imperial == Fraction("0.00454609")  # NIST SP 811, Appendix B.8
    assert imperial != amount("1 gal").si


def test_a_fluid_ounce_is_a_volume_and_an_ounce_a_mass() -> None:
    dimensions = amount("1 fl-oz").dimension, amount("1 oz").dimension

    assert dimensions == (Dimension.VOLUME, Dimension.MASS)


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        # an inch is 25.4 mm: NIST Handbook 44, Appendix C
        ("3/8 in", "9.525"),
        ('3/8"', "9.525"),
        ('1-1/2"', "38.1"),
        ("1-1/2 in", "38.1"),
        ("1 1/2 in", "38.1"),
        ('1 1/2"', "38.1"),
        ("4'-6 1/2\"", "1384.3"),
        ("4' 6-1/2\"", "1384.3"),
        ("4'6\"", "1371.6"),
        ("12'", "3657.6"),
        ("5 ft 2 in", "1574.8"),
        ("5 ft 3 7/8 in", "1622.425"),
        ("5 ft 3-7/8 in", "1622.425"),
        ('0.5"', "12.7"),
        ("15.5 mm", "15.5"),
    ],
)
def test_a_length_is_read_exactly_as_the_shop_writes_it(text: str, millimetres: str) -> None:
    found = amount(text)

    assert found.si * 1000 == Fraction(millimetres)
    assert found.dimension is Dimension.LENGTH


@pytest.mark.parametrize(
    ("text", "si"),
    [
        ("6 lb 4 oz", "2.834952312500"),  # 6.25 lb, NIST Handbook 44, Appendix C
        ("2 gal 3 qt", "0.010409882406"),  # 2.75 gal, the same
        ("1 days 6 h", "108000"),
        ("1 h 15 min", "4500"),
    ],
)
def test_two_amounts_of_one_kind_add_up_where_people_say_them_so(text: str, si: str) -> None:
    found = amount(text).si

    assert found == Fraction(si)


@pytest.mark.parametrize(
    "text",
    ["600 mm 400 mm", "2 in 5 ft", "4 oz 6 lb", "30 min 2 h", "6 h 20 s", "2 days 3 days", "1 ft 2 mm"],
)
def test_two_amounts_that_nobody_says_together_are_refused(text: str) -> None:
    name, message, _ = refusal(text)

    assert name == "two-amounts"
    assert message == f"`{text}` does not add up to one amount"


@pytest.mark.parametrize(
    ("text", "kelvin"),
    [
        # NIST SP 811, Appendix B.8: T/K = t/degC + 273.15 = (t/degF + 459.67)/1.8
        ("20 degC", "293.15"),
        ("0 degC", "273.15"),
        ("-5 degC", "268.15"),
        ("68 degF", "293.15"),
        ("32 degF", "273.15"),
        ("-40 degF", "233.15"),
        ("-40 degC", "233.15"),
        ("212 degF", "373.15"),
    ],
)
def test_a_temperature_is_a_point_on_the_scale(text: str, kelvin: str) -> None:
    found = amount(text)

    assert found.si == Fraction(kelvin)
    assert found.dimension is Dimension.TEMPERATURE


def test_a_difference_of_temperature_is_no_temperature() -> None:
    step = amount("10 K")

    assert (step.si, step.dimension) == (Fraction(10), Dimension.TEMPERATURE_STEP)
    assert refusal("10 K", Dimension.TEMPERATURE)[0] == "wrong-unit"
    assert refusal("10 degC", Dimension.TEMPERATURE_STEP)[0] == "wrong-unit"


def test_two_temperatures_are_never_added() -> None:
    assert refusal("20 degC 5 degC")[0] == "two-amounts"


@pytest.mark.parametrize("text", ["20 degC/h", "1 mm/degF", "5 K/h"])
def test_a_temperature_stands_in_no_compound_unit(text: str) -> None:
    assert refusal(text)[0] == "unknown-unit"


@pytest.mark.parametrize(
    ("word", "hint"),
    [
        ("pcs", "pieces"),
        ("C", "degC"),
        ("F", "degF"),
        ("M", "MPa"),
        ("pint", "fl-oz"),
        ("pt", "fl-oz"),
        ("cup", "mL"),
        ("cc", "mL"),
        ("ton", "lb or kg"),
        ("sqft", "ft2"),
        ("sf", "ft2"),
        ("pcf", "lb/ft3"),
        ("psf", "lb/ft2"),
        ("floz", "fl-oz"),
        ("KG", "`kg`"),
        ("Min", "`min`"),
        ("Kg", "`kg`"),
        ("degc", "`degC`"),
        ("mim", "`mm`"),
        ("eur", "`EUR`"),
        ("gl", "`gal`"),
    ],
)
def test_a_word_that_could_mean_two_things_is_refused_with_what_to_write(word: str, hint: str) -> None:
    name, message, remedy = refusal(f"5 {word}")

    assert (name, message) == ("unknown-unit", f"`{word}` is not a unit")
    assert remedy is not None
    assert hint in remedy


@pytest.mark.parametrize(
    "word", ["bag", "sack", "jug", "xyzzy", "month", "year", "MM", "m4", "kg/", "µ", "sheet"]
)
def test_no_other_word_is_a_unit(word: str) -> None:
    assert unit_of(word) is None


@pytest.mark.parametrize(
    ("spelled", "plain"),
    [
        ("2 hrs", "2 h"),
        ("15 mins", "15 min"),
        ("3 lbs", "3 lb"),
        ("20 °C", "20 degC"),
        ("68 °F", "68 degF"),
        ("4 m²", "4 m2"),
        ("2 m³", "2 m3"),
        ("5 feet", "5 ft"),
        ("1 day", "1 days"),
        ("1 week", "1 weeks"),
        ("5 l", "5 L"),
        ("5 µm", "5 um"),
    ],
)
def test_a_common_spelling_that_means_one_thing_is_read(spelled: str, plain: str) -> None:
    assert amount(spelled) == amount(plain)


def test_a_count_carries_its_word_and_one_and_many_are_the_same() -> None:
    one, many = amount("1 coat"), amount("3 coats")

    assert (one.dimension, one.word, one.si) == (Dimension.COUNT, "coats", Fraction(1))
    assert (many.dimension, many.word, many.si) == (Dimension.COUNT, "coats", Fraction(3))


@pytest.mark.parametrize(("text", "count"), [("2 bags", 2), ("1 bag", 1), ("1/2 bag", Fraction(1, 2))])
def test_packages_are_counted_in_their_own_word(text: str, count: Fraction | int) -> None:
    found = amount(text, Dimension.COUNT, word="bag")

    assert (found.si, found.word) == (count, "bag")


def test_packages_are_counted_in_no_other_word() -> None:
    name, _, remedy = refusal("2 sacks", Dimension.COUNT, word="bag")

    assert (name, remedy) == ("unknown-unit", "packages are counted in bags here")


def test_a_share_is_a_hundredth_part() -> None:
    found = amount("6 %")

    assert (found.si, found.dimension) == (Fraction(6, 100), Dimension.SHARE)


def test_money_carries_its_code_and_a_wage_is_money_an_hour() -> None:
    price = amount("19.50 EUR")
    wage = money_an_hour(Ledger(), amount_part("44 USD/h"))

    assert (price.si, price.dimension, price.word) == (Fraction("19.5"), Dimension.MONEY, "EUR")
    assert wage == Money(amount=Fraction(44), currency="USD")


@pytest.mark.parametrize("text", ["44 EUR/kg", "44 EURO", "44 USD/h/h", "5 h/USD"])
def test_other_money_is_refused(text: str) -> None:
    assert refusal(text)[0] == "unknown-unit"


@pytest.mark.parametrize(
    ("text", "dimension", "message"),
    [
        ("15 min", Dimension.LENGTH, "`15 min` is a time, not a length"),
        ("3 oz", Dimension.VOLUME, "`3 oz` is a mass, not a volume"),
        ("3 fl-oz", Dimension.MASS, "`3 fl-oz` is a volume, not a mass"),
        ("9 L/m2", Dimension.COVERAGE, "`9 L/m2` is a volume per area, not an area per volume"),
        ("40 EUR", Dimension.MONEY_RATE, "`40 EUR` is money, not money per time"),
        ("2 coats", Dimension.LENGTH, "`2 coats` is a count, not a length"),
    ],
)
def test_an_amount_of_another_kind_is_refused_by_name(text: str, dimension: Dimension, message: str) -> None:
    name, said, remedy = refusal(text, dimension)

    assert (name, said) == ("wrong-unit", message)
    assert remedy is not None
    assert remedy.startswith("write ")


def test_a_fraction_over_nothing_is_refused() -> None:
    assert refusal("1/0 in")[0] == "bad-value"


@pytest.mark.parametrize(
    "text",
    ["1,200 mm", "1.200,5 mm", "$44", "15-40 min", ".5 mm", "5. mm", "2 400 mm", "1/2/3 in", "5' 6", '6"5'],
)
def test_a_number_that_could_be_read_wrongly_is_refused_by_the_grammar(text: str) -> None:
    assert isinstance(read_line(f"density {text}", "stock", LINE), Refusal)


def test_no_unit_is_also_a_currency() -> None:
    assert set(plain_units()) & currencies() == set()


def test_every_plain_unit_is_one() -> None:
    missing = [word for word in plain_units() if unit_of(word) is None]

    assert missing == []


def test_a_near_word_is_offered_only_when_there_is_one() -> None:
    assert near_unit("kgs") == "did you mean `kg`?"
    assert near_unit("frobnicate") is None
