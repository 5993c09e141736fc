"""Files that a build uses: from inside the project's folder only, read once, told in their own place."""

from pathlib import Path

import pytest
from told import BENCH, told

from castlang.pipeline import compile_build
from castlang.source.files import LARGEST, Disk, main_text


def test_a_file_that_is_used_is_read_once_and_its_mistakes_are_told_in_it() -> None:
    files = {"stores.pour": b'use "more.pour"\nsize a 5\n', "more.pour": b"size b 5\n"}
    problems = told(f'use "stores.pour"\nuse "./more.pour"\n{BENCH}', files)

    assert [str(p.span) for p in problems] == ["stores.pour:2:8", "more.pour:1:8"]


def test_files_that_use_one_another_are_told_with_every_place() -> None:
    (problem,) = told(f'use "one.pour"\n{BENCH}', {"one.pour": b'use "a.pour"\n'})

    assert problem.finding.name == "names-in-circle"
    assert problem.message == "the files use one another in a circle: a.pour -> one.pour -> a.pour"
    assert [str(span) for span, _ in problem.related] == ["a.pour:1:1", "one.pour:1:1"]


def test_a_name_that_two_files_bear_is_told_with_both_places() -> None:
    (problem,) = told(f'use "stores.pour"\n{BENCH}', {"stores.pour": b"stock cement\n"})

    assert (problem.finding.name, str(problem.span)) == ("name-twice", "stores.pour:1:7")
    assert str(problem.related[0][0]) == "a.pour:18:7"


def on_disk(main: Path) -> list[tuple[str, str]]:
    compiled = compile_build(str(main), main.read_bytes(), Disk(main=main))
    return [(p.finding.name, p.message) for p in compiled.problems]


def test_a_file_outside_the_folder_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "stores.pour").write_text("size a 5\n")
    project = tmp_path / "project"
    project.mkdir()
    for name in ("../stores.pour", str(tmp_path / "stores.pour")):
        (project / "a.pour").write_text(f'use "{name}"\n{BENCH}')

        assert on_disk(project / "a.pour") == [
            ("file-outside", f'the file "{name}" lies outside the project\'s folder')
        ]


def test_a_marker_in_a_folder_above_makes_it_the_project(tmp_path: Path) -> None:
    (tmp_path / ".castlang").touch()
    (tmp_path / "stores.pour").write_text("size a 5\n")
    project = tmp_path / "project"
    project.mkdir()
    (project / "a.pour").write_text(f'use "../stores.pour"\n{BENCH}')

    assert on_disk(project / "a.pour") == [("no-unit", "`5` has no unit")]


def test_a_file_behind_a_link_is_not_read(tmp_path: Path) -> None:
    (tmp_path / "real.pour").write_text("size a 5\n")
    (tmp_path / "folder").mkdir()
    (tmp_path / "folder" / "stores.pour").write_text("size a 5\n")
    (tmp_path / "link.pour").symlink_to(tmp_path / "real.pour")
    (tmp_path / "by-link").symlink_to(tmp_path / "folder")
    (tmp_path / "loop.pour").symlink_to(tmp_path / "loop.pour")
    for name, why in (
        ("link.pour", "lies behind a link"),
        ("by-link/stores.pour", "lies behind a link"),
    ):
        (tmp_path / "a.pour").write_text(f'use "{name}"\n{BENCH}')

        assert on_disk(tmp_path / "a.pour") == [("file-outside", f'the file "{name}" {why}')]
    (tmp_path / "a.pour").write_text(f'use "loop.pour"\n{BENCH}')

    assert [name for name, _ in on_disk(tmp_path / "a.pour")] in (["file-outside"], ["no-file"])


def test_a_project_that_lies_behind_a_link_is_read(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "real" / "stores.pour").write_text("size a 5\n")
    (tmp_path / "real" / "a.pour").write_text(f'use "stores.pour"\n{BENCH}')
    (tmp_path / "project").symlink_to(tmp_path / "real")

    assert on_disk(tmp_path / "project" / "a.pour") == [("no-unit", "`5` has no unit")]


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("nowhere.pour", "cannot be found"),
        ("", "is not a file"),
        (".", "is not a file"),
        ("x" * 300, "cannot be"),
    ],
)
def test_a_file_that_cannot_be_read_is_told(name: str, why: str, tmp_path: Path) -> None:
    (tmp_path / "a.pour").write_text(f'use "{name}"\n{BENCH}')
    ((finding, message),) = on_disk(tmp_path / "a.pour")

    assert finding == "no-file"
    assert message.startswith(f'the file "{name}" {why}')


def test_a_file_that_is_too_large_is_not_read(tmp_path: Path) -> None:
    with (tmp_path / "large.pour").open("wb") as file:
        file.truncate(LARGEST + 1)

    assert main_text(tmp_path / "large.pour") == "is larger than 64 MiB"
