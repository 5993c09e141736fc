"""The plan before, read from the JSON of a binder: when each step began."""

import json
from collections.abc import Iterator, Mapping
from datetime import datetime
from pathlib import Path

from castlang.cli.trouble import Trouble

TRACE = "start."  # how the plan's table names the start of a task


def previous_starts(path: str) -> Mapping[str, datetime]:
    """When each task of the binder in `path` begins, by name. path: a binder's folder, or its binder.json.

    Raises Trouble when it is neither.
    """
    file = Path(path) / "binder.json" if Path(path).is_dir() else Path(path)
    try:
        document = json.loads(file.read_text(encoding="utf-8"))
    except OSError as error:
        raise Trouble(f"{file} cannot be read ({error.strerror})") from None
    except ValueError:
        raise Trouble(f"{file} is not the JSON of a binder") from None
    starts = dict(_starts(document))
    if not starts:
        raise Trouble(f"{file} holds no plan; give a binder's folder, or its binder.json")
    return starts


def _starts(part: object) -> Iterator[tuple[str, datetime]]:
    """The rows of the plan's table, wherever in the document it stands."""
    if isinstance(part, list):
        for member in part:
            yield from _starts(member)
    elif isinstance(part, dict):
        if part.get("block") == "table" and part.get("key") == "plan":
            yield from (told for row in part.get("rows", ()) for told in _start(row))
        else:
            yield from _starts(list(part.values()))


def _start(row: object) -> Iterator[tuple[str, datetime]]:
    """The step of a row and its start; nothing where the row is not as a binder has it."""
    if not isinstance(row, dict) or not str(row.get("trace", "")).startswith(TRACE):
        return
    for key, text in (pair for pair in row.get("data", ()) if isinstance(pair, list) and len(pair) == 2):
        if key == "start":
            try:
                yield str(row["trace"]).removeprefix(TRACE), datetime.fromisoformat(str(text))
            except ValueError:
                continue
