"""`castlang tidy`: one style, the same meaning, nothing lost.

`python tests/test_tidy.py 10000` tries that many random builds.
"""

import io
import os
import random
import re
import stat
import sys
from pathlib import Path
from textwrap import dedent

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from random_builds import METRIC, US, RandomBuild, builds
from random_hands import retyped
from random_slips import slipped

from castlang.cli.main import main
from castlang.cli.starter import STARTER
from castlang.source.files import Disk, Texts
from castlang.source.model import SourceFile
from castlang.syntax.from_source import document_of
from castlang.tidy import from_source
from castlang.tidy.from_source import tidied
from castlang.tidy.line import TAIL, tidy_line
from castlang.tidy.meaning import meaning, written
from castlang.tidy.model import MeaningNotKept

ROOT = Path(__file__).parents[1]
EXAMPLES = sorted((ROOT / "examples").rglob("*.pour"))


def tried(examples: int) -> settings:
    """The same builds on every run and every machine."""
    return settings(
        max_examples=examples,
        deadline=None,
        derandomize=True,
        database=None,
        suppress_health_check=list(HealthCheck),
    )


def tidy(text: str) -> str:
    outcome = tidied(SourceFile(name="a.pour", text=text))
    assert outcome.value is not None, outcome.problems
    return outcome.value


def in_piece(line: str) -> str:
    """A line of a piece, tidied by itself."""
    return tidy(f"piece a\n    {line}\n").removeprefix("piece a\n    ").removesuffix("\n")


def meant(text: str) -> object:
    document = document_of(SourceFile(name="a.pour", text=text)).value
    assert document is not None
    return meaning([document], Texts().read)


def remarks(text: str) -> list[str]:
    """Every comment, in order: what stands behind the first `#` that is in no text."""
    found = []
    for row in re.split(r"\r\n|\n", text):
        plain = re.sub(r'(^|\s)"[^\n]*"', "", row) if not row.lstrip().startswith("#") else row
        if "#" in plain:
            found.append(plain[plain.index("#") :].rstrip(" \t"))
    return found


def texts(text: str) -> list[str]:
    return re.findall(r'(?m)^[^#\n]*?\s("[^\n]*")', text)


# ---------------------------------------------------------------- one style


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("take   shell-mold", "take      shell-mold"),
        ("wait 30 min   to 75 min", "wait      30 min to 75 min"),
        ("face show  front ,side,   back", "face      show front, side, back"),
        ('note "Cut at 6" long,  then   wait."', 'note      "Cut at 6" long,  then   wait."'),
        ("dry 24 hrs", "dry       24 h"),
        ("dry 1 days", "dry       1 day"),
        ("dry 3 day", "dry       3 days"),
        ("dry 1 day 12 hours", "dry       1 day 12 h"),
        ("wait 15mins to 40 minutes", "wait      15 min to 40 min"),
        ("cure 24 h at 20°C open", "cure      24 h at 20 degC open"),
        ("cure 24 h covered at 68 °F", "cure      24 h at 68 degF covered"),
        ("cure 24 h covered tend 4 h by 1", "cure      24 h covered tend 4 h by 1"),
        ("cure 24 h takes 5 min tend 4 h by 1 by 2", "cure      24 h tend 4 h by 1 takes 5 min by 2"),
        ("demold by 2 takes 30 min", "demold    takes 30 min by 2"),
        ("demold", "demold"),
        ("work a of b rate 3 m²/hr by 1", "work      a of b rate 3 m2/h by 1"),
        ("pass a 2 coat of b by 1 takes 9 min brushed on c",
         "pass      a 2 coats of b on c brushed takes 9 min by 1"),
        ("pass a 1 coats of b on c", "pass      a 1 coat of b on c"),
        ("pass a grit 60,  120 on b dry may-pause by 1", "pass      a grit 60, 120 dry on b by 1 may-pause"),
        ("layer a 3/8 inch of b on c", "layer     a 3/8 in of b on c"),
        ("layer a 1 1/2 inches of b on c", "layer     a 1 1/2 in of b on c"),
        ("shape slab 4'-6 1/2\" long, 42in wide, 1-3/4\" thick",
         "shape     slab 4'-6 1/2\" long, 42 in wide, 1-3/4\" thick"),
        ("less disc a 90 mm dia placed 3 mm from left on top",
         "less      disc a 90 mm dia on top placed 3 mm from left"),
        ("place a of b , c on d   # gently", "place     a of b, c on d  # gently"),
        ("take a# no space, 2 \" in a comment", "take      a  # no space, 2 \" in a comment"),
    ],
)  # fmt: skip
def test_a_line_of_a_block_has_one_form(before: str, after: str) -> None:
    assert in_piece(before) == after


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("size   wall     1-1/2\"", 'size wall 1-1/2"'),
        ("size inside long-side - 2*wall", "size inside long-side - 2 * wall"),
        ('waive    grit-step on  a.b   "so"', 'waive grit-step on a.b "so"'),
        ('measured density of  a 2240 kg/m³ "litre   cup"', 'measured density of a 2240 kg/m3 "litre   cup"'),
        ("done a.b 2027-01-19 09:10 to 09:32 by 2 at 16 °C",
         "done a.b 2027-01-19 09:10 to 09:32 at 16 degC by 2"),
        ('use  "stores.pour"#shared', 'use "stores.pour"  #shared'),
    ],
)  # fmt: skip
def test_a_line_at_the_left_edge_has_one_space_between_its_words(before: str, after: str) -> None:
    assert tidy(f"{before}\n") == f"{after}\n"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("stock a\n    sold inch of 1 kg\n    have 2 inches\n",
         "stock a\n    sold      inch of 1 kg\n    have      2 inches\n"),
        ("stock a\n    sold gallon of 1 gallon\n    have 1 gallons\n",
         "stock a\n    sold      gallon of 1 gal\n    have      1 gallons\n"),
    ],
)  # fmt: skip
def test_the_word_of_a_package_is_no_unit(before: str, after: str) -> None:
    assert tidy(before) == after


def test_a_word_that_is_no_unit_is_left_for_check_to_tell() -> None:
    assert in_piece("dry 2 pints") == "dry       2 pints"


def test_a_clause_under_its_step_stays_under_it() -> None:
    before = dedent("""\
        piece a
          pass b 2 coats of c takes 5 min by 1
              between 2 hrs to 6 hrs on show
              write "who"
          dry 24 h
        """)

    assert tidy(before) == dedent("""\
        piece a
            pass      b 2 coats of c takes 5 min by 1
                on        show between 2 h to 6 h
                write     "who"
            dry       24 h
        """)


def test_blank_lines_and_comments_stay_where_they_are() -> None:
    before = dedent("""\
        # head


        piece a   # one
          # at the depth of the lines
          take b
        # at the left edge, between two lines
          work c takes 1 h by 1
              # under the work
              write "d"
                  # too far in
          # behind the last line of its block

        # on the next block
        piece e


        """)

    assert tidy(before) == dedent("""\
        # head


        piece a  # one
            # at the depth of the lines
            take      b
        # at the left edge, between two lines
            work      c takes 1 h by 1
                # under the work
                write     "d"
                # too far in
            # behind the last line of its block

        # on the next block
        piece e
        """)


@pytest.mark.parametrize("end", ["\r\n", "\r", "\n"])
@pytest.mark.parametrize("mark", ["\ufeff", ""])
def test_ends_of_lines_and_a_mark_of_byte_order_are_mended(end: str, mark: str) -> None:
    assert tidy(f"{mark}piece a{end}    take b  {end}{end}") == "piece a\n    take      b\n"


@pytest.mark.parametrize("text", ["", "\n\n", "  \n", "\ufeff"])
def test_nothing_stays_nothing(text: str) -> None:
    assert tidy(text) == ""


def test_tabs_that_can_mean_one_thing_only_become_spaces() -> None:
    assert tidy('piece a\n\ttake\tb\n\twork c\n\t\twrite "d\te"\t#\tf\n') == (
        'piece a\n    take      b\n    work      c\n        write     "d\te"  #\tf\n'
    )


def test_tabs_that_could_mean_two_depths_are_left_and_told() -> None:
    outcome = tidied(SourceFile(name="a.pour", text='piece a\n    work b\n\twrite "c"\n'))

    assert outcome.value is None
    assert outcome.problems[0].finding.name == "tab-indent"


@pytest.mark.parametrize(
    ("text", "finding"),
    [
        ("piece a\n    layr b\n", "unknown-word"),
        ("piece a\n    dry 24\n", "no-unit"),
        ('piece a\n    note "b" # "c"\n', "quote-in-comment"),
        ("  piece a\n", "bad-indent"),
        ("<<<<<<< HEAD\npiece a\n=======\npiece b\n>>>>>>> side\n", "merge-conflict"),
    ],
)
def test_a_text_that_cannot_be_read_is_not_set(text: str, finding: str) -> None:
    outcome = tidied(SourceFile(name="a.pour", text=text))

    assert (outcome.value, [p.finding.name for p in outcome.problems]) == (None, [finding])


def test_every_clause_has_its_place_in_the_order() -> None:
    grammar = (ROOT / "grammar" / "castlang.lark").read_text(encoding="utf-8")
    labels = re.search(r"^_clause: ([^:]*)^\w+: ", grammar.replace("!", ""), re.MULTILINE)
    assert labels is not None
    words = set()
    for label in labels.group(1).replace("|", " ").split():
        rule = re.search(rf"^!?{label}: *(.*)$", grammar, re.MULTILINE)
        assert rule is not None
        told = re.findall(r'"([\w-]+)"', rule.group(1))
        words.update(told if "|" in rule.group(1) else told[:1])

    assert words == set(TAIL)


# ---------------------------------------------------------------- the meaning is kept


def test_two_texts_mean_the_same_in_any_order_of_clauses_and_any_spelling() -> None:
    one = document_of(SourceFile(name="a", text="piece a\n    demold takes 2 h by 2\n")).value
    other = document_of(SourceFile(name="a", text="piece a\n    demold by 2 takes 2 hrs\n")).value
    assert one is not None
    assert other is not None

    assert written(one) == written(other)


@pytest.mark.parametrize(
    "changed",
    [
        "demold takes 3 h by 2",
        "demold takes 2 h",
        'demold takes 2 h by 2 "a"',
        "demold takes 2 h by 2  # a",
        "dry 2 h",
    ],
)
def test_a_change_of_what_is_said_is_seen(changed: str) -> None:
    one = document_of(SourceFile(name="a", text="piece a\n    demold takes 2 h by 2\n")).value
    other = document_of(SourceFile(name="a", text=f"piece a\n    {changed}\n")).value
    assert one is not None
    assert other is not None

    assert written(one) != written(other)


def test_a_result_that_reads_otherwise_is_never_given_out(monkeypatch: pytest.MonkeyPatch) -> None:
    def lossy(body: str, block: str, kind: str) -> str:
        return tidy_line(body, block, kind).replace("40 min", "45 min")

    monkeypatch.setattr(from_source, "tidy_line", lossy)

    with pytest.raises(MeaningNotKept):
        tidied(SourceFile(name="a.pour", text=STARTER))


def test_a_file_that_would_mean_something_else_is_not_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    before = STARTER.replace("takes 40 min", "takes  40 min")
    path = tmp_path / "bench.pour"
    path.write_text(before)
    changed = STARTER.replace("takes 40 min", "takes 45 min")
    monkeypatch.setattr("castlang.cli.tidying.tidied", lambda _: tidied(SourceFile(name="x", text=changed)))

    status = main(["tidy", str(path)])

    assert (status, path.read_text()) == (2, before)
    assert "would mean something else" in capsys.readouterr().err


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_the_examples_keep_their_meaning_comments_and_texts(path: Path) -> None:
    before = path.read_text(encoding="utf-8")
    outcome = tidied(SourceFile(name=str(path), text=before))
    if outcome.value is None:
        assert path.parent.name == "broken"
        return
    library = Disk(main=path)
    documents = [document_of(SourceFile(name=str(path), text=text)).value for text in (before, outcome.value)]

    assert tidy(outcome.value) == outcome.value
    assert remarks(outcome.value) == remarks(before)
    assert texts(outcome.value) == texts(before)
    assert len(outcome.value.splitlines()) == len(before.splitlines())
    assert documents[0] is not None
    assert documents[1] is not None
    assert meaning([documents[1]], library.read) == meaning([documents[0]], library.read)


def test_the_build_to_start_from_is_tidy() -> None:
    assert tidy(STARTER) == STARTER


def bare(text: str) -> list[str]:
    """The lines of a tidy text without blank lines and comments."""
    rows = [re.sub(r"(?:^|  )#.*$", "", row).rstrip() for row in text.splitlines()]
    return [row for row in rows if row]


def alike_from_every_hand(build: RandomBuild, system: str, seed: int) -> None:
    plain = build.text(system)
    typed, added = retyped(plain, random.Random(seed))
    once = tidy(typed)

    assert tidy(once) == once
    assert bare(once) == bare(tidy(plain))
    assert remarks(once) == added
    assert texts(once) == texts(plain)
    assert meant(once) == meant(plain) == meant(typed)


@tried(40)
@given(builds(), st.sampled_from((METRIC, US)), st.integers(0, 2**32))
def test_random_builds_come_out_alike_from_every_hand(build, system, seed):
    alike_from_every_hand(build, system, seed)


@tried(40)
@given(builds(most=2), st.integers(0, 2**32), st.data())
def test_a_text_with_slips_is_left_or_means_the_same(build, seed, data):
    typed, _ = retyped(build.text(METRIC), random.Random(seed))
    text = data.draw(slipped(typed)).decode("utf-8", "replace").replace("\0", " ")
    once = tidied(SourceFile(name="a.pour", text=text)).value
    if once is None:
        return

    assert tidy(once) == once
    assert meant(once) == meant(text)


# ---------------------------------------------------------------- the command


UNTIDY = "piece a\n  take   b\n"
TIDY = "piece a\n    take      b\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a.pour").write_text(UNTIDY)
    (tmp_path / "b.pour").write_text(TIDY)
    (tmp_path / "c.pour").write_text("piece a\n  tkae b\n")
    return tmp_path


def test_files_are_written_in_place_and_the_changed_ones_named(folder: Path, capsys) -> None:
    status = main(["tidy", "a.pour", "b.pour"])

    assert (status, capsys.readouterr().out) == (0, "a.pour: tidied\n")
    assert [(folder / name).read_text() for name in ("a.pour", "b.pour")] == [TIDY, TIDY]


def test_check_writes_nothing_and_lists_what_would_change(folder: Path, capsys) -> None:
    status = main(["tidy", "--check", "a.pour", "b.pour"])

    assert (status, capsys.readouterr().out) == (1, "a.pour: not tidy\n")
    assert (folder / "a.pour").read_text() == UNTIDY


def test_check_of_tidy_files_is_silent(folder: Path, capsys) -> None:
    assert (main(["tidy", "--check", "b.pour"]), capsys.readouterr()) == (0, ("", ""))


def test_a_file_with_mistakes_is_left_and_the_others_are_tidied(folder: Path, capsys) -> None:
    status = main(["tidy", "c.pour", "a.pour"])

    told = capsys.readouterr()
    assert (status, told.out) == (1, "a.pour: tidied\n")
    assert "c.pour:2:3: error:" in told.err
    assert told.err.endswith("1 error: c.pour is left as it is\n")
    assert (folder / "c.pour").read_text() == "piece a\n  tkae b\n"


@pytest.mark.parametrize(("name", "why"), [("none.pour", "cannot be found"), (".", "is a folder")])
def test_a_file_that_cannot_be_read_is_trouble(folder: Path, name: str, why: str, capsys) -> None:
    status = main(["tidy", name, "a.pour"])

    assert status == 2
    assert why in capsys.readouterr().err
    assert (folder / "a.pour").read_text() == TIDY


def test_bytes_that_are_no_text_are_left(folder: Path, capsys) -> None:
    (folder / "a.pour").write_bytes(b"piece a # \xff\n")

    assert main(["tidy", "a.pour"]) == 1
    assert "[not-text]" in capsys.readouterr().err
    assert (folder / "a.pour").read_bytes() == b"piece a # \xff\n"


def test_the_mode_of_a_file_and_a_link_to_it_are_kept(folder: Path) -> None:
    (folder / "a.pour").chmod(0o640)
    (folder / "link.pour").symlink_to("a.pour")

    main(["tidy", "link.pour"])

    assert (folder / "link.pour").is_symlink()
    assert (folder / "a.pour").read_text() == TIDY
    assert stat.S_IMODE((folder / "a.pour").stat().st_mode) == 0o640
    assert sorted(os.listdir(folder)) == ["a.pour", "b.pour", "c.pour", "link.pour"]


def test_a_tidy_file_is_not_touched(folder: Path) -> None:
    os.utime(folder / "b.pour", ns=(1, 1))

    main(["tidy", "b.pour"])

    assert (folder / "b.pour").stat().st_mtime_ns == 1


class Pipe(io.TextIOWrapper):
    def __init__(self, data: bytes = b"") -> None:
        super().__init__(io.BytesIO(data), encoding="utf-8")

    def bytes(self) -> bytes:
        self.flush()
        raw = self.buffer
        assert isinstance(raw, io.BytesIO)
        return raw.getvalue()


@pytest.mark.parametrize(
    ("words", "given", "status", "printed"),
    [
        (["tidy", "-"], UNTIDY, 0, TIDY),
        (["tidy", "-"], "piece a\n  tkae b\n", 1, "piece a\n  tkae b\n"),
        (["tidy", "--check", "-"], UNTIDY, 1, "<stdin>: not tidy\n"),
        (["tidy", "--check", "-"], TIDY, 0, ""),
    ],
)
def test_a_pipe_gives_out_the_build_tidied_or_as_it_came(
    folder: Path, monkeypatch, words: list[str], given: str, status: int, printed: str
) -> None:
    out = Pipe()
    monkeypatch.setattr(sys, "stdin", Pipe(given.encode()))
    monkeypatch.setattr(sys, "stdout", out)

    assert (main(words), out.bytes().decode()) == (status, printed)


def test_stores_without_a_build_are_tidied_too(folder: Path) -> None:
    (folder / "stores.pour").write_text("stock a\n    lead 2 day\n")

    assert main(["tidy", "stores.pour"]) == 0
    assert (folder / "stores.pour").read_text() == "stock a\n    lead      2 days\n"


if __name__ == "__main__":
    many = settings(tried(int(sys.argv[1])), derandomize=False)
    many(given(builds(), st.sampled_from((METRIC, US)), st.integers(0, 2**32))(alike_from_every_hand))()
