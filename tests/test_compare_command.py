"""`castlang compare` as a person calls it: on files, on revisions, with its notice."""

import json
import subprocess
from pathlib import Path

import pytest
from comparing import GARDEN

from castlang.cli.main import main

SAND = GARDEN[GARDEN.index("stock sand") : GARDEN.index("stock ochre")]


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A repository whose sand stands in a file of its own: cheap in the first revision, dear in
    the second; in the folder lies a garden with a thicker bench besides."""
    monkeypatch.chdir(tmp_path)
    for name in ("GIT_CONFIG_GLOBAL", "GIT_CONFIG_SYSTEM"):
        monkeypatch.setenv(name, "/dev/null")
    git("init", "--quiet", "--initial-branch=main")
    git("config", "user.name", "A. Caster")
    git("config", "user.email", "caster@shop.invalid")
    keep("garden.pour", 'use "sand.pour"\n' + GARDEN.replace(SAND, ""))
    keep("sand.pour", SAND)
    git("add", ".")
    git("commit", "--quiet", "--message", "cheap sand")
    keep("sand.pour", SAND.replace("6.80", "9.80"))
    git("commit", "--quiet", "--all", "--message", "dear sand")
    keep(
        "garden.pour",
        'use "sand.pour"\n' + GARDEN.replace(SAND, "").replace("40 mm thick", "45 mm thick"),
    )
    return tmp_path


def git(*words: str) -> None:
    subprocess.run(["git", *words], check=True, capture_output=True)


def keep(name: str, text: str) -> None:
    Path(name).write_text(text, encoding="utf-8")


def changes(capsys: pytest.CaptureFixture[str]) -> list[str]:
    return [change["says"] for change in json.loads(capsys.readouterr().out)["changes"]]


def test_used_files_are_read_from_the_revision_that_is_named(
    repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status = main(["compare", "HEAD~1", "HEAD", "garden.pour", "--json"])

    assert status == 1
    assert changes(capsys) == ["sand: price 6.80 EUR -> 9.80 EUR a bag of 25 kg"]


def test_a_revision_is_compared_with_the_file_as_it_lies_there(
    repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["compare", "HEAD", "garden.pour", "--json"]) == 1
    assert changes(capsys) == ["bench: 40 mm -> 45 mm thick"]

    assert main(["compare", "HEAD~1", "garden.pour", "--json"]) == 1
    assert changes(capsys) == [
        "sand: price 6.80 EUR -> 9.80 EUR a bag of 25 kg",
        "bench: 40 mm -> 45 mm thick",
    ]


def test_builds_that_mean_the_same_are_told_so_and_the_status_is_0(
    repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    keep("again.pour", "# copied\n" + Path("garden.pour").read_text(encoding="utf-8"))

    assert main(["compare", "garden.pour", "again.pour", "--notice", "notice.pdf"]) == 0
    assert capsys.readouterr().out == "garden.pour and again.pour mean the same\n"
    assert not Path("notice.pdf").exists()


def test_a_notice_is_written_and_says_the_same_bytes_twice(
    repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("one.pdf", "two.pdf"):
        assert main(["compare", "HEAD~1", "garden.pour", "--notice", name]) == 1
    first, second = (Path(name).read_bytes() for name in ("one.pdf", "two.pdf"))

    assert first.startswith(b"%PDF-")
    assert first == second


def test_markdown_and_text_tell_the_changes_and_what_follows(
    repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    main(["compare", "HEAD", "garden.pour", "--markdown"])
    markdown = capsys.readouterr().out
    main(["compare", "HEAD", "garden.pour"])
    text = capsys.readouterr().out

    assert "- bench: 40 mm -\\> 45 mm thick" in markdown or "- bench: 40 mm -> 45 mm thick" in markdown
    assert "  - bench: 40 mm -> 45 mm thick" in text
    assert "BATCH bench.body" in markdown
    assert "BATCH bench.body" in text


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["nowhere.pour", "garden.pour"], "castlang: nowhere.pour cannot be found"),
        (["HEAD~7", "garden.pour"], "HEAD~7"),
        (["garden.pour"], "give two files, or one or two revisions and a file"),
        (["-", "-"], "one build alone can come from standard input"),
        (["HEAD", "HEAD", "elsewhere.pour"], "elsewhere.pour"),
        (["garden.pour", "broken.pour"], "broken.pour:1:1: error"),
    ],
)
def test_trouble_is_told_and_the_status_is_2(
    repository: Path, capsys: pytest.CaptureFixture[str], words: list[str], says: str
) -> None:
    keep("broken.pour", "buidl garden\n")

    assert main(["compare", *words]) == 2
    assert says in capsys.readouterr().err


def test_what_is_wrong_in_a_revision_is_told_by_the_name_that_git_has_for_its_file(
    repository: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    keep("sand.pour", SAND.replace("2650 kg/m3", "2650"))
    git("commit", "--quiet", "--all", "--message", "a unit lost")

    assert main(["compare", "HEAD~1", "HEAD", "garden.pour"]) == 2
    assert "HEAD:sand.pour:2:15: error: " in capsys.readouterr().err
