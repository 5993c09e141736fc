"""How fast a wait goes at one temperature, against the temperature that it is told at.

    nurse-saul    r = (T - T0) / (Tr - T0), 0 where T <= T0
    arrhenius     r = exp(-Q (1/T - 1/Tr))
    doubling      r = 2^((T - Tr) / D)

T K of the hour, Tr K told, T0 K the datum, Q K the activation energy over the gas constant, D K the step that
doubles the rate. Age is the sum of r dt. Sources: ASTM C1074, Eq. 1 and 2; EN 1992-1-1, Annex B, (B.10),
which has Q = 4000 K and holds from 0 to 80 degC; I. A. Leenson, "Old Rule of Thumb and the Arrhenius
Equation", Journal of Chemical Education, within 15 K of Tr.

Rates are whole millionths, so that they are the same on every machine.
"""

from decimal import Decimal, localcontext
from fractions import Fraction

MILLION = 10**6
CEMENT = Fraction(4000)
"""Q in K of EN 1992-1-1, (B.10): what cement is taken to age by where its mix does not say."""


def nurse_saul(at: Fraction, told_at: Fraction, datum: Fraction) -> int:
    """The rate in millionths at `at` K, told at `told_at` K, which must lie above the `datum` K."""
    return round(max(at - datum, Fraction(0)) / (told_at - datum) * MILLION)


def arrhenius(at: Fraction, told_at: Fraction, constant: Fraction) -> int:
    """The rate in millionths at `at` K, told at `told_at` K; constant: Q in K."""
    power = constant * (1 / told_at - 1 / at)
    with localcontext() as context:
        context.prec = 28
        return round(_decimal(power).exp() * MILLION)


def doubling(at: Fraction, told_at: Fraction, step: Fraction) -> int:
    """The rate in millionths at `at` K, told at `told_at` K, twice as fast for each `step` K."""
    with localcontext() as context:
        context.prec = 28
        return round(Decimal(2) ** _decimal((at - told_at) / step) * MILLION)


def _decimal(value: Fraction) -> Decimal:
    return Decimal(value.numerator) / Decimal(value.denominator)
