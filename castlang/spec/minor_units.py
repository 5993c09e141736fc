"""How many decimals a currency has: the minor units of ISO 4217:2015, table A.1, from memory.

Two where nothing else is told: 100 cents to the euro.
"""

from fractions import Fraction

NONE = frozenset(
    "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF".split()  # noqa: SIM905  (a list of codes)
)
THOUSANDTHS = frozenset({"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"})
FINEST = 6  # decimals of a told price: a screw may cost 0.0125 EUR


def places_of(currency: str) -> int:
    """Decimals of an amount that is paid: 2 for EUR, 0 for JPY, 3 for KWD."""
    if currency in NONE:
        return 0
    return 3 if currency in THOUSANDTHS else 2


def paid(amount: Fraction, currency: str) -> Fraction:
    """`amount` to the smallest coin of its currency, half to even."""
    scale = 10 ** places_of(currency)
    return Fraction(round(amount * scale), scale)


def places_told(amount: Fraction, currency: str) -> int:
    """Decimals that show `amount` whole, at least those of its currency, at most six."""
    least = places_of(currency)
    return next((n for n in range(least, FINEST + 1) if (amount * 10**n).denominator == 1), least)
