"""The closed list of kinds of change; every difference between two builds is one of them."""

from enum import StrEnum


class ChangeKind(StrEnum):
    """What kind of change it is. The names are stable: programs read them."""

    BUILD = "build"
    DATES = "dates"
    HOURS = "hours"
    CLOSED = "closed"
    CREW = "crew"
    AWAY = "away"
    CLIMATE = "climate"
    MONEY = "money"
    WASTE = "waste"
    DEFAULT = "default"
    STOCK_ADDED = "stock-added"
    STOCK_DROPPED = "stock-dropped"
    STOCK_RENAMED = "stock-renamed"
    STOCK = "stock"
    PACKAGE = "package"
    PRICE = "price"
    ON_HAND = "on-hand"
    LEAD = "lead"
    MIX_ADDED = "mix-added"
    MIX_DROPPED = "mix-dropped"
    MIX_RENAMED = "mix-renamed"
    MIX = "mix"
    SHARE = "share"
    INGREDIENT_ADDED = "ingredient-added"
    INGREDIENT_DROPPED = "ingredient-dropped"
    MIX_THROUGH_BASE = "mix-through-base"
    MOLD_ADDED = "mold-added"
    MOLD_DROPPED = "mold-dropped"
    MOLD_RENAMED = "mold-renamed"
    MOLD = "mold"
    TEMP_ADDED = "temp-added"
    TEMP_DROPPED = "temp-dropped"
    TEMP_RENAMED = "temp-renamed"
    TEMP = "temp"
    STATION_ADDED = "station-added"
    STATION_DROPPED = "station-dropped"
    STATION_RENAMED = "station-renamed"
    STATION = "station"
    FITTING_ADDED = "fitting-added"
    FITTING_DROPPED = "fitting-dropped"
    FITTING_RENAMED = "fitting-renamed"
    FITTING = "fitting"
    PIECE_ADDED = "piece-added"
    PIECE_DROPPED = "piece-dropped"
    PIECE_RENAMED = "piece-renamed"
    PIECE_RESIZED = "piece-resized"
    PIECE_COUNT = "piece-count"
    PART = "part"
    LIP = "lip"
    FACE = "face"
    JOB_ADDED = "job-added"
    JOB_DROPPED = "job-dropped"
    JOB_RENAMED = "job-renamed"
    LAYER_ADDED = "layer-added"
    LAYER_DROPPED = "layer-dropped"
    THICKNESS = "thickness"
    PASS_ADDED = "pass-added"
    PASS_DROPPED = "pass-dropped"
    GRIT = "grit"
    COATS = "coats"
    STEP_ADDED = "step-added"
    STEP_DROPPED = "step-dropped"
    STEP_RENAMED = "step-renamed"
    STEP_ORDER = "step-order"
    STEP_MATERIAL = "step-material"
    STEP_AMOUNT = "step-amount"
    STEP_PLACE = "step-place"
    STEP_METHOD = "step-method"
    STEP_TIME = "step-time"
    STEP_PEOPLE = "step-people"
    STEP_STATION = "step-station"
    STEP_DATES = "step-dates"
    WAIT = "wait"
    WINDOW = "window"
    CURE = "cure"
    DRY = "dry"
    AFTER = "after"
    WAIVER = "waiver"
    MEASURED = "measured"
    DONE = "done"
    HAZARD = "hazard"
    TEXT = "text"


SAID: dict[ChangeKind, str] = {
    ChangeKind.BUILD: "the build's name, revision, units of its sheets, limit of a lift, logger, priority",
    ChangeKind.DATES: "when the build starts, or is due",
    ChangeKind.HOURS: "the shop's hours",
    ChangeKind.CLOSED: "days on which the shop, or a station, is closed",
    ChangeKind.CREW: "how many people there are",
    ChangeKind.AWAY: "who is away, and when",
    ChangeKind.CLIMATE: "air, night, humidity or draft of the shop",
    ChangeKind.MONEY: "wage, contingency, overhead, margin, freight, exchange",
    ChangeKind.WASTE: "a waste, of the build, a stock, a mix or a step",
    ChangeKind.DEFAULT: "an `assume` line",
    ChangeKind.STOCK_ADDED: "a stock that was not there",
    ChangeKind.STOCK_DROPPED: "a stock that is gone",
    ChangeKind.STOCK_RENAMED: "a stock under another name",
    ChangeKind.STOCK: "what a stock is: density, solids, coverage, board, what it does",
    ChangeKind.PACKAGE: "how a stock is sold",
    ChangeKind.PRICE: "what a package, a fitting or an hour of a station costs",
    ChangeKind.ON_HAND: "how much of a stock is on hand",
    ChangeKind.LEAD: "how long a stock or fitting takes to come, or when it was ordered",
    ChangeKind.MIX_ADDED: "a mix that was not there",
    ChangeKind.MIX_DROPPED: "a mix that is gone",
    ChangeKind.MIX_RENAMED: "a mix under another name",
    ChangeKind.MIX: "what a mix does: working time, lift, recoat, density, and what else is no share",
    ChangeKind.SHARE: "how much of an ingredient, or of water, is in a mix",
    ChangeKind.INGREDIENT_ADDED: "an ingredient that was not in a mix",
    ChangeKind.INGREDIENT_DROPPED: "an ingredient that is no longer in a mix",
    ChangeKind.MIX_THROUGH_BASE: "a variant that changed because its base did",
    ChangeKind.MOLD_ADDED: "a mold that was not there",
    ChangeKind.MOLD_DROPPED: "a mold that is gone",
    ChangeKind.MOLD_RENAMED: "a mold under another name",
    ChangeKind.MOLD: "a mold: how many, for what, its board, panels, edges, release, castings",
    ChangeKind.TEMP_ADDED: "a temporary work that was not there",
    ChangeKind.TEMP_DROPPED: "a temporary work that is gone",
    ChangeKind.TEMP_RENAMED: "a temporary work under another name",
    ChangeKind.TEMP: "a temporary work: how many, its board, panels, edges",
    ChangeKind.STATION_ADDED: "a station that was not there",
    ChangeKind.STATION_DROPPED: "a station that is gone",
    ChangeKind.STATION_RENAMED: "a station under another name",
    ChangeKind.STATION: "a station: how many, what it holds, its scale",
    ChangeKind.FITTING_ADDED: "a fitting that was not there",
    ChangeKind.FITTING_DROPPED: "a fitting that is gone",
    ChangeKind.FITTING_RENAMED: "a fitting under another name",
    ChangeKind.FITTING: "a fitting: how many to buy, its weight, what it carries",
    ChangeKind.PIECE_ADDED: "a piece that was not there",
    ChangeKind.PIECE_DROPPED: "a piece that is gone",
    ChangeKind.PIECE_RENAMED: "a piece under another name",
    ChangeKind.PIECE_RESIZED: "a size or the kind of a piece's body, or its mesh",
    ChangeKind.PIECE_COUNT: "how many are cast",
    ChangeKind.PART: "what is added to a body or cut out of it",
    ChangeKind.LIP: "a lip",
    ChangeKind.FACE: "a named face",
    ChangeKind.JOB_ADDED: "a job that was not there",
    ChangeKind.JOB_DROPPED: "a job that is gone",
    ChangeKind.JOB_RENAMED: "a job under another name",
    ChangeKind.LAYER_ADDED: "a layer, pressed or scrim layer that was not there",
    ChangeKind.LAYER_DROPPED: "a layer, pressed or scrim layer that is gone",
    ChangeKind.THICKNESS: "how thick a layer is",
    ChangeKind.PASS_ADDED: "a finishing pass that was not there",
    ChangeKind.PASS_DROPPED: "a finishing pass that is gone",
    ChangeKind.GRIT: "the grits of a pass, or wet and dry",
    ChangeKind.COATS: "how many coats a pass has",
    ChangeKind.STEP_ADDED: "another line of work that was not there",
    ChangeKind.STEP_DROPPED: "another line of work that is gone",
    ChangeKind.STEP_RENAMED: "a line of work under another name",
    ChangeKind.STEP_ORDER: "the order of the lines of work",
    ChangeKind.STEP_MATERIAL: "another mix, stock or fitting in a step",
    ChangeKind.STEP_AMOUNT: "how much a step uses: a depth, a film, a number",
    ChangeKind.STEP_PLACE: "the faces, cavity or things of a step",
    ChangeKind.STEP_METHOD: "how a step is done: method, laps, temperature, pauses",
    ChangeKind.STEP_TIME: "how long a step takes",
    ChangeKind.STEP_PEOPLE: "by how many a step is done",
    ChangeKind.STEP_STATION: "the stations that a step uses",
    ChangeKind.STEP_DATES: "the earliest or latest time of a step",
    ChangeKind.WAIT: "a wait between two steps",
    ChangeKind.WINDOW: "a longest time between two steps or coats",
    ChangeKind.CURE: "a cure between two steps",
    ChangeKind.DRY: "a drying time between two steps",
    ChangeKind.AFTER: "what a step, or a block, comes after",
    ChangeKind.WAIVER: "a `waive` line",
    ChangeKind.MEASURED: "a measured value",
    ChangeKind.DONE: "a record of work done",
    ChangeKind.HAZARD: "what is dangerous",
    ChangeKind.TEXT: "a label, note, instruction, or what the crew writes down",
}
"""What falls into each kind, in words."""

MIRROR: dict[ChangeKind, ChangeKind] = {
    kind: ChangeKind(str(kind).replace(*ends))
    for kind in ChangeKind
    for ends in (("-added", "-dropped"), ("-dropped", "-added"))
    if str(kind).endswith(ends[0])
}
"""What each kind is when the two builds change places, where that is another."""
