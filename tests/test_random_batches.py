"""What holds for the batches of every build, tried on random ones."""

from fractions import Fraction

from hypothesis import HealthCheck, Phase, given, settings
from random_builds import METRIC, US, builds

from castlang.pipeline import compile_build
from castlang.source.files import Texts
from castlang.spec.quantity import Dimension
from castlang.takeoff.scales import scales_of


def tried(examples):
    """The same builds on every run and every machine."""
    return settings(
        max_examples=examples,
        deadline=None,
        derandomize=True,
        database=None,
        suppress_health_check=list(HealthCheck),
        phases=[Phase.explicit, Phase.generate],
    )


def batched(build, system):
    """(step, take-off, mix as told, batch) of every batch of a random build."""
    made = compile_build("main.pour", build.text(system).encode(), Texts())
    if made.spec is None or made.takeoff is None:
        return made, []
    steps = {
        (item.owner, item.name): item
        for owner in made.spec.owners()
        for item in owner.sequence
        if (item.owner, getattr(item, "name", "")) in made.takeoff.steps
    }
    found = [
        (steps[key], done, batch)
        for key, done in made.takeoff.steps.items()
        for part in done.parts
        for batch in part.batches
    ]
    return made, found


def scale_for(step, spec):
    """The scales at the step's own stations, else all of the shop's."""
    own = scales_of([spec.stations[name] for name in step.using], spec.build.units)
    return own if own.ranges else scales_of(tuple(spec.stations.values()), spec.build.units)


@tried(25)
@given(builds(most=3))
def test_a_batch_keeps_its_mixer_its_working_time_and_the_scale(build):
    made, found = batched(build, METRIC)
    for step, done, batch in found:
        stations = [made.spec.stations[name] for name in step.using]
        for holds in (station.holds for station in stations if station.holds):
            amount = {Dimension.VOLUME: batch.volume, Dimension.MASS: batch.mass}.get(holds.dimension)
            assert amount is None or amount <= holds.si
        if done.working is not None:
            assert batch.minutes * 60 <= done.working.seconds + 59
        scales = scale_for(step, made.spec)
        if scales.greatest is not None and not batch.by_volume:
            assert max(line.exact for line in batch.lines) <= scales.greatest


@tried(25)
@given(builds(most=3))
def test_what_the_scale_shows_is_off_by_no_more_than_the_sheet_prints(build):
    for system in (METRIC, US):
        made, found = batched(build, system)
        for _, _, batch in found:
            running = Fraction(0)
            for line in batch.lines:
                running += line.shown
                assert line.running == running
            first, *others = [line for line in batch.lines if line.exact > 0]
            if made.spec.mixes[batch.mix].measure is not None:
                for line in others:
                    ratio, wanted = line.shown * first.exact, line.exact * first.shown
                    assert abs(ratio - wanted) <= batch.error * wanted or not first.shown
            else:
                for line in (first, *others):
                    assert abs(line.shown - line.exact) <= batch.error * line.exact


@tried(25)
@given(builds(most=3))
def test_the_batches_of_a_step_weigh_what_the_step_takes_to_half_a_step_of_the_scale(build):
    made, found = batched(build, METRIC)
    for step, _, batch in found:
        if batch.by_volume:
            continue
        scales = scale_for(step, made.spec)
        lines = batch.lines
        assert sum(line.exact for line in lines) == batch.mass
        assert abs(lines[-1].running - batch.mass) <= sum(scales.step(line.exact) / 2 for line in lines)
