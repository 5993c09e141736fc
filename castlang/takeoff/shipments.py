"""What a move takes away at once: all its things, with their crates where they stand on them."""

from fractions import Fraction

from castlang.problems.model import Outcome
from castlang.spec.model import StepKind
from castlang.spec.quantity import Dimension
from castlang.takeoff.masses import Weights, burdens_of
from castlang.takeoff.model import Shipment
from castlang.takeoff.said import Said
from castlang.takeoff.standing import steps_of


def shipments_of(weights: Weights) -> Outcome[tuple[Shipment, ...]]:
    """Every `move`, its whole mass, and what it goes with."""
    said = Said()
    found = []
    for step in steps_of(weights.spec):
        if step.kind is not StepKind.MOVE or not step.things:
            continue
        burdens = burdens_of(step, weights, said)
        stations = [weights.spec.stations[name] for name in step.using if name in weights.spec.stations]
        station = stations[0] if stations else None
        holds = station.holds if station else None
        bears = holds is not None and holds.dimension is Dimension.MASS
        found.append(
            Shipment(
                step=f"{step.owner}.{step.name}",
                things=", ".join(one.ref.name for one in burdens),
                number=sum(one.number for one in burdens),
                mass=sum((one.mass * one.number for one in burdens), Fraction(0)),
                station=station.name if station else None,
                holds=holds.si if holds is not None and bears else None,
            )
        )
    return said.outcome(tuple(found))
