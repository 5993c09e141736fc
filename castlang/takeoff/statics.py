"""Plain statics for an indication: the head of a liquid mix on its mold, a strip bent by its own weight.

Nothing here says that a piece holds: every such value wants a licensed engineer's.

    p = rho g h                     head of a liquid at rest
    sigma = 3/4 q L^2 / t^2         strip on two supports, q = rho g t

rho kg/m3, h, L, t m, q N/m2, p and sigma Pa. Strip: thin (t <= L / 10), elastic, uncracked; the safe side for
a plate held on more than two edges (Roark's Formulas for Stress and Strain, table 11.4, case 1a).
"""

from fractions import Fraction

GRAVITY = Fraction("9.80665")  # m/s2, standard


def head_pressure(density: Fraction, depth: Fraction) -> Fraction:
    """Pa at `depth` m under a liquid of `density` kg/m3."""
    return density * GRAVITY * depth


def own_weight(density: Fraction, thick: Fraction) -> Fraction:
    """N/m2 of a plate lying flat."""
    return density * GRAVITY * thick


def strip_stress(load: Fraction, span: Fraction, thick: Fraction) -> Fraction:
    """Pa at the middle of a strip on two supports `span` m apart, under `load` N/m2."""
    return Fraction(3, 4) * load * span**2 / thick**2
