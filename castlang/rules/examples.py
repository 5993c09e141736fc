"""The shop that every rule's two small builds stand in: what it keeps, how it mixes, what it casts in."""

BASE = """\
build trial "A trial slab"
    start     2027-03-01
    hours     mon to fri 08:00 to 18:00
    air       20 degC
    crew      2

stock cement "White portland cement"
    density   3150 kg/m3
    sold      bag of 25 kg
stock sand "Kiln-dried sand"
    density   2650 kg/m3
    sold      bag of 25 kg
stock chop "Alkali-resistant glass, chopped"
    density   2680 kg/m3
    sold      bag of 20 kg
stock oil "Release oil"
    covers    25 m2/L
    acts      release
stock rust "Rust wash"
    covers    9 m2/L
    acts      color
stock varnish "Sealer that forms a film"
    covers    10 m2/L
    acts      film
stock resin-a "Casting resin"
    density   1.10 g/mL
stock resin-b "Hardener"
    density   0.98 g/mL

mix casting "Table casting"
    binder    cement  100 parts
    sand      sand    180 parts damp 0 %
    water     0.36 of binder total
    works     45 min at 20 degC
mix face "Face"
    binder    cement  100 parts
    sand      sand    100 parts damp 0 %
    water     0.33 of binder total
    works     40 min at 20 degC
    thick     1 mm to 4 mm
mix backer from face "Backer"
    fiber     chop    3 % of mix
    thick     6 mm to 12 mm
mix slurry from face "Void slurry"
    acts      filler
mix clear "Clear resin"
    measure   mass
    part      resin-a  100 parts
    part      resin-b   30 parts
    works     35 min at 22 degC
    lift      10 mm
    recoat    8 h to 24 h

station mixer "Pan mixer"
    holds     20 L

mold bed "Flat mold, face down"
    fits      slab
    lasts     10 castings
    release   oil on slab.show takes 15 min by 1
    work      build-up takes 2 h by 1
"""

SLAB = """\
piece slab
    shape     slab 600 mm long, 400 mm wide, 40 mm thick
    less      box slot 200 mm long, 40 mm wide, 15 mm deep on top
    face      show top, sides
    take      bed
"""
"""A slab with a slot in its top, and the mold taken."""

CAST = (
    SLAB
    + """\
    pour      body full of casting into bed using mixer takes 30 min by 2
    cure      24 h at 20 degC covered
    demold    takes 20 min by 2
"""
)
"""The slab, out of its mold."""

SHELL = """\
piece slab
    shape     corner-wall 900 mm long, 600 mm wide, 500 mm high
    face      show front, side
    take      bed
"""
"""A shell without a thickness of its own, and the mold taken."""
