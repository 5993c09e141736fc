"""The binder as JSON, held against its published schema."""

import copy
import json
from importlib import resources

import pytest
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]

from castlang.out.json_document import json_of
from castlang.sheets.model import (
    Align,
    Bar,
    BarKind,
    Binder,
    Caution,
    Chart,
    ChartRow,
    Column,
    Facts,
    Item,
    Items,
    LaidOut,
    Layout,
    Prose,
    Row,
    Sheet,
    Table,
    WriteIn,
)

SCHEMA = json.loads(
    resources.files("castlang.out").joinpath("binder.schema.json").read_text(encoding="utf-8")
)

BLOCKS = (
    Table(
        key="masses",
        title="Masses",
        columns=(Column(key="mass_kg", title="mass\nkg", align=Align.RIGHT, share=2, blank=True),),
        rows=(Row(cells=("12.5",), strong=True),),
    ),
    Prose(lines=("one", "two"), points=True),
    Prose(lines=(), title="Größe"),
    Caution(title="Dust", lines=("mask",)),
    Facts(pairs=(("mass", "146 kg"),)),
    WriteIn(lines=(("mixed by", 0.5), ("remarks", 1))),
    Items(items=(Item(when="Mon", what="pour", lines=("l",), write=("w",), caution=("c",)),), title="Work"),
    Items(items=()),
    Chart(
        title="When",
        days=("Mon",),
        open=((450, 990),),
        rows=(
            ChartRow(label="hone", bars=(Bar(start=450, end=500, kind=BarKind.WORK, critical=True),)),
            ChartRow(label="cure", bars=(), slack_to=700),
        ),
    ),
    Layout(
        title="Sheet 1",
        along=2_440_000,
        across=1_220_000,
        side="2440 mm",
        end="1220 mm",
        panels=(LaidOut(number="1", x=0, y=0, along=900, across=300),),
        grain="along",
    ),
)
BINDER = Binder(
    build="bench",
    label="Yard bench",
    revision="r7",
    paper="a4",
    sheets=(Sheet(code="A", title="All", blocks=BLOCKS, subtitle="s", landscape=True, section="x"),),
)


def problems(document: object) -> list[str]:
    return [error.message for error in Draft202012Validator(SCHEMA).iter_errors(document)]


def objects(value: object) -> list[dict[str, object]]:
    """Every object in a document, outermost first."""
    found: list[dict[str, object]] = [value] if isinstance(value, dict) else []
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    for part in inner:
        found += objects(part)
    return found


def test_the_schema_is_itself_a_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def test_a_binder_with_every_kind_of_block_keeps_the_schema() -> None:
    assert problems(json.loads(json_of(BINDER))) == []


def test_a_binder_without_sheets_keeps_the_schema() -> None:
    empty = Binder(build="", label="", revision="", paper="letter", sheets=())

    assert problems(json.loads(json_of(empty))) == []


@pytest.mark.parametrize("index", range(len(objects(json.loads(json_of(BINDER))))))
def test_the_schema_refuses_a_member_too_many_and_one_too_few(index: int) -> None:
    whole = json.loads(json_of(BINDER))
    more, fewer = copy.deepcopy(whole), copy.deepcopy(whole)
    objects(more)[index]["other"] = 1
    objects(fewer)[index].popitem()

    assert problems(more) != []
    assert problems(fewer) != []


def test_the_document_is_sorted_indented_and_ends_its_last_line() -> None:
    text = json_of(BINDER)

    assert text == json.dumps(json.loads(text), indent=2, sort_keys=True, ensure_ascii=False) + "\n"
    assert "Größe" in text


def test_the_document_says_what_it_is() -> None:
    assert json.loads(json_of(BINDER))["schema"] == "castlang-binder-1"


def test_a_broken_character_does_not_break_the_file() -> None:
    broken = Binder(build="\ud800", label="", revision="", paper="a4", sheets=())

    assert json.loads(json_of(broken).encode("utf-8"))["binder"]["build"] == "?"
