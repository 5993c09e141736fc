"""Public holidays: days off where the build asks for them, and what is said where they cannot be told."""

import importlib.util
import sys
from datetime import date

import pytest

from castlang.pipeline import Compiled, compile_build
from castlang.plan.clock import DAY
from castlang.rules.examples import BASE, CAST
from castlang.sheets.from_plan import binder_of
from castlang.sheets.model import Prose
from castlang.source.files import Texts

THERE = importlib.util.find_spec("holidays") is not None
needs_library = pytest.mark.skipif(not THERE, reason="the library is not installed")

# 2027-03-26 is Good Friday and 2027-03-29 Easter Monday (Easter by the Gregorian computus: 28 March 2027).
EASTER = BASE.replace("2027-03-01", "2027-03-25").replace("    crew      2\n", "    crew      2\n    {}\n")


def compiled(line: str, text: str = CAST) -> Compiled:
    return compile_build("trial.pour", (EASTER.replace("{}", line) + text).encode(), Texts())


def said(build: Compiled) -> list[tuple[str, str, str]]:
    return [(p.finding.name, p.message, p.remedy or "") for p in build.problems]


@needs_library
def test_nobody_works_on_a_public_holiday() -> None:
    build = compiled("holidays DE")
    assert build.plan is not None
    start = build.plan.network.hours.start
    off = [(date(2027, 3, day) - start).days * DAY for day in (26, 29)]
    attended = {t.name for t in build.plan.network.tasks if t.crew}
    worked = [s for p in build.plan.placed if p.task in attended for s in p.spells]

    assert worked
    assert all(end <= day or begin >= day + DAY for begin, end in worked for day in off)


@needs_library
def test_without_the_line_the_same_days_are_worked() -> None:
    plain, closed = compiled("waste 0 %"), compiled("holidays DE")
    assert plain.plan is not None
    assert closed.plan is not None

    assert closed.plan.finish - plain.plan.finish >= 3 * DAY
    assert plain.plan.network.hours.closed == frozenset()


@needs_library
def test_a_part_of_a_country_has_its_own_days() -> None:
    # Epiphany, 6 January, is a holiday in Bavaria and not in Berlin (Feiertagsgesetz of each).
    def days(code: str) -> list[date]:
        text = EASTER.replace("2027-03-25", "2027-01-04").replace("{}", f"holidays {code}")
        build = compile_build("trial.pour", (text + CAST).encode(), Texts()).spec
        assert build is not None
        return [d.first for d in build.build.closed]

    assert date(2027, 1, 6) in days("DE-BY")
    assert date(2027, 1, 6) not in days("DE-BE")


@needs_library
def test_the_cover_lists_the_days_off_of_the_plan_and_the_release_that_told_them() -> None:
    from holidays.version import __version__

    build = compiled('holidays DE\n    closed 2027-03-30 "Stocktaking"\n    closed 2028-01-03 "Far off"')
    assert build.spec is not None
    assert build.takeoff is not None
    assert build.plan is not None
    assert build.costing is not None
    cover = binder_of(build.spec, build.takeoff, build.plan, build.costing).sheets[0]
    off = next(b for b in cover.blocks if isinstance(b, Prose) and b.title == "Days off")
    told = [a for a in build.assumptions if a.subject == "holidays DE"]

    assert off.lines == ("Fri 26 Mar: Good Friday", "Mon 29 Mar: Easter Monday", "Tue 30 Mar: Stocktaking")
    assert [a.source for a in told] == [f"the library `holidays`, release {__version__}"]
    assert [a.line for a in told] == ["closed 2027-03-26, for each day, in place of `holidays`"]


@needs_library
@pytest.mark.parametrize(
    ("line", "remedy"),
    [
        ("holidays germany", "`holidays DE`"),
        ("holidays GER", "`holidays "),
        ("holidays deu", "`holidays DE`"),
        ("holidays de", "`holidays DE`"),
        ("holidays de-by", "`holidays DE-BY`"),
        ("holidays DE-BAY", "`holidays DE-BY`"),
        ("holidays DE-QQ", "write `holidays DE` alone, or a part of it, such as DE-BB, DE-BE"),
        ("holidays elbonia", "write the two letters of the country by ISO 3166"),
    ],
)
def test_a_country_that_is_not_known_is_told_with_the_near_one(line: str, remedy: str) -> None:
    [(_, message, told)] = [s for s in said(compiled(line)) if s[0] == "unknown-holidays"]

    assert message == f"no public holidays of `{line.split()[1]}` are known"
    assert remedy in told


def test_where_the_library_is_missing_the_install_command_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "holidays", None)
    build = compiled("holidays DE")
    [problem] = [p for p in build.problems if p.finding.name == "holidays-extra"]

    assert 'pip install "castlang[holidays]"' in problem.finding.remedy
    assert build.plan is None


def test_a_build_that_does_not_ask_never_loads_the_library(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "holidays", None)

    assert said(compiled("waste 0 %")) == []


@needs_library
def test_the_shop_may_tell_the_country_and_the_build_days_of_its_own() -> None:
    build = compiled("closed 2027-03-30", CAST + "shop\n    holidays DE\n    closed 2027-04-01\n")
    assert build.spec is not None
    days = [d.first for d in build.spec.build.closed]

    assert {date(2027, 3, 30), date(2027, 3, 29), date(2027, 4, 1)} <= set(days)
