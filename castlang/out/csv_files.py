"""The tables of a binder as CSV files (RFC 4180), one for each table key.

A spreadsheet runs a cell that begins with = + - or @ as a formula, wherever the text came from. Such a cell
is written with an apostrophe before it, unless it is a plain number (-3, +2.5, -3.1e-4) or only dashes.
Fields that hold a semicolon are quoted too: in many countries spreadsheets split lines there. Dates and times
are in ISO 8601.
"""

import re
from collections.abc import Iterable

from castlang.out.trace_column import with_traces
from castlang.sheets.model import Binder, Row, Sheet, Table

_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d+)?", re.IGNORECASE)
_FORMULA = ("=", "+", "-", "@")
_QUOTED = re.compile(r'[",;\t\r\n]|^\s|\s$')


def csv_files(binder: Binder) -> dict[str, str]:
    """File name ("materials.csv") to text, in the order of first appearance.

    Line ends are CRLF; the first row holds the columns' keys. A table that stands on several sheets becomes
    one file, with the sheet's code in a first column `sheet`, and every column that any of them has.
    """
    found: dict[str, list[tuple[Sheet, Table]]] = {}
    for sheet in binder.sheets:
        for block in sheet.blocks:
            if isinstance(block, Table):
                found.setdefault(block.key, []).append((sheet, with_traces(block)))
    return {f"{key}.csv": _file(tables) for key, tables in found.items()}


def csv_of(table: Table) -> str:
    """One table as a CSV text."""
    table = with_traces(table)
    keys = [column.key for column in table.columns]
    rows = [keys, *([*_cells(table, row).values()] for row in table.rows)]
    return "".join(_line(cells) for cells in rows)


def _file(tables: list[tuple[Sheet, Table]]) -> str:
    keys = list(dict.fromkeys(column.key for _, table in tables for column in table.columns))
    repeated = len(tables) > 1
    lines = [_line([*["sheet"] * repeated, *keys])]
    for sheet, table in tables:
        for row in table.rows:
            cells = _cells(table, row)
            lines.append(_line([*[sheet.code] * repeated, *(cells.get(key, "") for key in keys)]))
    return "".join(lines)


def _cells(table: Table, row: Row) -> dict[str, str]:
    """The row's texts by column key, in the form for programs where it has one."""
    return dict(zip((column.key for column in table.columns), row.cells, strict=True)) | dict(row.data)


def _line(cells: Iterable[str]) -> str:
    return ",".join(_field(_guarded(cell)) for cell in cells) + "\r\n"


def _guarded(cell: str) -> str:
    bare = cell.strip()
    harmless = not bare.startswith(_FORMULA) or _NUMBER.fullmatch(bare) or not bare.strip("-")
    return cell if harmless else f"'{cell}"


def _field(cell: str) -> str:
    text = cell.encode("utf-8", "replace").decode("utf-8")
    return '"' + text.replace('"', '""') + '"' if _QUOTED.search(text) else text
