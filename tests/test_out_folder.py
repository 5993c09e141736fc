"""The folder of made files: whole or not at all, and nobody else's files lost."""

import os
import shutil
from pathlib import Path

import pytest

from castlang.out.folder import LIST, Refusal, write_folder

FILES = {"bench.pdf": b"%PDF", "csv/masses.csv": b"name\r\n"}


def held(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != LIST
    }


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_new_folder_holds_just_the_files_and_their_list(tmp_path: Path) -> None:
    assert write_folder(tmp_path / "out" / "binder", FILES) is None
    assert held(tmp_path / "out" / "binder") == FILES
    assert names(tmp_path / "out") == ["binder"]


def test_an_older_binder_is_replaced_whole(tmp_path: Path) -> None:
    write_folder(tmp_path / "binder", {**FILES, "csv/old.csv": b"old"})

    assert write_folder(tmp_path / "binder", {"bench.pdf": b"new"}) is None
    assert held(tmp_path / "binder") == {"bench.pdf": b"new"}
    assert names(tmp_path) == ["binder"]


def test_the_same_files_give_the_same_list(tmp_path: Path) -> None:
    write_folder(tmp_path / "a", FILES)
    write_folder(tmp_path / "b", dict(reversed(FILES.items())))

    assert (tmp_path / "a" / LIST).read_bytes() == (tmp_path / "b" / LIST).read_bytes()


def test_an_empty_folder_is_used(tmp_path: Path) -> None:
    (tmp_path / "binder").mkdir()

    assert write_folder(tmp_path / "binder", FILES) is None
    assert held(tmp_path / "binder") == FILES


def test_the_new_folder_has_the_rights_of_any_new_folder(tmp_path: Path) -> None:
    (tmp_path / "plain").mkdir()
    write_folder(tmp_path / "binder", FILES)

    assert (tmp_path / "binder").stat().st_mode == (tmp_path / "plain").stat().st_mode


@pytest.mark.parametrize("stranger", ["notes.txt", "csv/notes.txt", "photos/wall.jpg"])
def test_a_folder_with_a_file_of_somebody_else_is_left_alone(tmp_path: Path, stranger: str) -> None:
    folder = tmp_path / "binder"
    write_folder(folder, FILES)
    (folder / stranger).parent.mkdir(exist_ok=True)
    (folder / stranger).write_bytes(b"mine")

    refused = write_folder(folder, {"bench.pdf": b"new"})

    assert refused is not None
    assert stranger in refused.message
    assert held(folder) == {**FILES, stranger: b"mine"}
    assert names(tmp_path) == ["binder"]


def test_an_empty_folder_of_somebody_else_is_a_stranger_too(tmp_path: Path) -> None:
    write_folder(tmp_path / "binder", FILES)
    (tmp_path / "binder" / "photos").mkdir()

    assert write_folder(tmp_path / "binder", FILES) == Refusal(
        path=tmp_path / "binder", message="the folder holds what castlang did not make: photos"
    )


def test_a_folder_without_a_list_is_left_alone_whatever_its_files_are_called(tmp_path: Path) -> None:
    (tmp_path / "binder").mkdir()
    (tmp_path / "binder" / "bench.pdf").write_bytes(b"mine")

    assert write_folder(tmp_path / "binder", FILES) is not None
    assert held(tmp_path / "binder") == {"bench.pdf": b"mine"}


def test_many_strangers_are_counted(tmp_path: Path) -> None:
    (tmp_path / "binder").mkdir()
    for name in "abcde":
        (tmp_path / "binder" / name).touch()

    refused = write_folder(tmp_path / "binder", FILES)

    assert refused is not None
    assert refused.message.endswith("did not make: a, b, c and 2 more")


def test_a_file_in_the_way_is_kept(tmp_path: Path) -> None:
    (tmp_path / "binder").write_bytes(b"mine")

    assert write_folder(tmp_path / "binder", FILES) is not None
    assert (tmp_path / "binder").read_bytes() == b"mine"


def test_a_link_is_not_followed(tmp_path: Path) -> None:
    write_folder(tmp_path / "real", FILES)
    (tmp_path / "binder").symlink_to(tmp_path / "real")

    assert write_folder(tmp_path / "binder", {"bench.pdf": b"new"}) is not None
    assert held(tmp_path / "real") == FILES


def test_a_link_in_place_of_a_made_file_is_a_stranger(tmp_path: Path) -> None:
    (tmp_path / "precious").write_bytes(b"mine")
    write_folder(tmp_path / "binder", FILES)
    (tmp_path / "binder" / "bench.pdf").unlink()
    (tmp_path / "binder" / "bench.pdf").symlink_to(tmp_path / "precious")

    assert write_folder(tmp_path / "binder", FILES) is not None
    assert (tmp_path / "precious").read_bytes() == b"mine"


def test_the_old_folder_stays_when_the_new_one_cannot_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_folder(tmp_path / "binder", FILES)

    def full(_: Path, __: bytes) -> int:
        raise OSError(28, "No space left on device", "bench.pdf")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "write_bytes", full)
        refused = write_folder(tmp_path / "binder", {"bench.pdf": b"new"})

    assert refused is not None
    assert refused.message == "the folder could not be written: no space left on device (bench.pdf)"
    assert held(tmp_path / "binder") == FILES
    assert names(tmp_path) == ["binder"]


def test_the_old_folder_comes_back_when_the_exchange_fails_half_way(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_folder(tmp_path / "binder", FILES)
    rename = Path.rename

    def failing(path: Path, target: Path) -> Path:
        if path.name == "new":
            raise OSError(5, "Input/output error")
        return rename(path, target)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "rename", failing)
        refused = write_folder(tmp_path / "binder", {"bench.pdf": b"new"})

    assert refused is not None
    assert held(tmp_path / "binder") == FILES
    assert names(tmp_path) == ["binder"]


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")

    refused = write_folder(tmp_path / "file" / "binder", FILES)

    assert refused is not None
    assert refused.message.startswith("the folder could not be written: ")


@pytest.mark.parametrize("name", ["../out.pdf", "/etc/out.pdf", "a/../../b", "", "a\\b", "c:x", "a//b", LIST])
def test_a_name_that_leads_out_of_the_folder_is_our_own_mistake(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="not a name"):
        write_folder(tmp_path / "binder", {name: b""})

    assert names(tmp_path) == []


def test_a_relative_place_is_taken_from_where_the_user_stands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)

    assert write_folder(Path("binder"), FILES) is None
    assert names(tmp_path) == ["binder"]
    shutil.rmtree(tmp_path / "binder")
    assert os.listdir(tmp_path) == []
