"""The names by which a table's rows are traced, as a last column: for CSV and terminals."""

from dataclasses import replace

from castlang.sheets.model import Column, Row, Table

TRACE = Column(key="trace", title="trace", share=1.6, spare=9)


def with_traces(table: Table) -> Table:
    """The table with that column; as it is where no row can be traced."""
    if not any(row.trace for row in table.rows):
        return table
    return replace(table, columns=(*table.columns, TRACE), rows=tuple(_row(row) for row in table.rows))


def _row(row: Row) -> Row:
    return replace(row, cells=(*row.cells, row.trace))
