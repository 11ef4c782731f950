"""The record of a unit on A4."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_answers.unit.wording import no_inspections, no_tests, no_way, verdict
from lotkin_answers.words import sentence
from lotkin_labels.paper.pdf import write_pdf
from lotkin_labels.reports.form.blocks import signature_lines, title_block
from lotkin_labels.reports.form.flow import Flow, heading, paragraph
from lotkin_labels.reports.form.lists import (
    TableColumn,
    code_lines,
    fact_list,
    group_head,
    put_table,
)
from lotkin_labels.reports.form.sealed import seal_facts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin_answers.unit.record import ComponentRow, UnitRecord
    from lotkin_labels.paper.document import Block
    from lotkin_labels.paper.marks import Page

__all__ = ["print_unit", "unit_pages"]

CODES = frozenset({"hash of the last", "key of the seal", "its signature", "and"})
NOTE = (
    "What is on record of this unit; possible: the lot may be of it in part; no longer: taken out."
)

COMPONENTS = (
    TableColumn("at", 14),
    TableColumn("part", 40),
    TableColumn("quantity", 15, is_number=True),
    TableColumn("lot", 44, is_code=True),
    TableColumn("supplier and number", 40),
)
ORIGINS = (
    TableColumn("lot", 34, is_code=True),
    TableColumn("comes from", 20),
    TableColumn("number", 28, is_code=True),
    TableColumn("material", 24),
    TableColumn("supplier", 56),
    TableColumn("certainty", 17),
)
TESTS = (
    TableColumn("when", 40),
    TableColumn("test", 20),
    TableColumn("readings", 50),
    TableColumn("limits", 32),
    TableColumn("result", 16),
    TableColumn("by", 14),
)
INSPECTIONS = (
    TableColumn("when", 40),
    TableColumn("inspection", 24, is_code=True),
    TableColumn("of", 40, is_code=True),
    TableColumn("result", 18),
    TableColumn("reason", 36),
    TableColumn("by", 14),
)
WAY = (
    TableColumn("when", 44),
    TableColumn("what", 17),
    TableColumn("carton", 22, is_code=True),
    TableColumn("shipment", 22, is_code=True),
    TableColumn("customer", 40),
    TableColumn("reference, reason", 32),
)
CHANGES = (
    TableColumn("when", 44),
    TableColumn("what", 17),
    TableColumn("taken out", 46),
    TableColumn("put in", 34),
    TableColumn("note", 26),
    TableColumn("by", 14),
)


def print_unit(record: UnitRecord) -> bytes:
    """Print the record of a unit as a PDF document."""
    return write_pdf(unit_pages(record), title=f"Record of {record.serial}")


def unit_pages(record: UnitRecord) -> list[Page]:
    """Lay out the record of a unit; see `print_unit`."""
    flow = Flow("Unit record", f"{record.serial}, as of event {record.as_of}", NOTE)
    flow.put(_head(record))
    now = [one for one in record.components if one.is_in_it]
    gone = [one for one in record.components if not one.is_in_it]
    _put(flow, "What is in it", COMPONENTS, [_component(one) for one in now])
    if gone:
        _put(flow, "No longer in it", COMPONENTS, [_component(one) for one in gone])
    origins = [
        (one.lot, one.kind.replace("-", " "), one.number, one.part, one.supplier, one.certainty)
        for one in record.origins
    ]
    _put(flow, "Heats, suppliers' lots and outside batches behind it", ORIGINS, origins)
    tests = [
        (one.at, one.test, one.readings, one.limits, verdict(one.is_passed), one.by)
        for one in record.tests
    ]
    _put(flow, "Tests", TESTS, tests, no_tests(is_imported=record.is_imported))
    inspections = [
        (one.at, one.inspection, one.item, one.result, one.reason, one.by)
        for one in record.inspections
    ]
    _put(
        flow,
        "Inspections of it, and of lots behind it",
        INSPECTIONS,
        inspections,
        no_inspections(is_imported=record.is_imported),
    )
    if record.changes:
        changes = [
            (one.at, one.what, one.taken_out, one.put_in, one.note, one.by)
            for one in record.changes
        ]
        _put(flow, "Repaired or changed", CHANGES, changes)
    way = [
        (one.at, one.what, one.carton, one.shipment, one.customer, one.reference or one.reason)
        for one in record.way
    ]
    _put(flow, "Where it went", WAY, way, no_way(is_imported=record.is_imported))
    _put_behind(flow, record)
    flow.put([signature_lines("prepared by", "checked by")], head=[heading("Signatures")])
    return flow.pages()


def _head(record: UnitRecord) -> list[Block]:
    facts = [
        ("part", f"{record.part} {record.part_name}".strip()),
        ("begun", record.started),
        ("built", record.built),
        *(
            ("states" if number == 0 else "", f"{code}, {at}")
            for number, (code, at) in enumerate(record.states)
            if len(record.states) > 1
        ),
        ("where", record.where or "nowhere"),
        ("held", record.hold),
        ("as of event", str(record.as_of)),
        ("journal", f"{record.head_number} events"),
        ("hash of the last", record.head_hash),
        *seal_facts(record.seal),
        ("written", record.written),
    ]
    lines = fact_list(facts, codes=CODES)
    return [title_block(f"Record of {record.serial}", record.works), *lines]


def _put(
    flow: Flow,
    title: str,
    columns: Sequence[TableColumn],
    rows: Sequence[Sequence[str]],
    instead: str = "nothing is recorded",
) -> None:
    if rows:
        put_table(flow, title, columns, rows)
    else:
        flow.put(paragraph(sentence(instead)), head=[heading(title)])


def _component(one: ComponentRow) -> tuple[str, ...]:
    return (
        one.position,
        f"{one.part} {one.part_name}".strip(),
        f"{one.quantity:f} {one.unit}",
        f"{one.lot} or {one.instead}" if one.instead else one.lot,
        f"{one.supplier} {one.supplier_lot}".strip(),
    )


def _put_behind(flow: Flow, record: UnitRecord) -> None:
    """Put runs and resources by kind, how sure it is with those that are not certain."""
    kinds: dict[str, list[str]] = {}
    for one in record.behind:
        said = one.code if one.certainty == "certain" else f"{one.code}: {one.certainty}"
        kinds.setdefault(one.kind, []).append(said)
    head = [heading("Runs and resources behind it")]
    for kind, codes in kinds.items():
        name = kind.replace("-", " ")
        flow.put(
            code_lines(codes),
            head=[*head, group_head(name, "")],
            again=group_head(f"{name} (continued)", ""),
        )
        head = []
