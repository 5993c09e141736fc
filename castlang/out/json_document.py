"""The whole binder as one JSON document, which binder.schema.json beside this file describes."""

import json
from dataclasses import fields, is_dataclass
from enum import StrEnum

from castlang.sheets.model import (
    Binder,
    Caution,
    Chart,
    Facts,
    Items,
    Layout,
    Prose,
    Sheet,
    Table,
    WriteIn,
)
from castlang.sheets.stamps import stamp_of

SCHEMA = "castlang-binder-1"  # changes with every change after which an old reader would fail

# What a block is, said in the document by its member "block".
_BLOCKS: dict[type[object], str] = {
    Table: "table",
    Prose: "prose",
    Caution: "caution",
    Facts: "facts",
    WriteIn: "write-in",
    Items: "items",
    Chart: "chart",
    Layout: "layout",
}


def json_of(binder: Binder) -> str:
    """The document as text: keys sorted, two spaces of indent, a line end at its end."""
    document = {"schema": SCHEMA, "binder": _value(binder)}
    return json.dumps(document, indent=2, sort_keys=True, ensure_ascii=False) + "\n"


def json_of_table(table: Table) -> str:
    """One table as a JSON text, in the form that it has inside the binder."""
    return json.dumps(_value(table), ensure_ascii=False, indent=2, sort_keys=True) + "\n"


def _value(value: object) -> object:
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, str):
        return value.encode("utf-8", "replace").decode("utf-8")
    if isinstance(value, tuple):
        return [_value(part) for part in value]
    if is_dataclass(value):
        members = {field.name: _value(getattr(value, field.name)) for field in fields(value)}
        if isinstance(value, Sheet):
            stamp = stamp_of(value)
            members |= {"facts": stamp.facts, "dates": stamp.dates}
        kind = _BLOCKS.get(type(value))
        return members if kind is None else {"block": kind, **members}
    return value
