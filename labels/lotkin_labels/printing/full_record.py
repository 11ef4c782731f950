"""The whole record as a table for spreadsheets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.instants import show_instant
from lotkin_labels.reports import RecordColumn, RecordTable
from lotkin_labels.reports.form.record_table import amount

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from lotkin.uses.reporting.record_rows import RecordRow
    from lotkin_answers.spreadsheet import Cell

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
        "did", "made, used, moved; about: it says something of an item, such as a result."
    ),
    RecordColumn("item", "Code of the lot, unit, carton or run."),
    RecordColumn("item_kind", "Kind of the item."),
    RecordColumn("part", "Part or material number."),
    RecordColumn("part_name", "Name of the part in the plan."),
    RecordColumn("quantity", "How much was made, used or moved; empty if not recorded."),
    RecordColumn("unit", "Unit of the quantity."),
    RecordColumn("from", "Place that pieces left."),
    RecordColumn("from_within", "Carton or outside batch that they were in there."),
    RecordColumn("to", "Place that pieces came to."),
    RecordColumn("to_within", "Carton or outside batch that they are in there."),
    RecordColumn("into", "Item that it was used for."),
    RecordColumn("supplier", "Code of the supplier of what was received."),
    RecordColumn("supplier_lot", "Their lot, heat or batch number."),
    RecordColumn("recipient", "Code of the customer or supplier that it was shipped or sent to."),
    RecordColumn("recipient_name", "Name of the recipient in the plan."),
    RecordColumn("delivery_note", "Number of the supplier's delivery note."),
    RecordColumn("order", "Customer's order, or delivery note, that a shipment names."),
    RecordColumn("certificate", "Type of the inspection document per EN 10204."),
    RecordColumn("certificate_file", "SHA-256 of the files that came with a delivery."),
    RecordColumn("traveller", "Traveller that it was made on."),
    RecordColumn("case", "Case that it belongs to."),
    RecordColumn(
        "result",
        "What was found or decided: of a test, inspection, count, decision, case or correction.",
    ),
    RecordColumn("breaches", "Rules that a reported event broke."),
)

QUANTITY = next(i for i, column in enumerate(COLUMNS) if column.name == "quantity")


def record_table(rows: Iterable[RecordRow]) -> RecordTable:
    """Make the table of the whole record."""
    return RecordTable("record", COLUMNS, tuple(_cells(rows)))


def _cells(rows: Iterable[RecordRow]) -> Iterator[tuple[Cell, ...]]:
    for row in rows:
        values: list[Cell] = list(row)
        values[2], values[3] = show_instant(row.happened), show_instant(row.recorded)
        values[QUANTITY] = amount(row.quantity)
        yield tuple(None if value == "" else value for value in values)
