"""`castlang trace`: where a figure of a sheet comes from."""

from argparse import Namespace

from castlang.cli.builds import compiled, status, tell
from castlang.cli.trouble import Trouble


def trace(words: Namespace) -> int:
    """`castlang trace SPEC [NAME]`: the arithmetic down to the figure; without a name, all names."""
    build = compiled(words.spec, units=words.units)
    tell(build, notes=False)
    if build.spec is None or build.takeoff is None or build.plan is None or build.costing is None:
        return 1
    from castlang.sheets.traced import trace_lines
    from castlang.trace.figures import figure_of, ground_of, names_of, near_names, trace_of

    ground = ground_of(build.spec, build.takeoff, build.plan, build.costing, build.texts)
    if words.name is None:
        for name in names_of(ground):
            print(name)
        return status(build)
    figure = figure_of(ground, words.name)
    if figure is None:
        near = near_names(ground, words.name)
        hint = f"; did you mean {', '.join(near)}?" if near else f"; castlang trace {words.spec} lists all"
        raise Trouble(f"there is no figure called {words.name}{hint}")
    for line in trace_lines(trace_of(figure, words.depth), words.units or build.spec.build.units):
        print(line)
    return status(build)
