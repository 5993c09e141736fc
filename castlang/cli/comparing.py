"""`castlang compare`: two files, two revisions of one file, or a revision and the file as it lies there."""

import sys
from argparse import Namespace
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from castlang.cli.builds import compiled, tell
from castlang.cli.terminal import Progress, width
from castlang.cli.trouble import Trouble
from castlang.cli.writing import write_whole
from castlang.pipeline import Compiled, compile_build
from castlang.problems.model import Problem, Severity
from castlang.source.revisions import Revision, revision_of

if TYPE_CHECKING:
    from castlang.compare.model import Comparison, Side
    from castlang.sheets.model import Binder

FILE = ".pour"

PAGES = 2
"""So many pages the notice has at most, where that can be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wanted:
    """One of the two builds: a file, as it lies there (rev None) or as a revision holds it."""

    file: str
    rev: str | None = None

    @property
    def called(self) -> str:
        return self.file if self.rev is None else self.rev


def compare(words: Namespace) -> int:
    """`castlang compare OLD NEW`: 0 both mean the same, 1 they do not, 2 one of them cannot be compared."""
    old, new = _wanted(words.what)
    builds = [_compiled(wanted, words.search) for wanted in (old, new)]
    failed = [build for build in builds if build.costing is None]
    if failed:
        for build in failed:
            grave = tuple(p for p in build.problems if p.finding.severity is not Severity.NOTE)
            tell(replace(build, problems=grave))
        raise Trouble("nothing was compared: both builds must be ones that can be built")
    now = builds[1].spec
    units = words.units or (now.build.units if now is not None else "metric")
    with Progress() as progress:
        progress("comparing")
        names = _names(old, new)
        sides = [_side(build, name, units) for build, name in zip(builds, names, strict=True)]
        from castlang.compare.from_builds import comparison_of

        told = comparison_of(sides[0], sides[1], units)
    _print(told, words, units)
    if words.notice is not None and told.same:
        print("no notice was written: there is no change", file=sys.stderr)
    elif words.notice is not None:
        _write_notice(Path(words.notice), told, units)
    return 0 if told.same else 1


def _wanted(what: Sequence[str]) -> tuple[_Wanted, _Wanted]:
    """The two builds that the words name."""
    if len(what) == 3:
        first, second, file = what
        return _Wanted(file=file, rev=first), _Wanted(file=file, rev=second)
    if len(what) != 2:
        raise Trouble("give two files, or one or two revisions and a file: castlang compare OLD NEW [FILE]")
    first, second = what
    if first == "-" and second == "-":
        raise Trouble("one build alone can come from standard input")
    if first == "-" or first.endswith(FILE) or Path(first).is_file():
        return _Wanted(file=first), _Wanted(file=second)
    return _Wanted(file=second, rev=first), _Wanted(file=second)


def _names(old: _Wanted, new: _Wanted) -> tuple[str, str]:
    """What to call the two: of one file, what is not its revision is the file as it lies there."""
    if old.rev is not None and new.rev is None:
        return f"{new.file} at {old.rev}", f"{new.file} as it is now"
    if old.rev is not None and new.rev is not None:
        return f"{old.file} at {old.rev}", f"{new.file} at {new.rev}"
    return old.file, new.file


def _compiled(wanted: _Wanted, search: str) -> Compiled:
    if wanted.rev is None:
        return compiled(wanted.file, search)
    if wanted.file == "-":
        raise Trouble("a revision holds files, not standard input")
    library = revision_of(Path(wanted.file), wanted.rev)
    if isinstance(library, str):
        raise Trouble(library)
    data = library.read_main()
    if isinstance(data, str):
        raise Trouble(f"{wanted.file} {data} in `{wanted.rev}`")
    with Progress() as progress:
        build = compile_build(library.main, data, library, progress, search=search)
    return _of_revision(build, wanted.rev, library)


def _of_revision(build: Compiled, rev: str, library: Revision) -> Compiled:
    """The build with its files named as git names them, `HEAD~1:bench.pour`, so that no line is looked for in
    the file as it is now."""

    def placed(problem: Problem) -> Problem:
        related = tuple((replace(s, file=f"{rev}:{s.file}"), text) for s, text in problem.related)
        span = replace(problem.span, file=f"{rev}:{problem.span.file}")
        return replace(problem, span=span, related=related)

    texts = {f"{rev}:{name}": text for name, text in build.texts.items()}
    return replace(build, problems=tuple(placed(p) for p in build.problems), texts=texts)


def _side(build: Compiled, called: str, units: str) -> "Side":
    from castlang.compare.model import Side
    from castlang.sheets.from_plan import binder_of
    from castlang.sheets.stamps import stamps_of

    if build.spec is None or build.takeoff is None or build.plan is None or build.costing is None:
        raise Trouble(f"{called} cannot be built")
    binder = binder_of(
        build.spec, build.takeoff, build.plan, build.costing, build.problems, revision="", units=units
    )
    return Side(
        called=called,
        spec=build.spec,
        takeoff=build.takeoff,
        plan=build.plan,
        costing=build.costing,
        problems=build.problems,
        stamps=stamps_of(binder),
    )


def _print(told: "Comparison", words: Namespace, units: str) -> None:
    if words.json:
        from castlang.compare.as_json import comparison_json

        sys.stdout.write(comparison_json(told, units))
        return
    if told.same:
        print(f"{told.old} and {told.new} mean the same")
        return
    from castlang.compare.notice import blocks_of

    blocks = blocks_of(told, units)
    if words.markdown:
        from castlang.out.markdown import markdown_of

        sys.stdout.write(markdown_of(f"{told.label}: {told.old} to {told.new}", blocks))
        return
    from castlang.out.plain_text import text_of

    sys.stdout.write(text_of(blocks, width(sys.stdout)))


def _write_notice(target: Path, told: "Comparison", units: str) -> None:
    from castlang.compare.notice import LENGTHS, notice_of
    from castlang.out.pdf import missing_characters, page_count, pdf_of
    from castlang.sheets.amounts import US

    paper = "letter" if units == US else "a4"
    drafts = [notice_of(told, units, paper=paper, revision=told.new, most=most) for most in LENGTHS]
    notice: Binder = next((d for d in drafts if page_count(d) <= PAGES), drafts[-1])
    try:
        write_whole(target, pdf_of(notice))
    except OSError as error:
        raise Trouble(f"{target} cannot be written ({error.strerror})") from None
    lost = missing_characters(notice)
    if lost:
        print(f"castlang: printed as [?] in the PDF: {' '.join(ascii(c) for c in lost)}", file=sys.stderr)
    print(f"{target}: the change notice", file=sys.stderr)
