"""Which waits pass by the shop's warmth, and by which rule: cures, and what a mix says between its coats."""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from castlang.plan.findings import CURE_NEVER
from castlang.plan.model import Ageing, Hours, Stretch, Tend
from castlang.plan.shop_hours import minutes_down, minutes_up
from castlang.plan.warmth.climate import warmth_of
from castlang.problems.model import Assumption, Problem
from castlang.source.model import Span
from castlang.spec.model import PUT_ON, Gang, Gap, GapKind, Mix, Role, Spec, Step, StepRef, Window
from castlang.takeoff import wording
from castlang.takeoff.maturity import CEMENT, MILLION, arrhenius, doubling, nurse_saul
from castlang.takeoff.working_times import DOUBLES, RULE, halving_step

TWENTY = wording.ICE_POINT + 20
RATES = {"nurse-saul": nurse_saul, "arrhenius": arrhenius, "doubling": doubling}


class WarmWaits:
    """The shop's warmth, and how each wait passes in it. Collects what is assumed and what cannot be."""

    def __init__(self, spec: Spec, hours: Hours) -> None:
        self._spec = spec
        self._warmth, self._settled = warmth_of(spec.build, hours)
        self._ageings: dict[tuple[str, Fraction, Fraction], Ageing | None] = {}
        self._assumed: dict[tuple[str, str], Assumption] = {}
        self._never: dict[Span, Problem] = {}

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        return tuple(self._assumed[key] for key in sorted(self._assumed))

    @property
    def problems(self) -> tuple[Problem, ...]:
        return tuple(self._never.values())

    def gap(self, gap: Gap) -> Stretch:
        """A line that waits: a cure passes by warmth, all else by the clock."""
        if gap.kind is not GapKind.CURE:
            return _stretch(gap.window, None)
        at = gap.told_at or gap.at
        of = gap.of if gap.after is None else self._put_on(gap.after)
        cure = _stretch(gap.window, None if at is None else self._ageing(of, at, gap.span))
        return cure if gap.tend is None else replace(cure, tend=_tend(*gap.tend))

    def recoat(self, mix: str | None, window: Window) -> Stretch:
        """The wait between coats or lifts that a mix tells: by warmth for what sets by a rate rule."""
        told = self._spec.mixes.get(mix or "")
        if told is None or halving_step(told) is None:
            return _stretch(window, None)
        return _stretch(window, self._ageing(told.name, told.works_at or self._recoat_at(told), told.span))

    def _recoat_at(self, mix: Mix) -> Fraction:
        units = self._spec.build.units
        self._assume(
            f"mix {mix.name}", f"its recoat time is told at {wording.temperature(TWENTY, units)}",
            "common practice, no source", "works 40 min at 20 degC, under the mix", mix.span,
        )  # fmt: skip
        return TWENTY

    def _put_on(self, ref: StepRef) -> str | None:
        """What a step that is referred to puts on."""
        for owner in self._spec.owners():
            for item in owner.sequence if owner.name == ref.owner else ():
                if isinstance(item, Step) and item.name == ref.step and item.kind in PUT_ON:
                    return item.material
        return None

    def _ageing(self, of: str | None, at: Fraction, span: Span) -> Ageing | None:
        """How a wait of a mix passes, told at `at` K; None where by the clock."""
        mix = self._spec.mixes.get(of or "")
        rule = None if mix is None else _rule(mix)
        if rule is None:
            if any(warmth != round(at * 1000) for _, warmth in self._warmth):
                self._unknown(of, span)
            return None
        key = (*rule, at)
        if key not in self._ageings:
            self._ageings[key] = self._made(*key)
        ageing = self._ageings[key]
        if ageing is not None and mix is not None:
            self._tell_rule(mix, ageing)
            if not _goes_on(ageing):
                self._tell_never(mix, ageing, span)
                return None
        return ageing

    def _made(self, rule: str, constant: Fraction, at: Fraction) -> Ageing | None:
        """None where every hour is as warm as told, so that the wait passes by the clock all the same."""
        if rule == "nurse-saul" and at <= constant:
            return Ageing(rule=rule, constant=constant, told_at=at, settled=0, spells=())
        rate = RATES[rule]
        rates = {w: rate(Fraction(w, 1000), at, constant) for w in sorted({w for _, w in self._warmth})}
        if all(rate == MILLION for rate in rates.values()):
            return None
        spells = tuple((minute, warmth, rates[warmth]) for minute, warmth in self._warmth)
        return Ageing(rule=rule, constant=constant, told_at=at, settled=self._settled, spells=spells)

    def _tell_rule(self, mix: Mix, ageing: Ageing) -> None:
        if mix.ages is not None or mix.doubles is not None:
            return
        if ageing.rule == "arrhenius":
            self._assume(
                f"mix {mix.name}", f"its cures pass by equivalent age, Q {CEMENT} K",
                "EN 1992-1-1, Annex B, (B.10)", "ages arrhenius 4000 K, under the mix", mix.span,
            )  # fmt: skip
        else:
            step = wording.temperature_step(DOUBLES, self._spec.build.units)
            self._assume(
                f"mix {mix.name}", f"its waits pass twice as fast for each {step} warmer",
                RULE, "doubles 10 K, under the mix", mix.span,
            )  # fmt: skip

    def _unknown(self, of: str | None, span: Span) -> None:
        self._assume(
            of or "cures", "its cures count as told, however warm the shop is: no line says how it sets",
            "the language", "doubles 10 K, or ages, under a mix of it", span,
        )  # fmt: skip

    def _tell_never(self, mix: Mix, ageing: Ageing, span: Span) -> None:
        units = self._spec.build.units
        datum = wording.temperature(ageing.constant, units)
        if not ageing.spells:
            told = wording.temperature(ageing.told_at, units)
            message = f"the cure is told at {told}, and mix {mix.name} does not age at {datum} and below"
        else:
            warmer = "and the shop is no warmer in any ordinary week"
            message = f"mix {mix.name} does not age at {datum} and below, {warmer}"
        self._never.setdefault(
            span, Problem(finding=CURE_NEVER, message=message, span=span, about=(mix.name,))
        )

    def _assume(self, subject: str, says: str, source: str, line: str, span: Span) -> None:
        known = Assumption(subject=subject, says=says, source=source, line=line, span=span)
        self._assumed.setdefault((subject, says), known)


def _rule(mix: Mix) -> tuple[str, Fraction] | None:
    """By what rule a mix sets, and its constant: told, else the rate rule of two parts, else of cement."""
    if mix.ages is not None and mix.ages[1] is not None:
        return mix.ages[0], mix.ages[1]
    step = halving_step(mix)
    if step is not None:
        return "doubling", step
    if any(line.role is Role.BINDER for line in mix.ingredients):
        return "arrhenius", CEMENT
    return None


def _goes_on(ageing: Ageing) -> bool:
    """Whether a wait passes at all in weeks that are like any other."""
    settled = [rate for minute, _, rate in ageing.spells if minute > ageing.settled]
    before = [rate for minute, _, rate in ageing.spells if minute <= ageing.settled]
    return any([*settled, *before[-1:]])


def _tend(every: Fraction, gang: Iterable[Gang]) -> Tend:
    return Tend(every=every / 60, crew=tuple((one.role, one.count) for one in gang))


def _stretch(window: Window, ageing: Ageing | None) -> Stretch:
    longest = None if window.longest is None else minutes_down(window.longest)
    return Stretch(least=minutes_up(window.least), longest=longest, ageing=ageing)
