"""Builds made up for measuring: as many lines, or as many pieces, as wanted."""

import re

HEAD = """build large "A build for measuring"
    start     2027-01-04
    hours     mon to fri 07:00 to 12:00, 12:30 to 16:30
    air       20 degC
    crew      4
    waste     8 %
stock cement
    density   3150 kg/m3
    sold      bag of 25 kg
stock sand
    density   2650 kg/m3
    sold      bag of 25 kg
stock oil
    density   900 kg/m3
    covers    20 m2/L
    sold      jug of 5 L
stock sealer
    density   1020 kg/m3
    covers    9 m2/L
    sold      can of 1 L
mix casting
    binder    cement 100 parts
    sand      sand 180 parts damp 0 %
    water     0.36 of binder total
    works     45 min at 20 degC
    thick     20 mm to 150 mm
station mixer
    holds     120 L
    have      2
"""

PIECE = """mold mold-{n}
    fits      slab-{n}
    release   oil on slab-{n}.all takes 15 min by 1
piece slab-{n} "Slab {n}"
    shape     slab {long} mm long, 400 mm wide, 60 mm thick
    face      show top, ends
    take      mold-{n}
    pour      body full of casting into mold-{n} using mixer takes 30 min by 2
    cure      24 h to 6 days at 20 degC covered
    demold    takes 20 min by 2
    pass      hone grit 100, 200 wet on show takes 20 min by 1
    dry       24 h
    pass      seal 2 coats of sealer on show rolled takes 15 min by 1
        between   1 h to 20 h
"""


SPOILT = """piece spoilt
    shape     slab 600 mm long, 400 mm wide, 20 mm thick
    face      show top, ends
    layer     face 40 mm of casting on show laid takes 5 min by 1
"""
"""A layer that is thicker than its piece."""

LETTERS = str.maketrans("0123456789", "abcdefghij")

JOB = """fitting base-{n}
    weight    5 kg
    carries   300 kg
    buy       1
job set-{n}
    after     slab-{n}, base-{n}
    place     put of slab-{n} on base-{n} takes 20 min by 2
    work      join of slab-{n} on slab-{n}.ends takes 10 min by 1
    move      carry of slab-{n} takes 20 min by 2
"""


def assembled_build(pieces: int, first: int = 1) -> str:
    """A build of that many pieces, each put on a base of its own and carried away with it."""
    return large_build(pieces, first) + "".join(JOB.format(n=n) for n in range(first, first + pieces))


def large_build(pieces: int, first: int = 1) -> str:
    """A build of that many pieces, each in a mold of its own, numbered from `first` on."""
    return HEAD + "".join(PIECE.format(n=n, long=600 + n % 90 * 10) for n in range(first, first + pieces))


def refused_build(lines: int) -> str:
    """About that many lines that the take-off refuses, so that nothing is planned."""
    return lines_of_length(lines) + SPOILT


def in_letters(text: str) -> str:
    """The build with letters for numbers in its names: lines differ from each other in more than digits."""
    return re.sub(r"(?<=-)\d+", lambda found: found[0].translate(LETTERS), text)


def lines_of_length(lines: int, first: int = 1) -> str:
    """A build of about that many lines, its pieces numbered from `first` on."""
    return large_build(max(1, (lines - HEAD.count("\n")) // PIECE.count("\n")), first)
