"""What customers have as a table of records."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_labels.reports.form.record_table import RecordColumn, RecordTable, amount

if TYPE_CHECKING:
    from lotkin_answers.spreadsheet import Cell
    from lotkin_labels.reports.customers.customers import CustomerNotice, CustomerReport, HeldItem

__all__ = ["customer_table"]

COLUMNS = (
    RecordColumn("customer", "Code of the customer."),
    RecordColumn("customer_name", "Name of the customer in the plan."),
    RecordColumn("customer_country", "Country of the customer in the plan, ISO 3166-1 alpha-2."),
    RecordColumn("code", "Code of the item."),
    RecordColumn("serial", "Serial of a unit; empty for lots and cartons."),
    RecordColumn("kind", "unit, carton, or the kind of lot."),
    RecordColumn("part", "Part number."),
    RecordColumn("quantity", "How much of it the customer has."),
    RecordColumn("unit", "Unit of the quantity."),
    RecordColumn("certainty", "certain: every piece is affected; possible: some may be."),
    RecordColumn("chance", "Probability, 0 to 1, for one piece; empty if shares are not known."),
    RecordColumn("carton", "Carton that it came in."),
    RecordColumn("shipment", "Latest shipment that took it there."),
    RecordColumn("shipped_on", "Day of the shipment per ISO 8601, in the time of the works."),
    RecordColumn("reference", "Order or delivery note of the shipment."),
)


def customer_table(report: CustomerReport) -> RecordTable:
    """Write what customers have, a row for each item, units, lots and cartons alike."""
    rows = tuple(_row(notice, item) for notice in report.notices for item in notice.items)
    return RecordTable("customers", COLUMNS, rows)


def _row(notice: CustomerNotice, item: HeldItem) -> tuple[Cell, ...]:
    row = item.row
    return (
        notice.customer,
        notice.name,
        notice.country,
        row.code,
        row.serial,
        row.kind,
        row.part,
        amount(row.at[0].quantity),
        row.unit,
        "certain" if row.certain else "possible",
        row.chance,
        item.carton,
        item.shipment,
        item.shipped_on,
        item.reference,
    )
