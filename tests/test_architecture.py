"""The house: who imports whom, one door a library, and where the world outside is touched."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

HERE = Path(__file__).parent.parent
CODE = HERE / "castlang"
FILES = sorted(CODE.rglob("*.py"))

SEES = {
    "source": set(),
    "problems": {"source"},
    "syntax": {"source", "problems"},
    "spec": {"source", "problems", "syntax"},
    "takeoff": {"source", "problems", "spec"},
    "plan": {"source", "problems", "spec", "takeoff"},
    "rules": {"source", "problems", "spec", "takeoff", "plan"},
    "costing": {"source", "problems", "spec", "takeoff", "plan"},
    "trace": {"source", "problems", "spec", "takeoff", "plan", "costing"},
    "sheets": {"source", "problems", "spec", "takeoff", "plan", "costing", "trace"},
    "out": {"sheets"},
    "tidy": {"source", "problems", "syntax", "spec", "documents"},
    "compare": {"source", "problems", "spec", "takeoff", "plan", "costing", "sheets"},
    "record": {"source", "problems", "spec", "takeoff", "plan", "costing", "sheets"},
    "documents": {"source", "problems", "syntax", "spec"},
    "catalogue": {"problems", "syntax", "spec", "takeoff", "plan", "costing", "rules", "tidy", "record"},
}
"""What each folder, or module at the top, may import besides itself."""

TOP = {"pipeline", "cli", "__init__"}
"""These see everything below them."""

DOORS = {
    "lark": "syntax/grammar.py",
    "pint": "spec/units.py",
    "networkx": "plan/graph.py",
    "reportlab": "out/pdf",
    "segno": "out/pdf/matrix_code.py",
    "trimesh": "takeoff/meshes.py",
    "numpy": "takeoff/meshes.py",
    "rectpack": "takeoff/packing.py",
    "ortools": "plan/solving",
    "holidays": "spec/public_holidays.py",
    "icalendar": "out/calendar_file.py",
}
"""The one place where each outside library comes in."""

STANDARD = {
    "argparse", "bisect", "collections", "contextlib", "csv", "dataclasses", "datetime", "decimal", "difflib",
    "enum", "fractions", "functools", "gc", "hashlib", "heapq", "importlib", "io", "itertools", "json",
    "logging", "math", "operator", "os", "pathlib", "random", "re",
    "shutil", "stat", "string", "subprocess", "sys", "tempfile",
    "textwrap", "threading", "traceback", "types", "typing", "unicodedata", "uuid", "warnings",
}  # fmt: skip

OUTSIDE = {
    "source",
    "cli",
    "out/folder.py",
    "syntax/grammar.py",  # reads the grammar, keeps its tables beside it
    "spec/units.py",  # reads the definitions of units
    "out/pdf/face.py",  # reads the typeface
    "takeoff/meshes.py",  # hands the reader of meshes bytes as an open file
}
"""Where files, streams and the environment may be touched."""


def place(path: Path) -> str:
    return path.relative_to(CODE).as_posix()


def folder(path: Path) -> str:
    """The folder of a file, or the name of a module at the top."""
    parts = path.relative_to(CODE).parts
    return parts[0] if len(parts) > 1 else path.stem


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def imports(path: Path) -> Iterator[tuple[str, str]]:
    """(module, name) of every import, wherever it stands."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            yield from ((alias.name, "") for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from ((node.module or "", alias.name) for alias in node.names)


def inside(path: Path, places: set[str]) -> bool:
    return any(place(path) == p or place(path).startswith(f"{p}/") for p in places)


# ------------------------------------------------------------------ who imports whom


def test_a_stage_sees_only_the_stages_before_it() -> None:
    wrong = []
    for path in FILES:
        own = folder(path)
        for module, _ in imports(path):
            parts = module.split(".")
            if parts[0] != "castlang" or own in TOP:
                continue
            seen = parts[1] if len(parts) > 1 else "__init__"
            if seen not in {own, *SEES.get(own, set())}:
                wrong.append(f"{place(path)} imports {module}")

    assert wrong == []


def test_every_folder_is_known_here_and_is_a_noun() -> None:
    found = {folder(path) for path in FILES}

    assert found <= {*SEES, *TOP}
    assert not found & {"utils", "util", "helpers", "core", "common", "manager", "misc"}


def test_nobody_imports_the_command_line() -> None:
    wrong = [
        place(path)
        for path in FILES
        for module, _ in imports(path)
        if module.startswith("castlang.cli") and folder(path) != "cli"
    ]

    assert wrong == []


def test_no_private_name_is_imported() -> None:
    wrong = [
        f"{place(path)} imports {module}.{name}"
        for path in FILES
        for module, name in imports(path)
        if module.startswith("castlang") and re.match(r"_[a-z]", name)
    ]

    assert wrong == []


def test_each_library_comes_in_through_one_door_and_there_is_no_other() -> None:
    wrong = []
    for path in FILES:
        for module, _ in imports(path):
            library = module.split(".")[0]
            if library in ("castlang", *STANDARD):
                continue
            if not (library in DOORS and inside(path, {DOORS[library]})):
                wrong.append(f"{place(path)} imports {module}")

    assert wrong == []


# ------------------------------------------------------------------ the world outside


def touches(path: Path) -> Iterator[str]:
    """Calls and names that touch files, streams, the clock or the environment."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Call):
            called = ast.unparse(node.func)
            if called in ("print", "open", "input", "exit", "quit", "breakpoint"):
                yield called
            if re.search(
                r"\.(now|today|utcnow|read_text|read_bytes|write_text|write_bytes|unlink|mkdir)$", called
            ):
                yield called
        if isinstance(node, ast.Attribute) and ast.unparse(node) in (
            "os.environ", "os.getenv", "sys.exit", "sys.stdout", "sys.stderr", "sys.stdin", "sys.argv",
            "time.time", "time.monotonic", "os.getcwd", "Path.cwd", "subprocess.run",
        ):  # fmt: skip
            yield ast.unparse(node)


def test_no_stage_touches_the_world_outside() -> None:
    wrong = [
        f"{place(path)}: {what}" for path in FILES if not inside(path, OUTSIDE) for what in touches(path)
    ]

    assert wrong == []


def test_what_may_touch_the_world_outside_does() -> None:
    quiet = [p for p in OUTSIDE if not any(True for path in FILES if inside(path, {p}))]

    assert quiet == []


def test_no_stage_asks_for_chance_but_from_a_seed_of_its_own() -> None:
    wrong = [
        f"{place(path)}: {called}"
        for path in FILES
        for node in ast.walk(tree(path))
        if isinstance(node, ast.Call)
        for called in [ast.unparse(node.func)]
        if called == "hash" or re.match(r"random\.(?!Random$)|uuid|secrets", called)
    ]

    assert wrong == []


# ------------------------------------------------------------------ the form of the code


def test_files_are_of_a_size_that_one_can_read() -> None:
    lengths = {place(path): len(path.read_text(encoding="utf-8").splitlines()) for path in FILES}
    limit = {p: 500 if p.endswith("findings.py") else 400 for p in lengths}  # findings are data alone
    long = sorted(p for p, n in lengths.items() if n > 300)

    assert [p for p, n in lengths.items() if n > limit[p]] == []
    assert len(long) <= len(lengths) / 20, long


SAID_BY_NAME = re.compile(
    r"sheets/.*_(table|sheet|sheets)$"  # the table or sheet of that name
    r"|^(sheets/amounts|takeoff/wording|compare/shown)\.py "  # a kind of amount, as the module says
)


def test_every_public_function_and_class_says_what_it_does() -> None:
    silent = []
    for path in FILES:
        if ast.get_docstring(tree(path)) is None:
            silent.append(place(path))
        for node in tree(path).body:
            kinds = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)
            if not isinstance(node, kinds) or node.name.startswith("_"):
                continue
            plain = isinstance(node, ast.ClassDef) and any("Enum" in ast.unparse(b) for b in node.bases)
            if plain or SAID_BY_NAME.search(f"{place(path)} {node.name}"):
                continue
            if ast.get_docstring(node) is None:
                silent.append(f"{place(path)}: {node.name}")

    assert silent == []


WORKED_OUT_ONCE = {"Ground"}
"""Keeps what its rules work out from it, which slots would not allow."""


def dataclasses(path: Path) -> Iterator[tuple[str, set[str]]]:
    """Each dataclass with the settings that are on."""
    for node in ast.walk(tree(path)):
        if not isinstance(node, ast.ClassDef):
            continue
        for decorator in node.decorator_list:
            if ast.unparse(decorator).startswith("dataclass"):
                words = decorator.keywords if isinstance(decorator, ast.Call) else []
                on = {w.arg or "" for w in words if isinstance(w.value, ast.Constant) and w.value.value}
                yield node.name, on


def test_what_is_known_is_frozen_slotted_and_told_by_keyword() -> None:
    models = [
        p for p in FILES if "model" in p.relative_to(CODE).with_suffix("").parts or p.stem == "quantity"
    ]
    wrong = [
        f"{place(path)}: {name}"
        for path in models
        for name, on in dataclasses(path)
        if not {"frozen", "slots", "kw_only"} <= on and name not in WORKED_OUT_ONCE
    ]

    assert models
    assert wrong == []


def test_every_stage_has_its_model() -> None:
    stages = ["source", "problems", "syntax", "spec", "takeoff", "plan", "costing", "sheets", "rules"]
    missing = [
        s for s in stages if not any((CODE / s / m).is_file() for m in ("model.py", "model/__init__.py"))
    ]

    assert missing == []


def test_types_are_told_and_waved_through_only_with_a_reason() -> None:
    reasoned = re.compile(r"# type: ignore\[[a-z-]+\]  # \w")
    waved = [
        f"{place(path)}: {row.strip()}"
        for path in FILES
        for row in path.read_text(encoding="utf-8").split("\n")
        if "type: ignore" in row and not reasoned.search(row)
    ]

    assert waved == []


@pytest.mark.parametrize("where", ["castlang", "grammar", "docs", "examples", "tests"])
def test_nothing_is_left_to_be_done_later(where: str) -> None:
    marks = re.compile("|".join(f"{a}{b}" for a, b in (("TO", "DO"), ("FIX", "ME"), ("XX", "X"))))
    kinds = (".py", ".lark", ".md", ".pour", ".txt")
    wrong = [
        path.relative_to(HERE).as_posix()
        for path in sorted((HERE / where).rglob("*"))
        if path.suffix in kinds and marks.search(path.read_text(encoding="utf-8"))
    ]

    assert wrong == []
