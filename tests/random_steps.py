"""Random lines of work of one piece, in the order in which a shop does them: cast, cure, demold, finish."""

from collections.abc import Sequence

from hypothesis import strategies as st
from random_amounts import (
    Both,
    area_rate,
    areal,
    film,
    length,
    lengths,
    minutes,
    pressure,
    temperature,
    volume_rate,
)
from random_shapes import Body, Line
from random_stores import STRENGTH

Made = tuple[int, int]
"""How many plain and how many mirrored copies."""


def gang(draw: st.DrawFn, roles: bool) -> str:
    """Who does a step."""
    told = ("by 1 caster", "by 1 finisher", "by 1 caster, 1 finisher", "by 2 caster", "by 2")
    return draw(st.sampled_from(told if roles else ("by 1", "by 2")))


def piece_block(
    draw: st.DrawFn, name: str, body: Body, made: Made, before: Sequence[str], roles: bool
) -> tuple[Line, ...]:
    """The whole block of a piece; `before` are pieces that its steps may wait for."""
    work = _Work(draw, name, body, roles, made)
    lines: list[Line] = [(f'piece {name} "{name.capitalize()} of the yard"',)]
    if made != (1, 0):
        lines.append((f"    make {made[0]}",))
    if made[1]:
        lines.append((f"    make {made[1]} mirrored",))
    lines += body.lines
    if draw(st.booleans()) and before:
        other = draw(st.sampled_from(before))
        which = draw(st.sampled_from(("", "", ".1", ".each") if made == (2, 0) else ("", ".1")))
        lines.append((f"    after {other}{which}.demold",))
    lines.append((f"    take {name}-mold",))
    lines += work.cast()
    lines += work.cured()
    lines += work.finished()
    if draw(st.integers(0, 3)) == 0 and before:
        far = f"after {draw(st.sampled_from(before))}.demold.start"
        waits: Line = (f"    wait 1 h to 60 days {far}",)
        if draw(st.booleans()):
            waits = (f"    cure 20 h to 90 days {far} at", temperature(20), "open")
        lines.append(waits)
    lines += work.last()
    return tuple(lines)


class _Work:
    def __init__(self, draw: st.DrawFn, name: str, body: Body, roles: bool, made: Made) -> None:
        self.draw = draw
        self.name = name
        self.body = body
        self.roles = roles
        self.made = made

    def some(self, *texts: str) -> str:
        return self.draw(st.sampled_from(texts))

    def maybe(self, *lines: Line) -> list[Line]:
        return list(lines) if self.draw(st.booleans()) else []

    def tail(self, least: int = 10, most: int = 40, *, paused: bool = False) -> str:
        """`takes` and `by`, and what else a step may say; `paused`: whether it may pause is said already."""
        who = gang(self.draw, self.roles)
        more = self.some(
            "", "", "", "waste 3 %", '"As the sample shows it."', "" if paused else "no-pause",
            "through-breaks", "earliest 2027-03-02 09:00", "latest 2029-12-31", "overlap 5 min",
        )  # fmt: skip
        return f"takes {self.draw(minutes(least, most))} {who} {more}".rstrip()

    def rated(self, most: int = 200) -> Line:
        return ("rate", area_rate(self.draw(st.integers(60, most))), gang(self.draw, self.roles))

    def window(self) -> Line:
        """A window between wet layers: mostly wide, now and then one that cannot be met."""
        most = self.draw(minutes(150, 400) if self.draw(st.integers(0, 7)) else minutes(30, 90))
        return (f"    wait {self.draw(minutes(0, 30))} to {most}",)

    # ------------------------------------------------------------ casting

    def cast(self) -> list[Line]:
        if self.body.shell:
            return self._shell()
        way = self.some("pour", "pour", "faced", "pressed", "twice")
        into = f"into {self.name}-mold"
        shared = ""
        if sum(self.made) > 1 and self.draw(st.integers(0, 2)) == 0:
            shared = f" batch-with {self.name}.body"
        full: Line = (f"    pour body full of cast {into} using mixer{shared} {self.tail()}",)
        if way == "pour":
            return [*self._inserts(), full, *self.maybe(('        write "slump"',))]
        if way == "faced":
            skin = self.draw(lengths(1 / 8, 1 / 4))
            layer: Line = ("    layer skin", skin, f"of face on show sprayed {self.tail()}")
            return [layer, self.window(), full]
        if way == "pressed":
            press: Line = (
                "    press skin",
                self.draw(lengths(1 / 4, 1 / 2)),
                f"of backer on show {self.tail()}",
            )
            return [press, *self.maybe(self.window()), full]
        rate = volume_rate(self.draw(st.integers(40, 400)))
        first: Line = ("    pour lower", length(8), f"of cast {into} using mixer, table rate", rate, "by 2")
        return [first, self.window(), full]

    def _inserts(self) -> list[Line]:
        return self.maybe((f"    insert sockets {self.draw(st.integers(1, 4))} of dowel {self.tail()}",))

    def _shell(self) -> list[Line]:
        face, back = self.draw(lengths(1 / 8, 1 / 4)), self.draw(lengths(1 / 4, 1 / 2))
        rate = self.rated(300) if self.draw(st.booleans()) else (self.tail(20, 60),)
        lines: list[Line] = [
            ("    layer mist", face, f"of face on all sprayed {self.tail()}"),
            self.window(),
            ("    layer back-1", back, "of backer on all laid using mixer", *rate),
        ]
        if self.draw(st.booleans()):
            laps: Line = ("laps", self.draw(lengths(1, 4))) if self.draw(st.booleans()) else ()
            count = self.some("1 layer", "2 layers")
            lines.append((f"    scrim net {count} of net on all", *laps, self.tail(10, 30)))
            lines.append(("    within 600 min after back-1.start",))
            lines.append(("    layer back-2", back, f"of backer on all laid using mixer {self.tail(20, 60)}"))
        return lines

    def cured(self) -> list[Line]:
        least = self.some("18 h", "1 days", "30 h")
        longest = self.some("", "to 9 days", "to 3 weeks")
        shelter = self.some("covered", "covered", "open", "covered takes 10 min by 1")
        lines: list[Line] = [(f"    cure {least} {longest} at", temperature(20), shelter)]
        if not self.body.shell and self.draw(st.integers(0, 5)) == 0:
            lines = [("    cure until", pressure(STRENGTH), "at", temperature(20), shelter)]
        if self.draw(st.integers(0, 7)) == 0:
            lines = [(*lines[0], "tend 4 h by 1")]
        braced = self.draw(st.integers(0, 3)) == 0
        if braced:
            lines.append((f"    take braces {self.tail()}",))
        lines.append((f"    demold {self.some('', '', 'using gantry')} {self.tail()}",))
        lines += self.maybe(("        hazard lifting",), ('        note "Straps at the corners."',))
        if braced:
            lines.append((f"    free braces {self.tail()}",))
        if self.draw(st.booleans()):
            lines.append(("    take rack",))
            lines.append(
                (f"    cure {self.some('2 days', '50 h')} at", temperature(18), self.some("open", "covered"))
            )
            lines.append(("    free rack",))
        return lines

    # ------------------------------------------------------------ finishing

    def finished(self) -> list[Line]:
        lines: list[Line] = []
        if self.draw(st.booleans()):
            fill: Both = areal(self.draw(st.integers(80, 400)))
            if self.draw(st.integers(0, 3)) == 0:
                fill = film(self.draw(st.integers(50, 300)))
            lines.append(("    pass fill", fill, "of slurry on show", *self.rated()))
            lines.append(("    cure 8 h at", temperature(20), "open"))
        if self.draw(st.booleans()):
            grits = self.some("60, 120", "100, 200, 400", "100", "50, 100")
            wetness, pause = self.some("wet", "dry"), self.some("may-pause", "")
            lines.append(
                (f"    pass hone grit {grits} {wetness} on show {pause}", self.tail(paused=bool(pause)))
            )
            lines.append((f"    dry {self.some('24 h', '2 days')}",))
        if self.draw(st.booleans()):
            coats = self.some("1 coat", "2 coats")
            method = self.some("brushed", "sprayed", "rolled")
            lines.append(
                (f"    pass tone {coats} of wash on show {method} between 2 h to 30 h {self.tail()}",)
            )
            lines.append(("    wait 2 h",))
        return lines

    def last(self) -> list[Line]:
        lines: list[Line] = []
        if self.draw(st.booleans()):
            coats = self.some("1 coat", "2 coats", "3 coats")
            between = self.some("", "between 1 h to 20 h")
            lines.append((f"    pass seal {coats} of sealer on show rolled {between} {self.tail()}",))
            lines.append(("    dry 24 h",))
        lines += self.maybe((f"    work inspect takes {self.draw(minutes(5, 30))} by 1 may-pause",))
        return lines
