"""What a take-off can find wrong with the amounts of a build, each declared once."""

from castlang.problems.model import Finding, Severity

ARITHMETIC = "arithmetic"
COMMON = "common practice, no source"

# ---------------------------------------------------------------- mixes

MISSING_DENSITY = Finding(
    name="missing-density",
    severity=Severity.ERROR,
    says="a material's density is needed and nobody told it",
    why="mass and volume of a mix follow from each other only through the densities of what is in it",
    remedy="write `density N kg/m3` under the stock, from its data sheet",
    source=ARITHMETIC,
)
MISSING_SOLIDS = Finding(
    name="missing-solids",
    severity=Severity.ERROR,
    says="a liquid is dosed as solids and its solids are not told",
    why="how much to weigh out is the dry dose over the share of solids",
    remedy="write `solids N %` under the stock, from its data sheet",
    source=ARITHMETIC,
)
MISSING_WEIGHT = Finding(
    name="missing-weight",
    severity=Severity.ERROR,
    says="a cloth is used by area and sold by weight, or the other way round, and its weight is not told",
    why="area and weight of a cloth follow from each other only through its weight an area",
    remedy="write `weight N g/m2` under the stock",
    source=ARITHMETIC,
)
MISSING_COVERS = Finding(
    name="missing-covers",
    severity=Severity.ERROR,
    says="coats are told by number and nothing says how far the material goes",
    why="the amount of a coat is the area over what a litre covers",
    remedy="write `covers N m2/L` under the mix or stock, or give the pass an amount such as `0.2 kg/m2`",
    source="spreading-rate identity; ASTM D5201 for volume solids",
)
MISSING_VOLUME_SOLIDS = Finding(
    name="missing-volume-solids",
    severity=Severity.ERROR,
    says="a film is told dry, and its material does not say how much of a wet film stays",
    why="the wet film, which is what goes on, is the dry film over the volume solids",
    remedy="write `volume-solids N %` under the mix or stock, from its data sheet, or tell the wet film",
    source="ISO 3233; ASTM D5201: wet film is dry film over volume solids",
)
MEASURE_UNSAID = Finding(
    name="measure-unsaid",
    severity=Severity.ERROR,
    says="a mix in parts A and B does not say whether they are measured by mass or by volume",
    why="the two differ by the ratio of the densities, often by a tenth or more",
    remedy="write `measure mass` or `measure volume` under the mix",
    source=ARITHMETIC,
)
KIT_OFF_RATIO = Finding(
    name="kit-off-ratio",
    severity=Severity.WARNING,
    says="a mix takes the parts of a kit in another ratio than the kit holds them",
    why="of each kit a part is left over that nothing can be made with, or the ratio is not the maker's",
    remedy="take the ratio from the data sheet, and what a kit holds from its label",
    source=ARITHMETIC,
)
PARTS_AND_MASSES = Finding(
    name="parts-and-masses",
    severity=Severity.ERROR,
    says="a recipe gives some doses in parts and others in masses or volumes",
    why="nothing says how much one part is",
    remedy="give every dose in parts, or every dose in masses for one yield; shares may stand beside either",
    source=ARITHMETIC,
)
FILL_WITHOUT_YIELD = Finding(
    name="fill-without-yield",
    severity=Severity.ERROR,
    says="a sand is to fill the volume that the others leave, and the volume is not told",
    why="absolute volumes: what is left is the yield less air and all the others",
    remedy="write `yields 1 m3` under the mix, and the other doses for that volume",
    source="absolute volume method, ACI 211.1-91",
)
SECOND_FILL = Finding(
    name="second-fill",
    severity=Severity.ERROR,
    says="two lines of a mix are to fill the same volume",
    why="only one can take what the others leave",
    remedy="give one of them a dose",
    source="absolute volume method, ACI 211.1-91",
)
NO_ROOM_TO_FILL = Finding(
    name="no-room-to-fill",
    severity=Severity.ERROR,
    says="air and the other materials leave no volume for the sand that is to fill",
    why="absolute volumes: the parts of a mix cannot be more than the mix",
    remedy="lower the other doses, or correct `yields`",
    source="absolute volume method, ACI 211.1-91",
)
SHARES_TOO_GREAT = Finding(
    name="shares-too-great",
    severity=Severity.ERROR,
    says="shares of the whole come to the whole or more, so nothing is left for the rest",
    why="a share of the mix counts everything in it, itself and the water included",
    remedy="lower the shares, or say what each is a share of: `of binder`, `of mix`, `of STOCK`",
    source=ARITHMETIC,
)
NO_AMOUNTS = Finding(
    name="no-amounts",
    severity=Severity.ERROR,
    says="the doses of a mix do not come to an amount",
    why="every share needs something told in parts or in mass, at the end, that it is a share of",
    remedy="give at least the binder in parts: `binder STOCK 100 parts`",
    source=ARITHMETIC,
)
WATER_BELOW_ZERO = Finding(
    name="water-below-zero",
    severity=Severity.ERROR,
    says="liquids and damp sand bring more water than the mix may have in all",
    why="`total` counts all water; what is left to add would be less than nothing",
    remedy="dry the sand, lower the liquid, or raise the water: `water SHARE of binder total`",
    source="ASTM C1602, sources of mixing water",
)
MORE_THAN_FULL = Finding(
    name="more-than-full",
    severity=Severity.WARNING,
    says="the told density or yield leaves less room than the materials take without any air",
    why="a mix can be no denser than its materials packed without air",
    remedy='weigh a known volume of the fresh mix and write `measured density of MIX N kg/m3 "how"`',
    source="absolute volume method, ACI 211.1-91",
)
PIGMENT_OVER_LIMIT = Finding(
    name="pigment-over-limit",
    severity=Severity.WARNING,
    says="there is more pigment in a mix than a tenth of its binder",
    why="more gives no deeper colour and costs strength",
    remedy="lower the pigment to 10 % of binder or less",
    source="ASTM C979, dosage of pigments for integrally coloured concrete",
)

# ---------------------------------------------------------------- ranges that a mix leaves

WATER_UNUSUAL = Finding(
    name="water-unusual",
    severity=Severity.WARNING,
    says="a cement mix has less or more water than such mixes have",
    why="too little leaves voids, too much costs strength and lets it shrink and craze",
    remedy="correct the water, or what liquids and damp sand bring; or waive it with a reason",
    source=COMMON,
)
SAND_UNUSUAL = Finding(
    name="sand-unusual",
    severity=Severity.WARNING,
    says="a glass-fiber mix has less or more sand than such mixes have",
    why="about as much sand as cement keeps it strong and lets it be laid thin",
    remedy="correct the doses; or waive it with a reason",
    source=COMMON,
)
POLYMER_UNUSUAL = Finding(
    name="polymer-unusual",
    severity=Severity.WARNING,
    says="a cement mix has less or more curing polymer than such mixes have",
    why="some 5 % of solids on the binder stand for a wet cure of a week; much more stays soft",
    remedy="say `as solids` where the dose counts solids; or waive it with a reason",
    source=COMMON,
)
DISPERSION_UNUSUAL = Finding(
    name="dispersion-unusual",
    severity=Severity.WARNING,
    says="a polymer dispersion tells solids that such dispersions do not have",
    why="its solids say how much to weigh out, and how much water comes with it",
    remedy="take `solids` from its data sheet; or waive it with a reason",
    source=COMMON,
)
FIBER_UNUSUAL = Finding(
    name="fiber-unusual",
    severity=Severity.WARNING,
    says="a mix has less or more glass fiber than mixes put on in that way have",
    why="too little carries nothing, too much cannot be wetted out or rolled",
    remedy="correct the share `of mix`; or waive it with a reason",
    source=COMMON,
)
POZZOLAN_UNUSUAL = Finding(
    name="pozzolan-unusual",
    severity=Severity.WARNING,
    says="more of the cement is replaced than is usual",
    why="the more is replaced, the slower the mix gains strength before it leaves the mold",
    remedy="lower the replacement, or prove it by a trial and waive it with a reason",
    source=COMMON,
)
ADMIXTURE_UNUSUAL = Finding(
    name="admixture-unusual",
    severity=Severity.WARNING,
    says="liquid admixtures come to more than 5 % of the binder",
    why="beyond its dose an admixture retards, entrains air or bleeds",
    remedy="take the dose from the data sheet; or waive it with a reason",
    source="EN 206, 5.2.6: admixtures in all at most 50 g for 1 kg of cement (from memory)",
)
DILUTION_UNUSUAL = Finding(
    name="dilution-unusual",
    severity=Severity.WARNING,
    says="a release agent is thinned less or more than is usual",
    why="too rich it stains and keeps sealer off, too thin the mold does not let go",
    remedy="take the dilution from its data sheet; or waive it with a reason",
    source=COMMON,
)
HARDENER_UNUSUAL = Finding(
    name="hardener-unusual",
    severity=Severity.WARNING,
    says="a casting resin has less or more hardener than such resins take",
    why="off its ratio a resin stays soft or brittle, and nothing mends it",
    remedy="take the ratio from the data sheet, and check whether by mass or by volume",
    source=COMMON,
)
TEMPERATURE_UNUSUAL = Finding(
    name="temperature-unusual",
    severity=Severity.WARNING,
    says="a mix comes out of the mixer colder or warmer than is usual",
    why="cold it sets late and the waits do not hold; warm it stiffens before it is placed",
    remedy="warm or cool the water first: it moves the mix most",
    source=COMMON,
)

# ---------------------------------------------------------------- batches

WORKS_TOO_SHORT = Finding(
    name="works-too-short",
    severity=Severity.ERROR,
    says="mixing and carrying alone use up the mix's working time",
    why="working time runs from the first liquid in the bucket to the last of that batch in place",
    remedy="shorten `mixing` or `carry`, or use a mix that works longer",
    source=COMMON,
)
WORKS_FAR_OFF = Finding(
    name="works-far-off",
    severity=Severity.WARNING,
    says="a mix is used more than 15 K from the temperature that its working time is told at",
    why="the rule by which a working time follows the temperature holds for about 15 K either way",
    remedy="take the working time at a nearer temperature from the data sheet, or keep the shop nearer to it",
    source="rule of thumb; ISO 9514 and ISO 2535 leave the time in the shop to a trial at its temperature",
)
WET_EDGE_TOO_SHORT = Finding(
    name="wet-edge-too-short",
    severity=Severity.ERROR,
    says="mixing and carrying the next batch take longer than the edge of the last one stays wet",
    why="a layer of several batches stays whole only where each batch meets a wet edge",
    remedy="shorten `mixing` or `carry`, or use a larger mixer, so that one batch is enough",
    source=COMMON,
)
CHARGE_BELOW_LEAST = Finding(
    name="charge-below-least",
    severity=Severity.WARNING,
    says="a batch is smaller than its mixer mixes well",
    why="a mixer with too little in it throws the mix at its wall and leaves it unmixed",
    remedy="use a smaller mixer for this step: `using STATION`",
    source=COMMON,
)
TOO_MANY_BATCHES = Finding(
    name="too-many-batches",
    severity=Severity.ERROR,
    says="a step comes to more than 999 batches",
    why="no crew mixes a thousand buckets for one step; a size or a unit is likely wrong",
    remedy="check `holds` of the station and the sizes of the piece",
    source=COMMON,
)
TOO_MANY_PARTS = Finding(
    name="too-many-parts",
    severity=Severity.ERROR,
    says="a step comes to more than 999 lifts or coats",
    why="no crew pours a thousand lifts; a size or a unit is likely wrong",
    remedy="check `lift` of the mix, the number of coats, and the sizes of the piece",
    source=COMMON,
)
BELOW_SCALE = Finding(
    name="below-scale",
    severity=Severity.WARNING,
    says="a line of a batch is less than the scale can show",
    why="a scale says nothing below its least load, and a dose below its step is left out",
    remedy="use a finer scale, or weigh the material for several batches at once and share it out",
    source=ARITHMETIC,
)

ROUNDED_OFF = Finding(
    name="rounded-off",
    severity=Severity.WARNING,
    says="the scale moves a dose too far: the ratio of parts that set by over 2 %, another by over 5 %",
    why="parts off their ratio stay soft or brittle; a pigment or admixture off its dose shows",
    remedy="use a finer scale, or one batch in place of several small ones",
    source=COMMON,
)

# ---------------------------------------------------------------- steps

RATE_WITHOUT_MEASURE = Finding(
    name="rate-without-measure",
    severity=Severity.ERROR,
    says="a step's rate counts something that the step does not have",
    why="time is area over an area rate, or volume over a volume rate",
    remedy="write `takes T` in place of the rate",
    source=ARITHMETIC,
)
POUR_INTO_SHELL = Finding(
    name="pour-into-shell",
    severity=Severity.ERROR,
    says="a pour is to fill the body of a piece whose shape has no thickness of its own",
    why="an open shell is made of its layers alone",
    remedy="use `layer NAME L of MIX on FACES`, or a shape with a thickness",
    source=ARITHMETIC,
)
NOTHING_LEFT_TO_POUR = Finding(
    name="nothing-left-to-pour",
    severity=Severity.ERROR,
    says="layers and other pours leave nothing for a full pour",
    why="`full` is what is left of the body or cavity",
    remedy="make a layer thinner, or leave the pour out",
    source=ARITHMETIC,
)
HOLDS_NOTHING = Finding(
    name="holds-nothing",
    severity=Severity.ERROR,
    says="a liquid is loaded on a face that cannot hold it",
    why="it would run off, and its weight is counted nowhere",
    remedy="load the inside of a tray or bowl, or a cut-out that opens upward",
    source=ARITHMETIC,
)
POUR_TOO_DEEP = Finding(
    name="pour-too-deep",
    severity=Severity.ERROR,
    says="a pour is deeper than what it is poured into",
    why="what does not fit runs over",
    remedy="lower the depth, or write `full`",
    source=ARITHMETIC,
)
LAYERS_TOO_THICK = Finding(
    name="layers-too-thick",
    severity=Severity.ERROR,
    says="layers on one face are thicker than the piece is there",
    why="layers grow inward from the mold, and sizes are the finished outside",
    remedy="make the layers thinner, or the piece thicker",
    source=ARITHMETIC,
)
PANEL_LARGER_THAN_SHEET = Finding(
    name="panel-larger-than-sheet",
    severity=Severity.WARNING,
    says="a panel cannot be cut from one sheet of its stock",
    why="neither way round does it fit",
    remedy="divide the panel and say both parts, or use a larger sheet",
    source=ARITHMETIC,
)
BUY_TOO_FEW = Finding(
    name="buy-too-few",
    severity=Severity.WARNING,
    says="the steps use more of a fitting than the build buys",
    why="the order list buys what the steps use, never fewer",
    remedy="raise `buy`, or leave it out",
    source=ARITHMETIC,
)

# ---------------------------------------------------------------- loads

LIFT_OVER_LIMIT = Finding(
    name="lift-over-limit",
    severity=Severity.WARNING,
    says="a lift asks more of each person than the build allows",
    why="the build's `lift-limit` says what one person may lift",
    remedy="put more people on the step, or lift it `using` a hoist (a station that `holds` a mass)",
    source="the build's own limit",
)
HEAVY_LIFT = Finding(
    name="heavy-lift",
    severity=Severity.NOTE,
    says="a lift asks more than 23 kg of each person",
    why="23 kg is the most that the lifting equation allows at the best of postures, for one person alone",
    remedy="put more people on the step, lift it `using` a hoist (a station that `holds` a mass), or tell "
    "the shop's own limit",
    source="DHHS (NIOSH) 94-110, revised lifting equation, 1994: load constant 23 kg",
)
FITTING_OVERLOADED = Finding(
    name="fitting-overloaded",
    severity=Severity.ERROR,
    says="more is laid on a fitting than it carries",
    why="the fitting's `carries` says what one of them may bear",
    remedy="use more or stronger fittings; have a competent person check what holds them",
    source="the fitting's own figure",
)
STATION_OVERLOADED = Finding(
    name="station-overloaded",
    severity=Severity.ERROR,
    says="a step puts more weight on a station than it holds",
    why="the station's `holds` says what it may bear at once",
    remedy="divide the step in two",
    source="the station's own figure",
)

USUAL = (
    WATER_UNUSUAL,
    SAND_UNUSUAL,
    POLYMER_UNUSUAL,
    DISPERSION_UNUSUAL,
    FIBER_UNUSUAL,
    POZZOLAN_UNUSUAL,
    ADMIXTURE_UNUSUAL,
    DILUTION_UNUSUAL,
    HARDENER_UNUSUAL,
    TEMPERATURE_UNUSUAL,
    PIGMENT_OVER_LIMIT,
)
"""What is a matter of judgement: a builder may waive these with a reason."""

ALL = (
    MISSING_DENSITY,
    MISSING_SOLIDS,
    MISSING_WEIGHT,
    MISSING_COVERS,
    MISSING_VOLUME_SOLIDS,
    MEASURE_UNSAID,
    KIT_OFF_RATIO,
    PARTS_AND_MASSES,
    FILL_WITHOUT_YIELD,
    SECOND_FILL,
    NO_ROOM_TO_FILL,
    SHARES_TOO_GREAT,
    NO_AMOUNTS,
    WATER_BELOW_ZERO,
    MORE_THAN_FULL,
    *USUAL,
    WORKS_TOO_SHORT,
    WORKS_FAR_OFF,
    WET_EDGE_TOO_SHORT,
    CHARGE_BELOW_LEAST,
    TOO_MANY_BATCHES,
    TOO_MANY_PARTS,
    BELOW_SCALE,
    ROUNDED_OFF,
    RATE_WITHOUT_MEASURE,
    POUR_INTO_SHELL,
    NOTHING_LEFT_TO_POUR,
    HOLDS_NOTHING,
    POUR_TOO_DEEP,
    LAYERS_TOO_THICK,
    PANEL_LARGER_THAN_SHEET,
    BUY_TOO_FEW,
    LIFT_OVER_LIMIT,
    HEAVY_LIFT,
    FITTING_OVERLOADED,
    STATION_OVERLOADED,
)
