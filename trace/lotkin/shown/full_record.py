"""The whole record as a table for spreadsheets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.instants import show_instant
from lotkin_labels.reports import RecordColumn, RecordTable
from lotkin_labels.reports.record_table import amount

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from lotkin.uses.record_rows import RecordRow
    from lotkin_labels.reports.record_table import Cell

__all__ = ["record_table"]

COLUMNS = (
    RecordColumn("event", "Number of the event in the journal."),
    RecordColumn("kind", "Kind of the event."),
    RecordColumn("happened", "When, as first sent; UTC per ISO 8601."),
    RecordColumn("recorded", "When it was recorded; UTC per ISO 8601."),
    RecordColumn("reported", "true: told after the fact."),
    RecordColumn("by", "Person or machine."),
    RecordColumn("station", "Where it was recorded from."),
    RecordColumn(
        "did", "made, used, moved; about: it did nothing to an item, such as opening a case."
    ),
    RecordColumn("item", "Code of the lot, unit, carton or run."),
    RecordColumn("item_kind", "Kind of the item."),
    RecordColumn("part", "Part or material number."),
    RecordColumn("quantity", "How much was made, used or moved; empty if not recorded."),
    RecordColumn("unit", "Unit of the quantity."),
    RecordColumn("from", "Place, and carton or batch, that pieces left."),
    RecordColumn("to", "Place, and carton or batch, that pieces came to."),
    RecordColumn("into", "Item that it was used for."),
    RecordColumn("supplier", "Code of the supplier of what was received."),
    RecordColumn("supplier_lot", "Their lot, heat or batch number."),
    RecordColumn("reference", "Order, delivery note or other document that the event names."),
    RecordColumn("breaches", "Rules that a reported event broke."),
)


def record_table(rows: Iterable[RecordRow]) -> RecordTable:
    """Make the table of the whole record."""
    return RecordTable("record", COLUMNS, tuple(_cells(rows)))


def _cells(rows: Iterable[RecordRow]) -> Iterator[tuple[Cell, ...]]:
    for row in rows:
        values: list[Cell] = list(row)
        values[2], values[3] = show_instant(row.happened), show_instant(row.recorded)
        values[11] = amount(row.quantity)
        yield tuple(None if value == "" else value for value in values)
