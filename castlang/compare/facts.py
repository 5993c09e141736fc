"""Every fact of every block: which kind of change it makes, what it is called, how it is told."""

from collections.abc import Mapping
from dataclasses import dataclass

from castlang.compare import shown
from castlang.compare.kinds import ChangeKind as Kind
from castlang.compare.shown import Show
from castlang.spec.model import (
    Build,
    Fitting,
    Gap,
    Ingredient,
    Job,
    Lip,
    Mix,
    Mold,
    Panel,
    Part,
    Piece,
    Station,
    Step,
    Stock,
)
from castlang.spec.quantity import Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One field of a block. word: what stands before its values, "" where they say it themselves. each: it
    holds members, and what is told are those added and dropped. ordered: the order of members is said too."""

    kind: Kind
    word: str
    show: Show
    each: bool = False
    ordered: bool = False


def _one(kind: Kind, word: str, show: Show) -> Fact:
    return Fact(kind=kind, word=word, show=show)


def _each(kind: Kind, word: str, show: Show, *, ordered: bool = False) -> Fact:
    return Fact(kind=kind, word=word, show=show, each=True, ordered=ordered)


_LABEL = _one(Kind.TEXT, "label", shown.quoted)
_NOTES = _each(Kind.TEXT, "note", shown.quoted, ordered=True)
_WRITES = _each(Kind.TEXT, "write", shown.quoted, ordered=True)
_HAZARDS = _each(Kind.HAZARD, "hazard", shown.text, ordered=True)
_WASTE = _one(Kind.WASTE, "waste", shown.share)
_DENSITY = shown.in_unit(Dimension.DENSITY)
_COVERAGE = shown.in_unit(Dimension.COVERAGE)
_LENGTH = shown.in_unit(Dimension.LENGTH)
_MASS = shown.in_unit(Dimension.MASS)
_VOLUME = shown.in_unit(Dimension.VOLUME)
_WARM = shown.in_unit(Dimension.TEMPERATURE)
_SPEED = shown.in_unit(Dimension.SPEED)

FACTS: Mapping[type, Mapping[str, Fact]] = {
    Build: {
        "name": _one(Kind.BUILD, "the build is called", shown.text),
        "label": _LABEL,
        "revision": _one(Kind.BUILD, "revision", shown.text),
        "start": _one(Kind.DATES, "start", shown.on_day),
        "due": _one(Kind.DATES, "due", shown.on_day),
        "shifts": _each(Kind.HOURS, "hours", shown.shift),
        "closed": _each(Kind.CLOSED, "closed", shown.days),
        "crew": _one(Kind.CREW, "crew", shown.gang),
        "away": _each(Kind.AWAY, "away", shown.away),
        "air": _each(Kind.CLIMATE, "air", shown.temperature_on),
        "night": _each(Kind.CLIMATE, "night", shown.temperature_on),
        "humidity": _each(Kind.CLIMATE, "humidity", shown.humidity_on),
        "draft": _one(Kind.CLIMATE, "draft", _SPEED),
        "wage": _one(Kind.MONEY, "wage", shown.hourly),
        "waste": _WASTE,
        "units": _one(Kind.BUILD, "the sheets print", shown.text),
        "contingency": _one(Kind.MONEY, "contingency", shown.share),
        "overhead": _one(Kind.MONEY, "overhead", shown.share),
        "margin": _one(Kind.MONEY, "margin", shown.share),
        "freight": _one(Kind.MONEY, "freight", shown.money),
        "exchange": _each(Kind.MONEY, "exchange", shown.exchange),
        "priority": _one(Kind.BUILD, "priority", shown.count),
        "lift_limit": _one(Kind.BUILD, "lift-limit a person", _MASS),
        "logger": _one(Kind.BUILD, "logger", shown.quoted),
        "logged": _one(Kind.CLIMATE, "logged", shown.readings),
        "notes": _NOTES,
    },
    Stock: {
        "label": _LABEL,
        "density": _one(Kind.STOCK, "density", _DENSITY),
        "areal": _one(Kind.STOCK, "weight", shown.in_unit(Dimension.AREAL_MASS)),
        "solids": _one(Kind.STOCK, "solids", shown.share),
        "volume_solids": _one(Kind.STOCK, "volume-solids", shown.share),
        "covers": _one(Kind.STOCK, "covers", _COVERAGE),
        "thick": _one(Kind.STOCK, "thick", _LENGTH),
        "kerf": _one(Kind.STOCK, "kerf", _LENGTH),
        "grain": _one(Kind.STOCK, "grain", shown.text),
        "acts": _one(Kind.STOCK, "acts", shown.text),
        "package": _one(Kind.PACKAGE, "sold", shown.package),
        "price": _one(Kind.PRICE, "price", shown.money),
        "more": _each(Kind.PACKAGE, "also sold", shown.pack, ordered=True),
        "kit": _one(Kind.PACKAGE, "kit", shown.kit),
        "have": _one(Kind.ON_HAND, "have", shown.count),
        "lead": _one(Kind.LEAD, "lead", shown.days_long),
        "ordered": _one(Kind.LEAD, "ordered", shown.on_day),
        "keeps": _one(Kind.LEAD, "keeps", shown.days_long),
        "waste": _WASTE,
        "hazards": _HAZARDS,
        "notes": _NOTES,
    },
    Mix: {
        "label": _LABEL,
        "base": _one(Kind.MIX, "made from", shown.text),
        "order": _one(Kind.MIX, "order", shown.names),
        "measure": _one(Kind.MIX, "measured by", shown.text),
        "air": _one(Kind.MIX, "air", shown.share),
        "yields": _one(Kind.MIX, "yields", _VOLUME),
        "works": _one(Kind.MIX, "works", shown.window),
        "works_at": _one(Kind.MIX, "works at", _WARM),
        "doubles": _one(Kind.MIX, "doubles", shown.in_unit(Dimension.TEMPERATURE_STEP)),
        "mixing": _one(Kind.MIX, "mixing", shown.seconds),
        "carry": _one(Kind.MIX, "carry", shown.seconds),
        "wet_edge": _one(Kind.MIX, "wet-edge", shown.seconds),
        "lift": _one(Kind.MIX, "lift", _LENGTH),
        "thick": _one(Kind.MIX, "thick", shown.thick),
        "recoat": _one(Kind.MIX, "recoat", shown.window),
        "covers": _one(Kind.MIX, "covers", _COVERAGE),
        "volume_solids": _one(Kind.MIX, "volume-solids", shown.share),
        "density": _one(Kind.MIX, "density", _DENSITY),
        "ages": _one(Kind.MIX, "ages", shown.ages),
        "strength": _one(Kind.MIX, "reaches", shown.strengths),
        "acts": _one(Kind.MIX, "acts", shown.text),
        "waste": _WASTE,
        "hazards": _HAZARDS,
        "notes": _NOTES,
    },
    Ingredient: {
        "role": _one(Kind.SHARE, "is", shown.text),
        "dose": _one(Kind.SHARE, "", shown.dose),
        "as_solids": _one(Kind.SHARE, "as solids", shown.yes),
        "damp": _one(Kind.SHARE, "damp", shown.share),
    },
    Mold: {
        "label": _LABEL,
        "count": _one(Kind.MOLD, "make", shown.count),
        "mirrored": _one(Kind.MOLD, "make mirrored", shown.count),
        "fits": _each(Kind.MOLD, "fits", shown.text, ordered=True),
        "board": _one(Kind.MOLD, "board", shown.text),
        "lasts": _one(Kind.MOLD, "lasts castings", shown.count),
        "hazards": _HAZARDS,
        "notes": _NOTES,
    },
    Panel: {
        "long": _one(Kind.MOLD, "long", _LENGTH),
        "wide": _one(Kind.MOLD, "wide", _LENGTH),
        "count": _one(Kind.MOLD, "make", shown.count),
        "stock": _one(Kind.MOLD, "of", shown.text),
    },
    Station: {
        "label": _LABEL,
        "have": _one(Kind.STATION, "have", shown.count),
        "holds": _one(Kind.STATION, "holds", shown.amount),
        "lifts": _one(Kind.STATION, "lifts", _MASS),
        "least": _one(Kind.STATION, "least", shown.amount),
        "scale": _one(Kind.STATION, "scale", shown.scale),
        "price": _one(Kind.PRICE, "price", shown.hourly),
        "closed": _each(Kind.CLOSED, "closed", shown.days),
        "notes": _NOTES,
    },
    Fitting: {
        "label": _LABEL,
        "buy": _one(Kind.FITTING, "buy", shown.count),
        "weight": _one(Kind.FITTING, "weight", _MASS),
        "carries": _one(Kind.FITTING, "carries", _MASS),
        "price": _one(Kind.PRICE, "price", shown.money),
        "lead": _one(Kind.LEAD, "lead", shown.days_long),
        "ordered": _one(Kind.LEAD, "ordered", shown.on_day),
        "hazards": _HAZARDS,
        "notes": _NOTES,
    },
    Piece: {
        "label": _LABEL,
        "count": _one(Kind.PIECE_COUNT, "make", shown.count),
        "mirrored": _one(Kind.PIECE_COUNT, "make mirrored", shown.count),
        "mesh": _one(Kind.PIECE_RESIZED, "body", shown.mesh),
        "notes": _NOTES,
    },
    Part: {
        "plus": _one(Kind.PART, "added to the body", shown.yes),
        "on": _one(Kind.PART, "on", shown.text),
        "placed": _one(Kind.PART, "placed", shown.placed),
    },
    Lip: {
        "deep": _one(Kind.LIP, "", _LENGTH),
        "on": _one(Kind.LIP, "on", shown.text),
    },
    Job: {
        "label": _LABEL,
        "notes": _NOTES,
    },
    Step: {
        "kind": _one(Kind.STEP_METHOD, "is", shown.text),
        "label": _LABEL,
        "material": _one(Kind.STEP_MATERIAL, "of", shown.text),
        "amount": _one(Kind.STEP_AMOUNT, "", shown.amount),
        "full": _one(Kind.STEP_AMOUNT, "full", shown.yes),
        "on": _one(Kind.STEP_PLACE, "on", shown.faces),
        "cavity": _one(Kind.STEP_PLACE, "into", shown.cavity),
        "things": _one(Kind.STEP_PLACE, "of", shown.things),
        "onto": _one(Kind.STEP_PLACE, "onto", shown.thing),
        "each": _one(Kind.STEP_PLACE, "each", shown.text),
        "target": _one(Kind.STEP_PLACE, "of", shown.text),
        "grits": _one(Kind.GRIT, "grit", shown.names),
        "wet": _one(Kind.GRIT, "", shown.wet),
        "method": _one(Kind.STEP_METHOD, "", shown.text),
        "laps": _one(Kind.STEP_METHOD, "laps", _LENGTH),
        "at": _one(Kind.STEP_METHOD, "at", _WARM),
        "overlap": _one(Kind.STEP_METHOD, "overlap", shown.seconds),
        "may_pause": _one(Kind.STEP_METHOD, "may pause", shown.yes),
        "through_breaks": _one(Kind.STEP_METHOD, "through breaks", shown.yes),
        "takes": _one(Kind.STEP_TIME, "takes", shown.seconds),
        "rate": _one(Kind.STEP_TIME, "rate", shown.amount),
        "gang": _one(Kind.STEP_PEOPLE, "by", shown.gang),
        "using": _one(Kind.STEP_STATION, "using", shown.names),
        "batch_with": _each(Kind.STEP_METHOD, "batch with", shown.pair, ordered=True),
        "between": _one(Kind.WINDOW, "between coats", shown.window),
        "waste": _WASTE,
        "earliest": _one(Kind.STEP_DATES, "earliest", shown.at_time),
        "latest": _one(Kind.STEP_DATES, "latest", shown.at_time),
        "instruction": _one(Kind.TEXT, "instruction", shown.quoted),
        "notes": _NOTES,
        "writes": _WRITES,
        "hazards": _HAZARDS,
    },
    Gap: {
        "at": _one(Kind.WAIT, "at", _WARM),
        "covered": _one(Kind.WAIT, "", shown.covered),
        "until": _one(Kind.WAIT, "until", shown.in_unit(Dimension.PRESSURE)),
        "tend": _one(Kind.WAIT, "tend", shown.tend),
        "text": _one(Kind.TEXT, "instruction", shown.quoted),
        "notes": _NOTES,
        "writes": _WRITES,
        "hazards": _HAZARDS,
    },
}
"""Facts told alike wherever they stand, in the order in which they are told. The kind of a gap's facts is
that of the gap."""

WALKED: Mapping[type, frozenset[str]] = {
    Stock: frozenset({"name"}),
    Mix: frozenset({"name", "ingredients", "water"}),
    Ingredient: frozenset({"stock"}),
    Mold: frozenset({"name", "temporary", "panels", "edges", "release", "sequence"}),
    Panel: frozenset({"name"}),
    Station: frozenset({"name"}),
    Fitting: frozenset({"name"}),
    Piece: frozenset({"name", "shape", "parts", "lips", "faces", "sequence"}),
    Part: frozenset({"name", "shape"}),
    Lip: frozenset({"name"}),
    Job: frozenset({"name", "sequence"}),
    Step: frozenset({"owner", "name", "recoat_of"}),
    Gap: frozenset({"kind", "owner", "window", "after", "told_at", "of"}),
}
"""Facts that have a walk of their own: names, members, sizes, what stands in order, and what follows from
another line (the mix of a recoat, what a wait is of)."""
