"""Whatever the text, it is answered in words: never an exception, never a heap of messages."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from told import BENCH, PANEL, lines, told

from castlang.problems.as_text import problem_text


@pytest.mark.parametrize("text", ["", "\n\n", "# nothing\n# yet", "    # nothing", "\ufeff", "   \n\t\n"])
def test_a_text_without_a_line_lacks_its_build_and_nothing_else(text: str) -> None:
    assert lines(text) == [
        "1 no-build: there is no `build` block; add a `build` block with start, hours, air and crew"
    ]


def test_bytes_that_are_no_text_are_told_at_their_place() -> None:
    problems = told(BENCH.encode() + "# Gruße\n".encode("latin-1"))

    assert [(p.finding.name, p.span.line, p.span.column) for p in problems] == [
        ("not-text", BENCH.count("\n") + 1, 6)
    ]


PICTURE = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\x02X\xff\xfe\x9d\n  \x08\x06"


def test_a_file_that_is_no_text_at_all_is_told_so_and_nothing_else() -> None:
    assert lines(PICTURE) == ["1 not-text: the file is not UTF-8 text here; save the file as UTF-8"]
    assert [p.finding.name for p in told(BENCH.encode("utf-16"))] == ["not-text"]
    assert [p.finding.name for p in told("строка\n".encode("cp1251") * 9)] == ["not-text"]


def test_what_a_used_file_that_is_no_text_leaves_undefined_is_not_told_beside_it() -> None:
    problems = told(f'use "shop.pour"\n{BENCH}mix more from shop-mix\n', {"shop.pour": PICTURE})

    assert [(p.finding.name, p.span.file) for p in problems] == [("not-text", "shop.pour")]


def test_a_wrong_letter_hides_no_other_mistake() -> None:
    problems = told(BENCH.encode() + b"# gr\xfc\xdfe\nstokc sand\n")

    assert [p.finding.name for p in problems] == ["not-text", "unknown-word"]


def test_a_zero_byte_is_told_at_its_place() -> None:
    assert lines(BENCH.encode() + b"# gr\0ut\n") == [
        "5 not-text: the file holds a zero byte here; save the file as UTF-8"
    ]


def test_line_ends_of_every_kind_and_a_byte_order_mark_are_read_the_same() -> None:
    for text in (BENCH.replace("\n", "\r\n"), BENCH.replace("\n", "\r"), "\ufeff" + BENCH):
        assert told(text) == ()


def test_ten_thousand_steps_in_are_refused_in_one_message() -> None:
    deep = "\n".join(" " * depth + "x" for depth in range(9_900))
    problems = told(f"{BENCH}{deep}\n")

    assert [p.finding.name for p in problems] == ["unknown-word"]


def test_headings_each_under_the_one_before_are_told_one_by_one() -> None:
    deep = "".join(" " * depth + f"station x-{depth}\n" for depth in range(300))
    problems = told(f"{BENCH}{deep}")

    assert [p.finding.name for p in problems] == ["bad-indent"] * 299


@pytest.mark.parametrize("what", ["1.", "a ", '"', "x-", "1-", "1,", "(", "é", "$", "5 mm "])
def test_a_very_long_line_is_refused_in_one_message(what: str) -> None:
    problems = told(f"{BENCH}size a {what * 200_000}\n")

    assert [p.finding.name for p in problems] == ["line-too-long"]


@pytest.mark.parametrize("what", ["1.", "a ", '"', "x-", "1-", "1,", "(", "é", "$", "5 mm ", "1/", "1'"])
def test_a_long_line_is_shown_around_its_place_only(what: str) -> None:
    text = f"{BENCH}size a {what * (9_000 // len(what))}\n"
    (problem, *_) = told(text)
    shown = problem_text(problem, {"a.pour": text}).split("\n")

    assert max(len(row) for row in shown[1:3]) < 200
    assert shown[2].strip(" |").startswith("^")


def test_many_mistakes_are_all_told() -> None:
    problems = told(BENCH + "size a\n" * 3_000)

    assert len(problems) == 3_000


# ------------------------------------------------------------------ words lost and doubled

SILENT = {
    "a label or an instruction may be left out": r'drop ".*"',
    "a list may be one shorter": r"drop .+,",
    "a step that may not pause is a step as well": r"drop may-pause",
    "a number of people without a role is anybody": r"drop (caster|finisher)",
    "an indented line without its first word goes on with the line above": r"drop demold",
}
"""What a lost word cannot give away."""


@pytest.mark.parametrize(
    ("how", "text"),
    [("drop", BENCH), ("double", BENCH), ("drop", PANEL)],
    ids=["drop-bench", "double-bench", "drop-panel"],
)
def test_every_word_that_is_lost_or_doubled_is_told_but_for_a_few(how: str, text: str) -> None:
    rows = text.split("\n")
    silent = set()
    for number, row in enumerate(rows):
        if row.startswith("#"):
            continue
        for word in re.finditer(r'"[^"]*"|\S+', row):
            before, behind = row[: word.start()], row[word.end() :]
            new = before + behind if how == "drop" else f"{before}{word[0]} {word[0]}{behind}"
            if new.strip() and not told("\n".join([*rows[:number], new, *rows[number + 1 :]])):
                silent.add(f"{how} {word[0]}")
    unexplained = [what for what in sorted(silent) if not any(re.fullmatch(p, what) for p in SILENT.values())]

    assert unexplained == []


@pytest.mark.parametrize("text", [BENCH, PANEL], ids=["bench", "panel"])
def test_a_text_cut_off_anywhere_makes_no_exception(text: str) -> None:
    for end in range(0, len(text), 23):
        told(text[:end])


@given(st.text(max_size=200))
def test_no_text_makes_an_exception(text: str) -> None:
    told(text.encode("utf-8", errors="replace"))


@given(
    st.lists(
        st.tuples(
            st.integers(0, 12),
            st.lists(st.sampled_from(sorted({*BENCH.split(), *PANEL.split()})), min_size=1, max_size=9),
        ),
        max_size=25,
    )
)
def test_no_heap_of_words_of_the_language_makes_an_exception(rows: list[tuple[int, list[str]]]) -> None:
    told("\n".join(" " * indent + " ".join(words) for indent, words in rows))


@given(st.binary(max_size=100))
def test_no_bytes_make_an_exception(data: bytes) -> None:
    told(BENCH.encode() + data)
