"""`castlang binder`: the binder of a build, or of each of several builds that are planned in one shop."""

import sys
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from castlang.cli.builds import compiled, status, tell
from castlang.cli.terminal import Progress
from castlang.cli.trouble import Trouble

if TYPE_CHECKING:
    from castlang.pipeline import Compiled
    from castlang.sheets.model import Binder

NONE = "no binder was written: the build cannot be built as it stands"
NONE_OF_ALL = "no binder was written: the builds cannot be built as they stand"


def write_binders(words: Namespace) -> int:
    """The binder of each build that `words` name. All are made before the first is written."""
    if len(words.specs) == 1:
        return _one(words.specs[0], words)
    if words.close_to is not None:
        raise Trouble("--close-to is for one build")
    from castlang.cli.planning import joint_plan

    joint = joint_plan(words.specs, words.search, words.units)
    if joint.plan is None:
        print(NONE_OF_ALL, file=sys.stderr)
        return 1
    targets = []
    for spec, name in zip(words.specs, joint.builds, strict=True):
        targets.append(Path(words.out) / name if words.out else _beside(spec, name))
    alike = sorted({str(target) for target in targets if targets.count(target) > 1})
    if alike:
        raise Trouble(f"two of the builds would be written to {alike[0]}; give a folder for all with --out")
    _write(dict(zip(targets, joint.builds.values(), strict=True)), words)
    return joint.status


def _one(spec: str, words: Namespace) -> int:
    build = compiled(spec, words.search, words.units, words.close_to)
    tell(build)
    if build.spec is None or build.costing is None:
        print(NONE, file=sys.stderr)
        return 1
    target = Path(words.out) if words.out else _beside(spec, build.spec.build.name)
    _write({target: build}, words)
    return status(build)


def _beside(spec: str, name: str) -> Path:
    """The folder beside the build, called after it."""
    if spec == "-":
        return Path(f"{name}-binder")
    path = Path(spec)
    return path.parent / f"{path.stem}-binder"


def _write(builds: "dict[Path, Compiled]", words: Namespace) -> None:
    """Each build's binder into its folder."""
    from castlang.out.folder import write_folder
    from castlang.out.pdf import missing_characters

    with Progress() as progress:
        progress("setting the sheets")
        made = {target: _made(build, words) for target, build in builds.items()}
        for target, (_, files) in made.items():
            refusal = write_folder(target, files)
            if refusal is not None:
                raise Trouble(f"{target}: {refusal.message}")
    for target, (binder, _) in made.items():
        lost = missing_characters(binder)
        if lost:
            told = " ".join(ascii(c) for c in lost)
            print(f"castlang: printed as [?] in the PDF: {told}", file=sys.stderr)
        print(f"{target}: {len(binder.sheets)} sheets")


def _made(build: "Compiled", words: Namespace) -> "tuple[Binder, dict[str, bytes]]":
    """The sheets of a build, and its files by their names in the folder."""
    from castlang.out.calendar_file import ics_of
    from castlang.out.csv_files import csv_files
    from castlang.out.json_document import json_of
    from castlang.out.pdf import pdf_of
    from castlang.sheets.from_plan import binder_of, plan_calendar

    if build.spec is None or build.takeoff is None or build.plan is None or build.costing is None:
        raise ValueError("a binder of a build that has no plan")
    stages = (build.spec, build.takeoff, build.plan, build.costing)
    binder = binder_of(*stages, build.problems, revision=words.revision, paper=words.paper, units=words.units)
    calendar = plan_calendar(*stages, revision=words.revision, units=words.units)
    files = {f"csv/{name}": text.encode("utf-8") for name, text in csv_files(binder).items()}
    files["binder.pdf"] = pdf_of(binder)
    files["binder.json"] = json_of(binder).encode("utf-8")
    files["plan.ics"] = ics_of(calendar)
    return binder, files
