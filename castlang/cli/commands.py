"""The commands: each parses nothing, calls the pipeline, renders, and returns its status."""

import sys
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from castlang.cli.builds import compiled, status, tell
from castlang.cli.terminal import Progress, width
from castlang.cli.trouble import Trouble

if TYPE_CHECKING:
    from castlang.sheets.calendar import Calendar
    from castlang.sheets.model import Table


def check(words: Namespace) -> int:
    """`castlang check SPEC`."""
    build = compiled(words.spec, words.search, None, words.close_to)
    if words.json:
        from castlang.problems.as_json import problems_json

        sys.stdout.write(problems_json(build.problems, build.assumptions))
        return status(build)
    tell(build)
    if build.plan is None or build.spec is None:
        return 1
    from castlang.sheets.summary import summary_lines

    for line in summary_lines(build.spec, build.plan, len(build.assumptions), len(build.waived)):
        print(line)
    return status(build)


def binder(words: Namespace) -> int:
    """`castlang binder SPEC... --out DIR`."""
    from castlang.cli.binders import write_binders

    return write_binders(words)


def table(words: Namespace) -> int:
    """`castlang batches|weights SPEC`, `castlang order|plan SPEC...`."""
    specs = words.specs if words.command in ("order", "plan") else [words.spec]
    if len(specs) > 1 and words.command == "plan" and words.close_to is not None:
        raise Trouble("--close-to is for one build")
    if len(specs) > 1 and words.command == "plan" and words.one_more:
        raise Trouble("--one-more is for one build")
    if len(specs) > 1:
        return _joint(specs, words)
    build = compiled(specs[0], words.search, words.units, words.close_to if words.command == "plan" else None)
    tell(build, notes=False)
    if build.spec is None or build.takeoff is None or build.plan is None or build.costing is None:
        return 1
    if words.command == "plan" and words.one_more:
        from castlang.plan.told.one_more import gains_of
        from castlang.sheets.one_more import one_more_table

        with Progress() as progress:
            progress("planning with one more")
            gains = gains_of(build.spec, build.plan, search=words.search)
        _print_table(one_more_table(build.plan, gains, words.units or build.spec.build.units), words)
        return status(build)
    from castlang.sheets.from_plan import plan_calendar, table_of

    if words.command == "plan" and words.calendar:
        _print_calendar(
            plan_calendar(build.spec, build.takeoff, build.plan, build.costing, units=words.units)
        )
        return status(build)
    made = table_of(words.command, build.spec, build.takeoff, build.plan, build.costing, units=words.units)
    _print_table(made, words)
    return status(build)


def _joint(specs: list[str], words: Namespace) -> int:
    """One order list or one plan for several builds."""
    from castlang.cli.ordering import joint_table
    from castlang.cli.planning import joint_plan
    from castlang.sheets.from_plan import joint_plan_calendar
    from castlang.sheets.several import joint_plan_table

    if words.command == "order":
        table, worst = joint_table(specs, words.units)
        if table is not None:
            _print_table(table, words)
        return worst
    joint = joint_plan(specs, words.search, words.units)
    if joint.plan is not None and words.calendar:
        parts = {
            name: (b.spec, b.takeoff, b.plan, b.costing)
            for name, b in joint.builds.items()
            if b.spec is not None and b.takeoff is not None and b.plan is not None and b.costing is not None
        }
        _print_calendar(joint_plan_calendar(parts, units=words.units))
    elif joint.plan is not None:
        _print_table(joint_plan_table(joint.plan, joint.units), words)
    return joint.status


def _print_calendar(made: "Calendar") -> None:
    from castlang.out.calendar_file import ics_of

    sys.stdout.write(ics_of(made).decode("utf-8"))


def _print_table(made: "Table", words: Namespace) -> None:
    if words.csv:
        from castlang.out.csv_files import csv_of

        sys.stdout.write(csv_of(made))
    elif words.json:
        from castlang.out.json_document import json_of_table

        sys.stdout.write(json_of_table(made))
    else:
        from castlang.out.text_table import text_table

        print(text_table(made, width(sys.stdout)))


def begin(words: Namespace) -> int:
    """`castlang begin FILE`: never writes over a file."""
    from castlang.cli.starter import STARTER

    if words.file == "-":
        sys.stdout.write(STARTER)
        return 0
    path = Path(words.file)
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(STARTER)
    except FileExistsError:
        raise Trouble(f"{words.file} is there already, and is left as it is") from None
    except OSError as error:
        raise Trouble(f"{words.file} cannot be written ({error.strerror})") from None
    print(f"{words.file}: a small build to start from; next: castlang check {words.file}")
    return 0


PAGES = {
    "cure-cold": "cold-weeks.md",
    "due-missed": "holding-a-due-date.md",
    "no-plan-found": "holding-a-due-date.md",
    "ordered-too-late": "holding-a-due-date.md",
    "window-missed": "mending-a-window.md",
    "window-not-kept": "recording-what-was-done.md",
    "window-shut": "mending-a-window.md",
}
"""The pages of the documentation that show how to go on from a finding."""


def why(words: Namespace) -> int:
    """`castlang why NAME`."""
    from difflib import get_close_matches

    from castlang.catalogue import FINDINGS, RULE_NAMES

    if words.name is None:
        for name, finding in FINDINGS.items():
            print(f"{name:24} {finding.severity:8} {finding.says}")
        return 0
    name = words.name.strip("[]")
    if name not in FINDINGS:
        near = get_close_matches(name, FINDINGS, n=1)
        hint = f"; did you mean {near[0]}?" if near else ""
        raise Trouble(f"there is no finding called {name}{hint}")
    finding = FINDINGS[name]
    print(f"{finding.name} ({finding.severity})")
    print(f"  what    {finding.says}")
    print(f"  why     {finding.why}")
    print(f"  remedy  {finding.remedy}")
    print(f"  source  {finding.source}")
    if name in PAGES:
        print(f"  read    docs/how-to/{PAGES[name]}")
    if name in RULE_NAMES:
        _examples(name)
    return 0


def _examples(name: str) -> None:
    from castlang.rules.catalogue import RULES

    rule = next((r for r in RULES if r.finding.name == name), None)
    print(f'  waive   waive {name} on STEP "reason"')
    if rule is None:
        return
    for title, text in (("breaks it", rule.breaks), ("keeps it", rule.keeps)):
        print(f"\n  {title}:")
        for line in text.strip("\n").splitlines():
            print(f"    {line}".rstrip())


def trace(words: Namespace) -> int:
    """`castlang trace SPEC [NAME]`."""
    from castlang.cli.tracing import trace as trace_figure

    return trace_figure(words)


def tidy(words: Namespace) -> int:
    """`castlang tidy FILE...`."""
    from castlang.cli.tidying import tidy as tidy_files

    return tidy_files(words)


def compare(words: Namespace) -> int:
    """`castlang compare OLD NEW`."""
    from castlang.cli.comparing import compare as compare_builds

    return compare_builds(words)


def git(words: Namespace) -> int:
    """`castlang git on|off|state`, and what git calls."""
    from castlang.cli.repository import ACTIONS

    return ACTIONS[words.action](words)


COMMANDS = {
    "check": check,
    "binder": binder,
    "order": table,
    "batches": table,
    "plan": table,
    "weights": table,
    "trace": trace,
    "begin": begin,
    "why": why,
    "tidy": tidy,
    "compare": compare,
    "git": git,
}
