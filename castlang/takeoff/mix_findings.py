"""What can be wrong with the recipe of a mix."""

from castlang.problems.model import Finding, Severity
from castlang.takeoff.sources import ARITHMETIC

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
