"""What a comparison is written as: JSON under its schema, Markdown, and the notice for the crew."""

import json
from importlib import resources
from pathlib import Path

import pytest
from comparing import GARDEN, compared, edited
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]

from castlang.compare.as_json import comparison_json
from castlang.compare.kinds import SAID
from castlang.compare.notice import LENGTHS, notice_of
from castlang.out.markdown import markdown_of
from castlang.out.pdf import page_count
from castlang.out.plain_text import text_of
from castlang.sheets.model import Caution, Facts, Prose, Table

SCHEMA = json.loads(
    resources.files("castlang.compare").joinpath("comparison.schema.json").read_text(encoding="utf-8")
)
CAST = GARDEN + 'done shelf.body 2027-03-01 09:40 to 10:20 by 2 "Went in well"\n'
THICKER = (("30 mm thick", "38 mm thick"), ("180 parts", "240 parts"), ("feet 4 of", "feet 6 of"))


def said(block: object) -> str:
    match block:
        case Table():
            return "\n".join(" | ".join(row.cells) for row in block.rows)
        case Facts():
            return "\n".join(": ".join(pair) for pair in block.pairs)
        case Prose() | Caution():
            return "\n".join((block.title or "", *block.lines))
        case _:
            return ""


@pytest.mark.parametrize(
    "edits", [(), THICKER, (("due       2027-03-26", "due       2027-03-04"),)], ids=["same", "more", "late"]
)
def test_the_json_document_keeps_its_schema(edits: tuple[tuple[str, str], ...]) -> None:
    Draft202012Validator.check_schema(SCHEMA)
    document = json.loads(comparison_json(compared(CAST, edited(edits, CAST)), "us"))

    assert list(Draft202012Validator(SCHEMA).iter_errors(document)) == []
    assert document["same"] == (edits == ())


def test_the_notice_alone_answers_what_the_crew_asks() -> None:
    told = compared(CAST, edited(THICKER, CAST))
    (sheet,) = notice_of(told, "metric", paper="a4", revision="C", most=LENGTHS[0]).sheets
    text = "\n".join(said(block) for block in sheet.blocks)

    for answer in (
        "from: old\nto: new",
        "done already: 1 step on record, 1 of them not as the build now says",
        "shelf.body (done Mon 1 Mar 2027 10:20)",
        "shelf: 30 mm -> 38 mm thick",
        " | exchange | BATCH shelf.body, bench.body, plinth.body\n",
        "Steel anchor: buy 2 pieces more, by Mon 1 Mar",
        "casting: sand 180 parts -> 240 parts",
        "ends: ",
        "cost in all: ",
    ):
        assert answer in text, text


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_notice_of_many_changes_finds_room_on_two_pages(paper: str) -> None:
    lines = "".join(f'    note      "Remark {n}"\n' for n in range(60))
    new = edited((*THICKER, ("    waste     10 %\n", f"    waste     12 %\n{lines}")), CAST)
    told = compared(CAST, new)
    counts = [page_count(notice_of(told, "metric", paper=paper, revision="C", most=most)) for most in LENGTHS]

    assert counts == sorted(counts, reverse=True)
    assert min(counts) <= 2


def test_what_a_builder_typed_is_never_markup_and_never_steers_a_terminal() -> None:
    block = Prose(title="A | b", lines=("*bold* <b> `x` [a](b)\x1b[31m",), points=True)

    assert markdown_of("t", [block]) == (
        "# t\n\n## A \\| b\n\n- \\*bold\\* \\<b\\> \\`x\\` \\[a\\](b)\x1b\\[31m\n"
    )
    assert "\x1b" not in text_of([block], 80)


def test_every_kind_of_change_stands_in_the_reference_as_the_code_says_it() -> None:
    page = (Path(__file__).parent.parent / "docs" / "reference" / "commands.md").read_text(encoding="utf-8")
    rows = "\n".join(f"| `{kind}` | {words} |" for kind, words in SAID.items())

    assert f"| kind | what changed |\n|---|---|\n{rows}\n\n" in page
