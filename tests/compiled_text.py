"""A text compiled as `castlang` does it, and its binder, for tests that begin with a whole build."""

from castlang.pipeline import Compiled, compile_build
from castlang.sheets.from_plan import binder_of
from castlang.sheets.model import Binder
from castlang.source.files import Texts


def compiled(text: str) -> Compiled:
    """The build of a text called a.pour that uses no other file."""
    return compile_build("a.pour", text.encode(), Texts())


def binder(build: Compiled) -> Binder:
    """Its sheets; a build that has none fails the test with what was found."""
    if build.spec is None or build.takeoff is None or build.plan is None or build.costing is None:
        raise AssertionError([p.message for p in build.problems])
    return binder_of(build.spec, build.takeoff, build.plan, build.costing)
