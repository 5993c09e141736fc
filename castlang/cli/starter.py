"""The build that `begin` writes: small, commented, whole, and clean."""

STARTER = """\
# A build is plain text. `#` begins a comment; every number carries its unit; nesting is by four spaces.
# Check it:     castlang check FILE
# Print it:     castlang binder FILE

build bench "Garden bench seat"
    start     2027-03-01
    due       2027-03-19
    hours     mon to fri 08:00 to 12:00, 12:30 to 16:30
    air       20 degC
    crew      2
    wage      40 EUR/h
    waste     10 %

# What the shop keeps. `have` counts packages on hand.
stock cement "White portland cement"
    density   3150 kg/m3
    sold      bag of 25 kg
    price     19.50 EUR
    have      1 bag
    hazard    wet-cement, cement-dust
stock sand "Kiln-dried sand, 0 to 2 mm"
    density   2650 kg/m3
    sold      bag of 25 kg
    price     6.80 EUR
    hazard    silica-dust
stock plasticizer "Plasticizer"
    density   1080 kg/m3
    solids    35 %
    sold      jug of 5 kg
    price     32.00 EUR
stock oil "Release oil"
    density   900 kg/m3
    covers    25 m2/L
    acts      release
    sold      jug of 5 L
    price     28.00 EUR
stock sealer "Penetrating sealer, water-borne"
    density   1020 kg/m3
    covers    9 m2/L
    acts      penetrating
    sold      can of 1 L
    price     24.00 EUR

# How it is mixed. Every share says of what.
mix casting "Table casting"
    binder    cement 100 parts
    sand      sand 180 parts damp 0 %
    water     0.36 of binder total
    liquid    plasticizer 0.8 % of binder
    works     45 min at 20 degC
    thick     20 mm to 150 mm

station mixer "Drum mixer"
    holds     60 L

# What it is cast in, and the work of making that.
mold seat-mold "Board mold, face down"
    fits      seat
    release   oil on seat.all takes 20 min by 1
    work      build-up takes 5 h by 1 may-pause

# What is cast. Lines follow one another; a wait tells its least and, with `to`, its longest.
piece seat "Bench seat"
    shape     slab 1200 mm long, 400 mm wide, 40 mm thick
    face      show top, ends, front, back
    take      seat-mold
    pour      body full of casting into seat-mold using mixer takes 40 min by 2
        write     "slump"
    cure      24 h to 4 days at 20 degC covered
    demold    takes 30 min by 2
    pass      hone grit 100, 200 wet on show takes 45 min by 1
    dry       2 days
    pass      seal 2 coats of sealer on show rolled takes 20 min by 1
        between   1 h to 4 h
    dry       24 h

# What is done once, for the whole build.
job delivery "Delivery"
    move      load-up of seat takes 30 min by 2 "Carry on edge, never flat."
"""
