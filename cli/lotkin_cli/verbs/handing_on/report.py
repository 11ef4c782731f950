"""`report`: answers written down, as files to hand on."""

from __future__ import annotations

import sys
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin.core.answers.whereabouts import said_at_unknown_places
from lotkin_answers.words import counted
from lotkin_cli.opening import open_db, places_in
from lotkin_cli.options.common import AsOf, Code, Codes, Db, Json
from lotkin_cli.options.question_options import Families, Kinds, MinContent, question_of
from lotkin_cli.options.report_options import Into, Reason, Since, Until
from lotkin_cli.output.streams import write
from lotkin_cli.verbs.adding import add_verb
from lotkin_cli.verbs.handing_on.files import save, save_csv, save_workbook

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from lotkin.core.answers.left_out import LeftOut
    from lotkin.uses.asking.window import Window
    from lotkin_cli.opening import Opened
    from lotkin_labels.reports import ContainmentReport

__all__ = ["add_to"]

LEFT_OUT = 1
"""Exit status where the span leaves out something that was named."""


def _window(store: Opened, since: str | None, until: str | None) -> Window | None:
    """Read a span as the people of the works say it.

    Raises:
        BadParameter: It ends before it begins, by the names that it has here.
    """
    zone = places_in(store).zone if since or until else None
    first = question_of(None, None, span=(since, None), zone=zone).window
    last = question_of(None, None, span=(None, until), zone=zone).window
    start = first.start if first is not None else None
    end = last.end if last is not None else None
    if start is not None and end is not None and end < start:
        raise typer.BadParameter(f"--until {until} is before --since {since}")
    from lotkin.uses.asking.window import Window

    return None if start is None and end is None else Window(start, end)


def _tell_left_out(outside: Sequence[LeftOut], window: Window | None, store: Opened) -> None:
    """Say which items the span leaves out, and end with the status of a finding."""
    if window is None or not outside:
        return
    from lotkin.core.answers.left_out import said_of

    zone = places_in(store).zone
    for one in outside:
        write(said_of(one, window, zone))
    raise typer.Exit(LEFT_OUT)


def contain_report_command(
    codes: Codes,
    *,
    to: Into,
    family: Families = None,
    kind: Kinds = None,
    since: Since = None,
    until: Until = None,
    as_of: AsOf = None,
    min_content: MinContent = None,
    reason: Reason = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Write a containment down: scope, numbers, account, where everything is, and a picture.

    Every code and serial is in it, and room for signatures. As .xlsx it is a workbook that explains
    its columns, as .csv the list of all members. It only answers; nothing is recorded or held.
    """
    from lotkin.uses.reporting.report_data import containment_data
    from lotkin.wiring import now_us
    from lotkin_labels.printing.reports import containment_report

    store = open_db(db)
    question = question_of(family, kind, as_of=as_of, min_content=min_content)
    question = replace(question, window=_window(store, since, until))
    data = containment_data(store, codes, question)
    report = containment_report(data, question, reason, now_us())
    _write_containment(to, report)
    _tell(json, to, what="containment", units=data.found.units)
    _tell_left_out(data.found.answer.outside, question.window, store)


def case_report_command(
    case: Annotated[str, typer.Argument(metavar="CASE", help="Code of the case.")],
    *,
    to: Into,
    json: Json = False,
    db: Db = None,
) -> None:
    """Write a case down: its containment, who decided what and why, and what waits for it.

    As .xlsx it is a workbook that explains its columns, as .csv the list of all members.
    """
    from lotkin.uses.reporting.report_data import case_data
    from lotkin.wiring import now_us
    from lotkin_labels.printing.reports import case_report

    data = case_data(open_db(db), case)
    _write_containment(to, case_report(data, now_us()))
    _tell(json, to, what="case", units=data.containment.found.units)


def _write_containment(to: Path, report: ContainmentReport) -> None:
    from lotkin_labels.reports import containment_tables, member_table, print_containment

    ending = to.suffix.lower()
    if ending == ".pdf":
        save(to, print_containment(report))
    elif ending == ".xlsx":
        save_workbook(to, containment_tables(report), f"Containment of {report.subjects}")
    else:
        save_csv(to, member_table(report))


def customers_report_command(
    codes: Codes,
    *,
    to: Into,
    since: Since = None,
    until: Until = None,
    as_of: AsOf = None,
    reason: Reason = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Write down what each customer has: units, lots and cartons, with shipment and reference.

    CODE may be that of a case: its number and its reason stand in the report then, and what it has
    released is left out. As .pdf every customer has a page of their own, as .xlsx or .csv every
    item has a row. Nobody is notified by it.
    """
    from lotkin.uses.reporting.customer_data import customer_data
    from lotkin.wiring import now_us
    from lotkin_labels.printing.reports import customer_report
    from lotkin_labels.reports import customer_table, print_customers

    store = open_db(db)
    question = question_of(None, None, as_of=as_of)
    question = replace(question, window=_window(store, since, until))
    data = customer_data(store, codes, question)
    report = customer_report(data, question, reason, now_us())
    ending = to.suffix.lower()
    if ending == ".pdf":
        save(to, print_customers(report))
    elif ending == ".xlsx":
        title = f"Customers who have {report.containment.subjects}"
        save_workbook(to, [customer_table(report)], title)
    else:
        save_csv(to, customer_table(report))
    units = {serial for notice in report.notices for serial in notice.serials}
    unknown = data.containment.found.unknown_places
    if unknown:
        write(f"note: {said_at_unknown_places(unknown)}; no notice is written to them", sys.stderr)
    _tell(json, to, what="customers", units=len(units))
    _tell_left_out(data.containment.found.answer.outside, question.window, store)


def unit_report_command(code: Code, *, to: Into, json: Json = False, db: Db = None) -> None:
    """Write down all that is on record of a unit: what it is built of, tests, where it went.

    Components by position with their lots, heats and suppliers, through all its states. As .csv
    only the components.
    """
    from lotkin.uses.reporting.report_data import unit_data
    from lotkin.wiring import now_us
    from lotkin_answers.unit.recorded import unit_record
    from lotkin_labels.reports import component_table, print_unit, unit_tables

    record = unit_record(unit_data(open_db(db), code), now_us())
    ending = to.suffix.lower()
    if ending == ".pdf":
        save(to, print_unit(record))
    elif ending == ".xlsx":
        save_workbook(to, unit_tables(record), f"Record of {record.serial}")
    else:
        save_csv(to, component_table(record))
    _tell(json, to, what="unit", units=1)


def record_report_command(
    *,
    to: Into,
    since: Since = None,
    until: Until = None,
    json: Json = False,
    db: Db = None,
) -> None:
    """Write the whole record down as a table: who did what to which item, how much, where, when.

    One row for each item that an event made, used or moved, in the order of the journal; a
    spreadsheet can sort and filter it. As .xlsx or .csv.
    """
    if to.suffix.lower() == ".pdf":
        raise typer.BadParameter("the whole record goes into .xlsx or .csv")
    from lotkin.uses.reporting.record_rows import record_rows
    from lotkin_labels.printing.full_record import record_table

    store = open_db(db)
    window = _window(store, since, until)
    start, end = (None, None) if window is None else (window.start, window.end)
    with store.reading() as view:
        table = record_table(record_rows(view, start, end))
    if to.suffix.lower() == ".xlsx":
        save_workbook(to, [table], "The record")
    else:
        save_csv(to, table)
    if json:
        from lotkin_cli.text.form.json_document import write_document

        write_document({"report": "record", "rows": len(table.rows), "to": str(to)})
    else:
        write(f"record: {counted(len(table.rows), 'row')}, {to}")


def _tell(json: bool, to: Path, *, what: str, units: int) -> None:
    if json:
        from lotkin_cli.text.form.json_document import write_document

        write_document({"report": what, "units": units, "to": str(to)})
    else:
        write(f"{what}: {counted(units, 'unit')}, {to}")


def add_to(app: typer.Typer) -> None:
    """Add the group and its verbs."""
    report_app = typer.Typer(rich_markup_mode=None, pretty_exceptions_enable=False)
    add_verb(
        report_app,
        "contain",
        contain_report_command,
        examples=(
            "lotkin report contain ANO-009 --to containment.pdf",
            "lotkin report contain ANO-009 --to containment.xlsx",
            'lotkin report contain POWDER-001 --reason "burnt smell" --to powder.pdf',
        ),
    )
    add_verb(
        report_app,
        "case",
        case_report_command,
        examples=("lotkin report case CASE-001 --to case.pdf",),
    )
    add_verb(
        report_app,
        "customers",
        customers_report_command,
        examples=(
            "lotkin report customers ANO-009 --to notices.pdf",
            "lotkin report customers ANO-009 --to customers.xlsx",
            "lotkin report customers CASE-001 --to notices.pdf",
        ),
    )
    add_verb(
        report_app,
        "unit",
        unit_report_command,
        examples=("lotkin report unit DP40-0404 --to record.pdf",),
    )
    add_verb(
        report_app,
        "record",
        record_report_command,
        examples=("lotkin report record --to record.xlsx",),
    )
    app.add_typer(
        report_app,
        name="report",
        help="Write an answer down, to hand it on.",
        epilog="\b\nExample:\n  lotkin report contain ANO-009 --to containment.pdf",
        rich_help_panel="Print",
    )
