"""Ranges of the trade that a mix leaves: unusual, and waived with a reason where it is meant."""

from castlang.problems.model import Finding, Severity
from castlang.takeoff.sources import COMMON

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

PIGMENT_OVER_LIMIT = Finding(
    name="pigment-over-limit",
    severity=Severity.WARNING,
    says="there is more pigment in a mix than a tenth of its binder",
    why="more gives no deeper colour and costs strength",
    remedy="lower the pigment to 10 % of binder or less",
    source="ASTM C979, dosage of pigments for integrally coloured concrete",
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
