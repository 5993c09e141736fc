"""Builds in a real git repository: what git shows, what it merges, what a commit is held to, and that all of
it goes again without a trace."""

import os
import subprocess
import sys
from pathlib import Path
from textwrap import dedent

import pytest

from castlang.cli.main import main
from castlang.cli.starter import STARTER
from castlang.documents import read_all
from castlang.pipeline import compile_build
from castlang.source.revisions import Revision, revision_of
from castlang.syntax.findings import MERGE_CONFLICT

ENDED = "nothing was put among your own files; `castlang git off` takes all of it out again\n"


class Repository:
    """A repository with a person of its own, and no settings but its own."""

    def __init__(self, top: Path) -> None:
        self.top = top
        top.mkdir()
        self.git("init", "--quiet", "--initial-branch=main", "--template=")
        self.git("config", "user.name", "A. Caster")
        self.git("config", "user.email", "caster@shop.invalid")

    def run(self, *words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(words, cwd=self.top, capture_output=True, text=True, check=False)

    def git(self, *words: str) -> str:
        """What a git command prints; it must go well."""
        done = self.run("git", "--no-pager", *words)

        assert done.returncode == 0, done.stderr
        return done.stdout

    def write(self, name: str, text: str) -> None:
        (self.top / name).parent.mkdir(parents=True, exist_ok=True)
        (self.top / name).write_text(text, encoding="utf-8", newline="")

    def change(self, name: str, old: str, new: str) -> None:
        text = (self.top / name).read_text(encoding="utf-8")

        assert text.count(old) == 1
        self.write(name, text.replace(old, new))

    def commit(self, message: str) -> str:
        """Commit all there is, and give the commit's name."""
        self.git("add", "--all")
        self.git("commit", "--quiet", "--no-verify", "--message", message)
        return self.git("rev-parse", "HEAD").strip()

    def kept(self) -> dict[str, tuple[int, bytes]]:
        """Mode and bytes of every file of the repository's own that is no object, and every folder."""
        found = {}
        for path in sorted((self.top / ".git").rglob("*")):
            if "objects" not in path.parts and path.name != "index":
                data = path.read_bytes() if path.is_file() else b""
                found[str(path.relative_to(self.top))] = (path.lstat().st_mode, data)
        return found


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Repository:
    for name in [name for name in os.environ if name.startswith("GIT_")]:
        monkeypatch.delenv(name)
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", os.devnull)
    monkeypatch.setenv("GIT_CONFIG_SYSTEM", os.devnull)
    monkeypatch.setenv("GIT_CONFIG_NOSYSTEM", "1")
    monkeypatch.setenv("PATH", f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}")
    monkeypatch.setenv("NO_COLOR", "1")
    repository = Repository(tmp_path / "shop")
    monkeypatch.chdir(repository.top)
    repository.write("bench.pour", STARTER)
    return repository


@pytest.fixture
def set_up(shop: Repository, capsys: pytest.CaptureFixture[str]) -> Repository:
    assert main(["git", "on"]) == 0
    capsys.readouterr()
    return shop


def changes(diff: str) -> list[str]:
    """The hunk headers without their numbers, and the changed lines."""
    rows = [row for row in diff.splitlines() if row[:1] in "@+-" and row[:3] not in ("+++", "---")]
    return [row.split("@@")[-1].strip() if row.startswith("@@") else row for row in rows]


# ---------------------------------------------------------------- what git shows


def test_a_diff_is_headed_by_the_block_and_shows_no_change_of_spaces_or_spelling(set_up: Repository) -> None:
    set_up.commit("first")
    set_up.change("bench.pour", "takes 40 min by 2", "takes 45 mins by 2")
    set_up.change("bench.pour", "    crew      2\n", "    crew  2\n")
    set_up.change("bench.pour", "    price     6.80 EUR", "    price     7.20 EUR")

    assert changes(set_up.git("diff", "-U1")) == [
        'stock sand "Kiln-dried sand, 0 to 2 mm"',
        "-    price     6.80 EUR",
        "+    price     7.20 EUR",
        'piece seat "Bench seat"',
        "-    pour      body full of casting into seat-mold using mixer takes 40 min by 2",
        "+    pour      body full of casting into seat-mold using mixer takes 45 min by 2",
    ]


def test_a_log_with_patches_shows_the_same(set_up: Repository) -> None:
    set_up.commit("first")
    set_up.change("bench.pour", "dry       24 h", "dry   36 hrs")
    set_up.commit("longer")

    assert changes(set_up.git("log", "-p", "-1", "--format=")) == [
        'piece seat "Bench seat"',
        "-    dry       24 h",
        "+    dry       36 h",
    ]


def test_every_kind_of_block_heads_a_change_in_it(set_up: Repository) -> None:
    kinds = ("build", "shop", "stock", "mix", "mold", "temp", "station", "fitting", "piece", "job")
    lines = "".join(f"    note      \"{n}\"\n" for n in range(9))  # fmt: skip
    for kind in kinds:
        head = kind if kind == "shop" else f"{kind} a"
        set_up.write(f"{kind}.pour", f"size wall 2 mm\n{head}\n{lines}")
    set_up.commit("first")
    for kind in kinds:
        set_up.change(f"{kind}.pour", '"8"', '"last"')

    heads = changes(set_up.git("diff"))[::3]

    assert heads == [kind if kind == "shop" else f"{kind} a" for kind in sorted((*kinds, "bench")[:-1])]


@pytest.mark.parametrize("text", ["piece a\n  tkae b\n", "<<<<<<< HEAD\n", "# \udcff\n", ""])
def test_what_cannot_be_tidied_is_shown_as_it_is(set_up: Repository, text: str) -> None:
    data = text.encode("utf-8", "surrogateescape")
    (set_up.top / "broken.pour").write_bytes(data)
    done = subprocess.run(
        ["castlang", "git", "textconv", "broken.pour"], cwd=set_up.top, capture_output=True, check=False
    )

    assert (done.returncode, done.stdout) == (0, data)


def test_a_diff_goes_on_when_castlang_cannot_be_found(
    set_up: Repository, monkeypatch: pytest.MonkeyPatch
) -> None:
    set_up.commit("first")
    set_up.change("bench.pour", "crew      2", "crew    3")
    monkeypatch.setenv("PATH", "/usr/bin:/bin")

    assert changes(set_up.git("diff"))[1:] == ["-    crew      2", "+    crew    3"]


# ---------------------------------------------------------------- merges


def branched(shop: Repository, ours: tuple[str, str], theirs: tuple[str, str]) -> str:
    """Both changes made on branches of their own; what `git merge` says."""
    shop.commit("first")
    shop.git("switch", "--quiet", "--create", "side")
    shop.change("bench.pour", *theirs)
    shop.commit("theirs")
    shop.git("switch", "--quiet", "main")
    shop.change("bench.pour", *ours)
    shop.commit("ours")
    return shop.run("git", "merge", "--no-edit", "side").stdout


def test_different_lines_of_one_block_merge_as_text(set_up: Repository, capsys) -> None:
    branched(set_up, ("cure      24 h to", "cure      30 h to"), ("dry       2 days", "dry       3 days"))

    text = (set_up.top / "bench.pour").read_text()
    assert text == STARTER.replace("cure      24 h to", "cure      30 h to").replace(
        "dry       2 d", "dry       3 d"
    )
    assert main(["check", "bench.pour"]) == 0


def test_a_conflict_is_one_finding_that_names_both_answers(set_up: Repository, capsys) -> None:
    said = branched(set_up, ("crew      2", "crew      3"), ("crew      2", "crew      4"))
    assert "CONFLICT" in said

    status = main(["check", "bench.pour"])

    line = STARTER[: STARTER.index("    crew")].count("\n") + 1
    assert (status, capsys.readouterr().err) == (
        1,
        dedent(f"""\
            bench.pour:{line}:1: error: a merge left lines {line} to {line + 4} undecided [merge-conflict]
                | <<<<<<< HEAD
                | ^^^^^^^
                bench.pour:{line + 1}:1: what `HEAD` says begins here
                bench.pour:{line + 3}:1: what `side` says begins here
                next: {MERGE_CONFLICT.remedy}
            1 error
            """),
    )


def test_a_line_that_both_sides_added_is_named_with_both_places(set_up: Repository, capsys) -> None:
    branched(
        set_up,
        ("    crew      2\n", "    night     12 degC\n    crew      2\n"),
        ("    waste     10 %\n", "    waste     10 %\n    night     14 degC\n"),
    )

    assert set_up.git("log", "--format=%s") == "ours\nfirst\n"
    status = main(["check", "bench.pour"])

    told = capsys.readouterr().err
    first = STARTER[: STARTER.index("    crew")].count("\n") + 1
    assert (status, "[said-twice]" in told) == (1, True)
    assert f"bench.pour:{first + 4}:" in told
    assert f"bench.pour:{first}:" in told


# ---------------------------------------------------------------- marks of a merge


def conflict(text: str) -> tuple[object, list[tuple[str, int]]]:
    """What is read of a text with marks in it, and each problem's name and line."""
    outcome = read_all("a.pour", text.encode(), Revision(repo=Path(), rev="HEAD", main="a.pour"))
    assert outcome.value is not None
    kinds = [s.kind for d in outcome.value.documents for s in d.statements]
    return kinds, [(p.finding.name, p.span.line) for p in outcome.problems]


@pytest.mark.parametrize(
    ("text", "kinds", "problems"),
    [
        ("<<<<<<< a\nstock s\n=======\nmix m\n>>>>>>> b\n", ["stock"], [1]),
        ("<<<<<<< a\nstock s\n||||||| c\njob j\n=======\nmix m\n>>>>>>> b\n", ["stock"], [1]),
        ("<<<<<<<\nstock s\n=======\nmix m\n>>>>>>>\njob j\n<<<<<<<\n=======\n>>>>>>>\n",
         ["stock", "job"], [1, 7]),
        ("stock s\n=======\nmix m\n>>>>>>> b\n", ["stock", "mix"], [2, 4]),
        ("<<<<<<< a\nstock s\n", ["stock"], [1]),
        ("<<<<<<< a\n<<<<<<< b\nstock s\n=======\nmix m\n>>>>>>> b\n", ["stock"], [1, 2]),
        ("# <<<<<<< a\nstock s # =======\n", ["stock"], []),
    ],
)  # fmt: skip
def test_each_place_left_undecided_is_told_once(text: str, kinds: list[str], problems: list[int]) -> None:
    assert conflict(text) == (kinds, [("merge-conflict", line) for line in problems])


def test_what_only_the_unread_answer_says_is_not_missed(shop: Repository) -> None:
    unread = "<<<<<<< a\n=======\n{}>>>>>>> b\n"
    text = STARTER.replace("release   oil", "release   wax")
    text = text.replace("    crew      2\n", unread.format("    crew      2\n"))
    text = text.replace("stock oil ", unread.format('stock wax "Wax"\n') + "stock oil ")
    build = compile_build("a.pour", text.encode(), Revision(repo=shop.top, rev="HEAD", main="a.pour"))

    assert [p.finding.name for p in build.problems] == ["merge-conflict", "merge-conflict"]


# ---------------------------------------------------------------- files of a revision


def test_files_that_a_build_uses_are_read_from_its_revision(shop: Repository) -> None:
    shop.write("builds/bench.pour", 'use "../stores.pour"\nbuild bench\n')
    shop.write("stores.pour", 'use "more/sand.pour"\nstock cement\n')
    shop.write("more/sand.pour", "stock sand\n")
    shop.write(".castlang", "")
    old = shop.commit("first")
    shop.write("more/sand.pour", "stock gravel\n")
    shop.git("mv", "stores.pour", "stores-2.pour")
    shop.write("builds/bench.pour", 'use "../stores-2.pour"\nbuild bench\n')
    shop.commit("second")
    (shop.top / "more" / "sand.pour").unlink()

    def names(rev: str) -> list[str]:
        revision = revision_of(Path("builds/bench.pour"), rev)
        assert isinstance(revision, Revision)
        data = revision.read_main()
        assert isinstance(data, bytes)
        outcome = read_all(revision.main, data, revision)
        assert (outcome.value is not None, outcome.problems) == (True, ())
        words = (
            [s.body.word("name") for d in outcome.value.documents for s in d.statements]
            if outcome.value
            else []
        )
        return [word.text for word in words if word is not None]

    assert names(old) == names("HEAD~1") == ["bench", "cement", "sand"]
    assert names("main") == ["bench", "cement", "gravel"]


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("../stores.pour", "lies outside the project's folder"),
        ("../../outside.pour", "lies outside the project's folder"),
        ("/stores.pour", "lies outside the project's folder"),
        ("link.pour", "lies behind a link"),
        ("more/sand.pour", "lies behind a link"),
        ("none.pour", "cannot be found"),
        ("deep", "is not a file"),
        ("new.pour", "cannot be found"),
        ("*.pour", "cannot be found"),
        ("a\0b", "cannot be read (a name with a zero byte)"),
    ],
)  # fmt: skip
def test_what_a_revision_does_not_give_is_told(shop: Repository, name: str, why: str) -> None:
    shop.write("stores.pour", "stock cement\n")
    shop.write("builds/bench.pour", "build bench\n")
    shop.write("builds/deep/sand.pour", "stock sand\n")
    (shop.top / "builds" / "link.pour").symlink_to("deep/sand.pour")
    (shop.top / "builds" / "more").symlink_to("deep")
    shop.commit("first")
    shop.write("builds/new.pour", "stock sand\n")
    revision = revision_of(Path("builds/bench.pour"), "HEAD")
    assert isinstance(revision, Revision)

    assert revision.read(name, revision.main) == why


def test_the_same_files_are_in_reach_on_disk_and_in_a_revision(shop: Repository) -> None:
    shop.write("stores.pour", "stock cement\n")
    shop.write("builds/.castlang", "")
    shop.write("builds/a/bench.pour", "build bench\n")
    shop.write("builds/stores.pour", "stock sand\n")
    shop.commit("first")
    revision = revision_of(Path("builds/a/bench.pour"), "HEAD")
    assert isinstance(revision, Revision)

    assert revision.root() == "builds"
    assert revision.read("../stores.pour", revision.main) == b"stock sand\n"
    assert revision.read("../../stores.pour", revision.main) == "lies outside the project's folder"


@pytest.mark.parametrize("rev", ["nothing", "--help", "HEAD~9", "", "HEAD:bench.pour"])
def test_what_is_no_revision_is_told(shop: Repository, rev: str) -> None:
    shop.commit("first")

    assert revision_of(Path("bench.pour"), rev) == f"`{rev}` is no revision of this repository"


def test_a_folder_without_a_repository_is_told(shop: Repository, tmp_path: Path) -> None:
    told = revision_of(tmp_path / "bench.pour", "HEAD")

    assert isinstance(told, str)
    assert "not a git repository" in told


def test_a_name_outside_ascii_is_found(shop: Repository) -> None:
    shop.write("über alles.pour", "stock sand\n")
    shop.commit("first")
    revision = revision_of(Path("bench.pour"), "HEAD")
    assert isinstance(revision, Revision)

    assert revision.read("über alles.pour", revision.main) == b"stock sand\n"


# ---------------------------------------------------------------- a commit is held to check and tidy


def commit(shop: Repository) -> tuple[int, str]:
    done = shop.run("git", "commit", "--quiet", "--message", "next")
    return done.returncode, done.stderr


def test_a_clean_and_tidy_build_is_committed(set_up: Repository) -> None:
    set_up.git("add", ".")

    assert commit(set_up)[0] == 0


def test_what_is_staged_counts_and_not_what_lies_beside_it(set_up: Repository) -> None:
    set_up.write("bench.pour", STARTER.replace("    crew      2", "    crew      0"))
    set_up.git("add", ".")
    set_up.write("bench.pour", STARTER)

    status, told = commit(set_up)

    line = STARTER[: STARTER.index("    crew")].count("\n") + 1
    assert (status, f"bench.pour:{line}:" in told) == (1, True)


def test_an_untidy_build_is_not_committed(set_up: Repository) -> None:
    set_up.write("bench.pour", STARTER.replace("    crew      2", "    crew 2"))
    set_up.git("add", ".")

    assert commit(set_up) == (
        1,
        "bench.pour is not tidy; next: castlang tidy bench.pour, and stage it again\n",
    )


def test_a_commit_of_all_changes_is_held_to_the_same(set_up: Repository) -> None:
    set_up.commit("first")
    set_up.write("bench.pour", STARTER.replace("    crew      2", "    crew 2"))
    done = set_up.run("git", "commit", "--quiet", "--all", "--message", "next")

    assert (done.returncode, "bench.pour is not tidy" in done.stderr) == (1, True)
    assert set_up.git("log", "--format=%s") == "first\n"


def test_a_change_of_the_stores_is_checked_with_the_builds_that_use_them(set_up: Repository) -> None:
    start = STARTER.index("stock cement")
    end = STARTER.index("stock sand")
    set_up.write("stores.pour", STARTER[start:end])
    set_up.write("bench.pour", 'use "stores.pour"\n' + STARTER[:start] + STARTER[end:])
    set_up.git("add", ".")
    assert commit(set_up)[0] == 0
    set_up.change("stores.pour", "stock cement", "stock white-cement")
    set_up.git("add", ".")

    status, told = commit(set_up)

    assert (status, "bench.pour:" in told, "`cement`" in told) == (1, True, True)


def test_stores_that_no_build_uses_are_read(set_up: Repository) -> None:
    set_up.write("stores.pour", "stock cement\n    densty   3150 kg/m3\n")
    set_up.git("add", "stores.pour")

    status, told = commit(set_up)

    assert (status, "stores.pour:2:5: error" in told) == (1, True)


def test_stores_taken_away_from_a_build_are_missed(set_up: Repository) -> None:
    set_up.write("stores.pour", "stock wax\n")
    set_up.write("bench.pour", 'use "stores.pour"\n' + STARTER)
    set_up.commit("first")
    set_up.git("rm", "--quiet", "stores.pour")

    status, told = commit(set_up)

    assert (status, '"stores.pour" cannot be found' in told) == (1, True)


def test_a_commit_without_builds_is_let_through(set_up: Repository) -> None:
    set_up.write("notes.txt", "crew 0\n")
    set_up.git("add", "notes.txt")

    assert commit(set_up) == (0, "")


def test_trouble_of_ours_holds_no_commit_up(set_up: Repository, monkeypatch: pytest.MonkeyPatch) -> None:
    set_up.git("add", ".")
    monkeypatch.setenv("PATH", "/usr/bin:/bin")

    assert commit(set_up) == (
        0,
        "castlang cannot be found: the .pour files of this commit were not checked\n",
    )


# ---------------------------------------------------------------- on, off, state


def test_on_tells_what_it_did_and_off_leaves_no_trace(shop: Repository, capsys) -> None:
    before = shop.kept()

    assert main(["git", "on"]) == 0
    assert capsys.readouterr().out == (
        "on       .git/config: how git shows .pour files, and names their blocks\n"
        "on       .git/info/attributes: which files that holds for\n"
        "on       .git/hooks/pre-commit: each commit is checked and tidy\n"
        "on       .git/hooks/pre-merge-commit: each merge too\n" + ENDED
    )
    assert shop.git("status", "--porcelain") == "?? bench.pour\n"
    assert main(["git", "state"]) == 0
    assert main(["git", "off"]) == 0
    assert shop.kept() == before
    assert main(["git", "state"]) == 1


@pytest.mark.parametrize("end", ["", "\n", "\n\n", "\r\n"])
def test_what_a_person_wrote_comes_back_to_the_byte(shop: Repository, end: str) -> None:
    git = shop.top / ".git"
    (git / "info").mkdir()
    (git / "hooks").mkdir()
    (git / "info" / "attributes").write_bytes(f"*.stl binary{end}".encode())
    with (git / "config").open("ab") as file:
        file.write(f'[diff "other"]\n\tbinary = true{end}'.encode())
    (git / "config").chmod(0o600)
    (git / "hooks" / "pre-commit").write_bytes(f"#!/bin/sh -e\nexit 0{end}".encode())
    (git / "hooks" / "pre-commit").chmod(0o750)
    before = shop.kept()

    assert main(["git", "on"]) == 0
    assert shop.kept() != before
    assert shop.git("config", "--get", "diff.other.binary") == "true\n"
    assert shop.git("check-attr", "diff", "a.pour", "b.stl") == "a.pour: diff: castlang\nb.stl: diff: unset\n"
    assert main(["git", "off"]) == 0
    assert shop.kept() == before


def test_an_empty_file_of_a_person_is_kept(shop: Repository) -> None:
    (shop.top / ".git" / "info").mkdir()
    (shop.top / ".git" / "info" / "attributes").write_bytes(b"")
    before = shop.kept()
    main(["git", "on"])
    main(["git", "off"])

    assert shop.kept() == before


def test_on_twice_is_on_once(shop: Repository) -> None:
    main(["git", "on"])
    once = shop.kept()
    main(["git", "on"])

    assert shop.kept() == once


def test_off_where_nothing_is_on_changes_nothing(shop: Repository) -> None:
    before = shop.kept()

    assert main(["git", "off"]) == 0
    assert shop.kept() == before


def test_what_is_added_meanwhile_stays(shop: Repository) -> None:
    main(["git", "on"])
    shop.git("config", "core.abbrev", "9")
    shop.git("config", "alias.last", "log -1")
    main(["git", "off"])

    assert shop.git("config", "--get-regexp", "abbrev|alias|castlang") == "core.abbrev 9\nalias.last log -1\n"


def test_older_lines_of_ours_are_told_and_renewed(shop: Repository, capsys) -> None:
    main(["git", "on"])
    shop.git("config", "diff.castlang.xfuncname", "^piece")
    capsys.readouterr()

    assert main(["git", "state"]) == 1
    assert capsys.readouterr().out.startswith("changed  .git/config:")
    assert main(["git", "on"]) == 0
    assert main(["git", "state"]) == 0


def test_a_mark_without_the_other_is_left_to_the_person(shop: Repository, capsys) -> None:
    main(["git", "on"])
    path = shop.top / ".git" / "config"
    path.write_text(path.read_text().replace("# <<< castlang git on\n", ""))
    cut = path.read_text()
    capsys.readouterr()

    assert main(["git", "off"]) == 1
    assert (
        capsys.readouterr().out
        == ".git/config: one of castlang's two marks is gone; take its lines out by hand\n"
    )
    assert path.read_text() == cut


def test_a_hook_that_is_there_runs_behind_ours(shop: Repository) -> None:
    hook = shop.top / ".git" / "hooks" / "pre-commit"
    hook.parent.mkdir()
    hook.write_text("#!/bin/sh\necho theirs >&2\n")
    hook.chmod(0o755)
    main(["git", "on"])
    shop.git("add", ".")
    clean = commit(shop)
    shop.write("bench.pour", STARTER.replace("    crew      2", "    crew 2"))
    shop.git("add", ".")
    untidy = commit(shop)

    assert (clean[0], clean[1].splitlines()[-1]) == (0, "theirs")
    assert (untidy[0], "theirs" in untidy[1]) == (1, False)


@pytest.mark.parametrize(
    ("text", "mode", "why"),
    [
        ("#!/usr/bin/env python3\n", 0o755, "it is no shell script"),
        ("#!/bin/sh\n", 0o644, "it may not be run, so git does not run it"),
    ],
)
def test_a_hook_that_is_not_ours_to_change_is_left_alone(
    shop: Repository, text: str, mode: int, why: str, capsys
) -> None:
    hook = shop.top / ".git" / "hooks" / "pre-commit"
    hook.parent.mkdir()
    hook.write_text(text)
    hook.chmod(mode)

    status = main(["git", "on"])

    told = capsys.readouterr().out
    assert (status, hook.read_text()) == (1, text)
    assert f"left alone: {why}; let your own hook call `castlang git staged`\n" in told


def test_a_linked_hook_and_a_folder_of_hooks_elsewhere_are_left_alone(shop: Repository, capsys) -> None:
    shop.write("tools/check.sh", "#!/bin/sh\n")
    (shop.top / ".git" / "hooks").mkdir()
    (shop.top / ".git" / "hooks" / "pre-commit").symlink_to("../../tools/check.sh")

    assert main(["git", "on"]) == 1
    assert "left alone: it is a link" in capsys.readouterr().out
    shop.git("config", "core.hooksPath", "tools")
    assert main(["git", "on"]) == 1
    assert "left alone: core.hooksPath is tools" in capsys.readouterr().out
    assert (shop.top / "tools" / "check.sh").read_text() == "#!/bin/sh\n"


def test_on_works_from_a_folder_below_and_in_a_second_work_tree(
    shop: Repository, monkeypatch: pytest.MonkeyPatch, capsys
) -> None:
    shop.commit("first")
    shop.git("worktree", "add", "--quiet", "../second")
    (shop.top / "below").mkdir()
    monkeypatch.chdir(shop.top / "below")

    assert main(["git", "on"]) == 0
    monkeypatch.chdir(shop.top.parent / "second")
    assert main(["git", "state"]) == 0
    (Path.cwd() / "bench.pour").write_text(STARTER.replace("crew      2", "crew 3"))
    told = subprocess.run(["git", "diff"], capture_output=True, text=True, check=True).stdout
    assert changes(told)[1:] == ["-    crew      2", "+    crew      3"]


def test_outside_a_repository_it_is_trouble(tmp_path: Path, monkeypatch, capsys, shop: Repository) -> None:
    monkeypatch.chdir(tmp_path)

    assert main(["git", "on"]) == 2
    assert capsys.readouterr().err.startswith("castlang: not a git repository")
