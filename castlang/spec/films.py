"""Films told by their thickness: how thick they go on wet, and in how many coats.

    WFT = DFT / VS        n = WFT / the most that the mix goes on in, rounded up

WFT wet, DFT dry film m; VS volume solids, the share of the wet film that stays (ISO 3233; ASTM D2697).
"""

from fractions import Fraction
from math import ceil

from castlang.spec.model import Mix, Step, Stock
from castlang.spec.quantity import Dimension


def wet_film(step: Step, material: Mix | Stock) -> Fraction | None:
    """The wet thickness, m, of a pass told by its film; None where it is told otherwise, or dry and the
    material tells no volume solids."""
    if step.amount is None or step.amount.dimension is not Dimension.LENGTH:
        return None
    if step.wet is not False:
        return step.amount.si
    return step.amount.si / material.volume_solids if material.volume_solids else None


def film_coats(step: Step, material: Mix | Stock) -> int:
    """In how many coats such a film goes on: as few as the mix's greatest thickness allows, else one."""
    wet = wet_film(step, material)
    most = material.thick[1] if isinstance(material, Mix) and material.thick is not None else None
    return ceil(wet / most) if wet is not None and most else 1
