"""Cautions by hazard word, as data. They are reminders: each defers to the safety data sheet, local code
and licensed practice.

Facts with a figure name their source. What stands without one is common practice, no source.
"""

from dataclasses import dataclass

from castlang.sheets.amounts import US
from castlang.sheets.model import Caution

DEFERS = "A reminder: safety data sheet, local code and licensed practice govern."
IN_FULL = "In full on sheet COVER; safety data sheet, local code and licensed practice govern."


@dataclass(frozen=True, slots=True, kw_only=True)
class Hazard:
    """hurts: what can hurt. do: what to do, the most important first; it stands alone on day sheets.
    facts: figures with their source. facts_us: the same for US sheets where the source has its own.
    also: other words for it."""

    word: str
    title: str
    hurts: str
    do: tuple[str, ...]
    facts: tuple[str, ...] = ()
    facts_us: tuple[str, ...] | None = None
    also: tuple[str, ...] = ()


SILICA_LIMITS = (
    "Respirable silica: at most 50 ug/m3 as an 8 h average (29 CFR 1910.1053 in shops, 1926.1153 on sites).",
    "Action level 25 ug/m3; HEPA filter: 99.97 % at 0.3 um (29 CFR 1926.1153(b)).",
    "Dust class M at the least, H or HEPA preferred (EN 60335-2-69, annex AA); local rule governs.",
)

# Revised lifting equation, load constant. The two figures are the manual's own, one for each system of
# units; they are no exact conversions of one another.
CEILING = "a ceiling under ideal conditions, not a permission (DHHS (NIOSH) 94-110, 1994)."

HAZARDS = (
    Hazard(
        word="silica-dust",
        title="Silica dust",
        hurts="Dust too fine to see scars the lungs for life. Dry sand and dry grinding raise it.",
        do=(
            "Keep it wet or extract it at the tool; never sweep dry, never blow down",
            "Wear the respirator that the shop's exposure plan tells",
            "Clean by wet wiping or with the vacuum named below; wash before eating",
        ),
        facts=SILICA_LIMITS,
    ),
    Hazard(
        word="grinding-slurry",
        title="Grinding slurry",
        hurts="The mist of wet grinding, and slurry that has dried, hold the same silica as dry dust.",
        do=(
            "Water on before the tool touches the face; vacuum or wash slurry up before it dries",
            "Never sweep or blow it; change wet clothes before they dry",
            "Indoors the mist can still be too much: have it measured, and wear what the exposure plan tells",
        ),
        facts=SILICA_LIMITS,
    ),
    Hazard(
        word="cement-dust",
        title="Cement dust",
        hurts="Burns eyes, irritates the nose and lungs, and becomes caustic on damp skin.",
        do=(
            "Open and pour bags low and slowly, with extraction on",
            "Goggles and respirator while the powder is dry",
            "Eyes: rinse at once, keep rinsing, then see a doctor",
        ),
    ),
    Hazard(
        word="wet-cement",
        title="Wet cement",
        hurts="Strongly caustic: burns skin slowly and without pain at first, and can make skin allergic.",
        do=(
            "Waterproof gloves and sleeves; no wet cloth or boot against the skin",
            "Skin: wash at once with plenty of water; eyes: rinse at once, then see a doctor",
            "Check the date of the chromate reducer printed on the bag",
        ),
        facts=(
            "Water-soluble chromium(VI) in cement: no more than 2 mg/kg (CLP Regulation, Annex II, 2.3).",
        ),
    ),
    Hazard(
        word="fine-dust",
        title="Fine dust",
        hurts="Irritates eyes and lungs; fine powders hang in the air for hours.",
        do=(
            "Extract or wet it; respirator while it is dry",
            "Clean with a vacuum, never with a broom or air",
        ),
    ),
    Hazard(
        word="glass-fiber",
        title="Glass fiber",
        hurts="Broken ends itch, cut and hurt eyes; cut cured edges stay sharp.",
        do=("Gloves, long sleeves and eye protection", "Vacuum the offcuts; wash work clothes apart"),
        also=("glass-fibre",),
    ),
    Hazard(
        word="wood-dust",
        title="Wood dust",
        hurts="Harms nose and lungs, and burns fast when it hangs in the air.",
        do=("Extract at the saw and sander", "Empty the collector away from sparks"),
    ),
    Hazard(
        word="corrosive",
        title="Corrosive",
        hurts="Burns skin and eyes within moments.",
        do=(
            "Goggles and chemical gloves on before the can is opened",
            "Know where the eyewash is; it stands within reach of this work",
            "Rinse at once and keep rinsing, then see a doctor",
        ),
        also=("acid", "caustic"),
    ),
    Hazard(
        word="irritant",
        title="Irritant",
        hurts="Reddens skin and hurts eyes.",
        do=("Gloves and eye protection", "Wash off with water, not with solvent"),
    ),
    Hazard(
        word="skin-sensitizer",
        title="Skin sensitizer",
        hurts="Can make a person allergic, and the allergy is for life; the next touch may be enough.",
        do=(
            "No contact with skin at all: gloves that resist it, changed often",
            "Wipe spills at once; never clean hands with solvent",
            "Anyone with a rash stops this work and sees a doctor",
        ),
        also=("skin-sensitiser", "sensitizer", "sensitiser"),
    ),
    Hazard(
        word="isocyanate",
        title="Isocyanate",
        hurts="Can cause asthma for life; once sensitized, a trace is enough. Spray is worst.",
        do=(
            "Ventilate; spray only with supplied air; nobody else in the room",
            "Gloves and covered skin; a dust mask is no protection",
            "Only people who have had the training",
        ),
        facts=(
            "In the EU above 0.1 %: training before use, again every 5 years (Regulation (EU) 2020/1149).",
        ),
        also=("isocyanates",),
    ),
    Hazard(
        word="solvent",
        title="Solvent",
        hurts="Vapor dulls and poisons, and a spark lights it; it creeps along the floor.",
        do=(
            "No flame, no spark, no smoking; ventilate to the outside",
            "Rags into a closed metal can; soaked rags can light by themselves",
        ),
        also=("solvents", "vapor", "vapour"),
    ),
    Hazard(
        word="flammable",
        title="Flammable",
        hurts="Burns at a spark.",
        do=("No flame, no spark, no smoking; extinguisher at hand", "Keep only today's amount at the bench"),
    ),
    Hazard(
        word="exotherm",
        title="Heat of the resin",
        hurts="Mixed resin heats itself; a full pot can smoke, boil over and burn.",
        do=(
            "Pour at once, never deeper than the lift told; keep no mixed resin in a deep pot",
            "A pot that gets hot: take it outdoors, spread it thin, stay out of the smoke",
        ),
    ),
    Hazard(
        word="hot",
        title="Hot work or hot parts",
        hurts="Burns skin, lights dust and vapor.",
        do=("Gloves for heat; mark what is hot", "Clear what burns before starting"),
        also=("heat",),
    ),
    Hazard(
        word="lifting",
        title="Lifting",
        hurts="Backs, hands and feet: a piece that slips crushes, a wet piece is heavier than it looks.",
        do=(
            "Weight and people stand on the WEIGHTS sheet; use the hoist or more people when in doubt",
            "Agree the path, the hand-holds and who speaks before anything leaves the floor",
            "Gloves and safety boots; nobody under or in front of a hanging piece",
        ),
        facts=(f"23 kg a person is {CEILING}",),
        facts_us=(f"51 lb a person is {CEILING}",),
        also=("heavy",),
    ),
    Hazard(
        word="electricity-near-water",
        title="Electricity near water",
        hurts="Wet hands, wet floor and a powered tool together can kill.",
        do=(
            "Only through a ground-fault outlet (residual-current device), tested today",
            "Tools made for wet work; plugs and joints off the floor and dry",
            "Fixed wiring is a licensed electrician's work",
        ),
    ),
    Hazard(
        word="noise",
        title="Noise",
        hurts="Takes hearing for good, without pain.",
        do=("Ear protection on before the tool starts, for everyone nearby",),
    ),
    Hazard(
        word="sharp-edges",
        title="Sharp edges",
        hurts="Cast edges and cut sheet open gloves and hands.",
        do=("Break edges before handling; cut-resistant gloves",),
        also=("sharp",),
    ),
    Hazard(
        word="slips",
        title="Slippery floor",
        hurts="Slurry, release agent and water underfoot.",
        do=("Squeegee as you go; boots with grip",),
        also=("slip", "wet-floor"),
    ),
)

_BY_WORD = {word: hazard for hazard in HAZARDS for word in (hazard.word, *hazard.also)}


def known(word: str) -> Hazard | None:
    """The hazard that a word of the build names, or None: then the word is printed as it is."""
    return _BY_WORD.get(word)


def title_of(word: str) -> str:
    """The short title of a hazard, as it stands on the sheets."""
    hazard = known(word)
    return hazard.title if hazard else word


def short_of(word: str) -> str:
    """One line: the title and the first thing to do."""
    hazard = known(word)
    return f"{hazard.title}: {hazard.do[0]}" if hazard else f"{word}: see the safety data sheet"


def caution_of(word: str, units: str) -> Caution:
    """The whole boxed caution. A word that is not known here keeps its own name and points to its sheet."""
    hazard = known(word)
    if hazard is None:
        return Caution(title=word, lines=("Hazard named in the build: ask before you start.", DEFERS))
    facts = hazard.facts_us if units == US and hazard.facts_us is not None else hazard.facts
    return Caution(title=hazard.title, lines=(hazard.hurts, *hazard.do, *facts, DEFERS))


def cautions_of(words: tuple[str, ...], units: str) -> tuple[Caution, ...]:
    """One box a hazard, two words for the same hazard once, in the order of the words."""
    boxes: dict[str, Caution] = {}
    for word in words:
        boxes.setdefault(title_of(word), caution_of(word, units))
    return tuple(boxes.values())


def in_short(
    title: str, words: tuple[str, ...], where: str = IN_FULL, untold: tuple[str, ...] = ()
) -> Caution:
    """One box for several hazards, a line each; `where` says where they stand in full. untold: what the build
    tells no hazard of."""
    lines = dict.fromkeys(short_of(word) for word in words)
    ask = f"{', '.join(untold)}: the build tells no hazard, so read the safety data sheet"
    asks = (ask,) if untold else ()
    return Caution(title=title, lines=(*lines, *asks, *((where,) if words else ())))


def titles_of(words: tuple[str, ...]) -> tuple[str, ...]:
    """The titles alone, each once, in the order of the words."""
    return tuple(dict.fromkeys(title_of(word) for word in words))
