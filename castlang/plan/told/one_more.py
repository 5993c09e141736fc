"""What one more person, station, mold or temporary work would save: the build planned again with each."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from castlang.plan.from_network import plan_of
from castlang.plan.model import Plan
from castlang.plan.network.from_takeoff import network_of
from castlang.spec.model import Gang, Spec
from castlang.takeoff.from_spec import takeoff_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """What there is one more of, when the build then finishes, in minutes, and how many that saves."""

    what: str
    finish: int
    saved: int


def gains_of(spec: Spec, plan: Plan, *, search: str = "normal") -> tuple[Gain, ...]:
    """What one more of each thing saves against `plan`, the most first; looked for as hard as told.

    A plan stays possible when there is more of something, so that none finishes later.
    """
    gains = []
    for what, more in _with_more(spec):
        takeoff = takeoff_of(more).value
        network = None if takeoff is None else network_of(more, takeoff).value
        found = None if network is None else plan_of(network, search=search).value
        if found is not None:
            finish = min(found.finish, plan.finish)
            gains.append(Gain(what=what, finish=finish, saved=plan.finish - finish))
    return tuple(sorted(gains, key=lambda gain: (-gain.saved, gain.what)))


def _with_more(spec: Spec) -> Iterator[tuple[str, Spec]]:
    """Each thing that a build has a number of, and the build with one more of it."""
    build = spec.build
    for n, gang in enumerate(build.crew):
        more = (*build.crew[:n], Gang(count=gang.count + 1, role=gang.role), *build.crew[n + 1 :])
        yield gang.role or "person", replace(spec, build=replace(build, crew=more))
    for name, station in spec.stations.items():
        one = replace(station, have=station.have + 1)
        yield name, replace(spec, stations={**spec.stations, name: one})
    for name, mold in spec.molds.items():
        if mold.count:
            yield name, replace(spec, molds={**spec.molds, name: replace(mold, count=mold.count + 1)})
        if mold.mirrored:
            other = replace(mold, mirrored=mold.mirrored + 1)
            yield f"{name}, mirrored", replace(spec, molds={**spec.molds, name: other})
