"""The record of a unit as tables of records."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_labels.reports.form.record_table import RecordColumn, RecordTable
from lotkin_labels.reports.form.sealed import seal_facts

if TYPE_CHECKING:
    from lotkin_answers.spreadsheet import Cell
    from lotkin_answers.unit.record import UnitRecord

__all__ = ["component_table", "unit_tables"]

SUMMARY = (RecordColumn("what", "What the value is."), RecordColumn("value", "The value."))

COMPONENTS = (
    RecordColumn("position", "Where in the unit; empty if not said."),
    RecordColumn("part", "Part number."),
    RecordColumn("part_name", "Name of the part in the plan."),
    RecordColumn("quantity", "How much of it is in the unit."),
    RecordColumn("unit", "Unit of the quantity."),
    RecordColumn("lot", "Lot or serial that it was taken from."),
    RecordColumn("instead", "Lots that it may have come from instead."),
    RecordColumn("supplier", "Supplier of the lot; empty if it was made here."),
    RecordColumn("supplier_lot", "The supplier's number."),
    RecordColumn("in_it_now", "false: it was taken out."),
    RecordColumn("first_state", "First state of the unit that had it."),
    RecordColumn("last_state", "Last state of the unit that had it."),
)

ORIGINS = (
    RecordColumn(
        "lot", "Lot in the unit; with 'or' between, one of them is and it is not known which."
    ),
    RecordColumn("part", "Part or material number of the origin."),
    RecordColumn("kind", "heat, source-lot, outside-batch, or the kind of what was delivered."),
    RecordColumn("number", "The supplier's number, or our code if they gave none."),
    RecordColumn("supplier", "Who made or delivered it."),
    RecordColumn(
        "certainty",
        "certain: every piece of the lot is of it; possible: some may be; "
        "no longer: the lot was taken out of the unit.",
    ),
)

TESTS = (
    RecordColumn("at", "When, per ISO 8601."),
    RecordColumn("state", "State of the unit that was tested."),
    RecordColumn("test", "Name of the test."),
    RecordColumn("readings", "All readings with their unit."),
    RecordColumn("limits", "Limits as they stood."),
    RecordColumn("passed", "true: all readings were within the limits; empty: not judged."),
    RecordColumn("resources", "Rigs and gauges used."),
    RecordColumn("by", "Who did it."),
)

INSPECTIONS = (
    RecordColumn("at", "When, per ISO 8601."),
    RecordColumn("inspection", "Code of the inspection."),
    RecordColumn("item", "What was inspected."),
    RecordColumn("of_unit", "true: the unit itself; false: a lot behind it."),
    RecordColumn("result", "accepted, rejected or hold."),
    RecordColumn("measured", "What was measured, with its unit."),
    RecordColumn("reason", "Why."),
    RecordColumn("by", "Who did it."),
)

WAY = (
    RecordColumn("at", "When, per ISO 8601."),
    RecordColumn("what", "packed, unpacked, shipped, returned or scrapped."),
    RecordColumn("state", "State of the unit then."),
    RecordColumn("carton", "Carton."),
    RecordColumn("shipment", "Shipment."),
    RecordColumn("customer", "Customer."),
    RecordColumn("reference", "Order or delivery note."),
    RecordColumn("reason", "Why it came back or was scrapped."),
)

CHANGES = (
    RecordColumn("at", "When, per ISO 8601."),
    RecordColumn("what", "swap or dismantle."),
    RecordColumn("state", "State of the unit after it."),
    RecordColumn("taken_out", "Components taken out."),
    RecordColumn("put_in", "Components put in."),
    RecordColumn("by", "Who did it."),
    RecordColumn("note", "What was noted."),
)

BEHIND = (
    RecordColumn("family", "run or resource."),
    RecordColumn("kind", "Kind of run or resource."),
    RecordColumn("code", "Its code."),
    RecordColumn("certainty", "How sure it is that the unit went through it."),
)


def unit_tables(record: UnitRecord) -> list[RecordTable]:
    """Write the record of a unit as tables, one sheet each."""
    return [
        RecordTable("summary", SUMMARY, _summary(record)),
        component_table(record),
        RecordTable("origins", ORIGINS, record.origins),
        RecordTable("tests", TESTS, record.tests),
        RecordTable("inspections", INSPECTIONS, record.inspections),
        RecordTable("way", WAY, record.way),
        RecordTable("changes", CHANGES, record.changes),
        RecordTable("behind", BEHIND, record.behind),
    ]


def component_table(record: UnitRecord) -> RecordTable:
    """Write what the unit is and was built of."""
    return RecordTable("components", COMPONENTS, record.components)


def _summary(record: UnitRecord) -> tuple[tuple[Cell, ...], ...]:
    return (
        ("serial", record.serial),
        ("part", record.part),
        ("part name", record.part_name),
        ("works", record.works),
        ("begun", record.started),
        ("built", record.built),
        *((f"state {code}", at) for code, at in record.states),
        ("where", record.where),
        ("held", record.hold),
        ("as of event", record.as_of),
        ("events in the journal", record.head_number),
        ("hash of the last event", record.head_hash),
        *seal_facts(record.seal),
        ("written", record.written),
    )
