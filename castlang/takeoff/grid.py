"""Exact figures with pi and roots in them: the same digits on every machine."""

from fractions import Fraction
from math import isqrt

PI = Fraction(3141592653589793238462643383279502884197, 10**39)

_GRID = 10**12
_FINE = 10**18


def held(value: Fraction | float) -> Fraction:
    """The value on a grid of 1e-12 (m2, m3), to the nearest, halves to the even side."""
    return Fraction(round(Fraction(value) * _GRID), _GRID)


def root(value: Fraction) -> Fraction:
    """The square root: exact where it is a fraction, else cut off at 1e-18.

    Raises ValueError below zero.
    """
    if value < 0:
        raise ValueError("no root below zero")
    top, foot = isqrt(value.numerator), isqrt(value.denominator)
    if top * top == value.numerator and foot * foot == value.denominator:
        return Fraction(top, foot)
    return Fraction(isqrt(value.numerator * _FINE * _FINE // value.denominator), _FINE)
