"""`audit`: gaps in the record, and how to mend each."""

from __future__ import annotations

from typing import Annotated

import typer

from lotkin_cli.opening import open_db, places_in
from lotkin_cli.options.common import All, Csv, Db, Form, Json, form_of
from lotkin_cli.options.question_options import check_spoken, instant_of
from lotkin_cli.verbs.adding import ASK, add_verb

__all__ = ["add_to"]

BAD_FINDING = 1

MOST_DAYS = 36_500


def _check_kinds(values: list[str] | None) -> list[str]:
    from lotkin.core.audit import KINDS_OF_GAPS
    from lotkin.core.errors import did_you_mean

    for value in values or ():
        if value not in KINDS_OF_GAPS:
            known = f"choose from {', '.join(KINDS_OF_GAPS)}"
            near = did_you_mean(value[:40], KINDS_OF_GAPS) or known
            raise typer.BadParameter(f"{value!r} is no kind of gap; {near}")
    return list(values or ())


KindsOfGaps = Annotated[
    list[str] | None,
    typer.Option(
        "--kind",
        metavar="KIND",
        callback=_check_kinds,
        help="Only gaps of this kind, e.g. certificate-missing; may be repeated.",
    ),
]

At = Annotated[
    str | None,
    typer.Option(
        "--at",
        metavar="TIME",
        callback=check_spoken,
        help="Count days to this moment instead of now; a day is its beginning, and what says no "
        "zone is in the works' own.",
    ),
]


def audit_command(
    *,
    kind: KindsOfGaps = None,
    at: At = None,
    stale_days: Annotated[
        int, typer.Option(metavar="DAYS", min=0, max=MOST_DAYS, help="For stock nobody touched.")
    ] = 180,
    outside_days: Annotated[
        int, typer.Option(metavar="DAYS", min=0, max=MOST_DAYS, help="For pieces sent outside.")
    ] = 30,
    held_days: Annotated[
        int, typer.Option(metavar="DAYS", min=0, max=MOST_DAYS, help="For what is held.")
    ] = 30,
    open_days: Annotated[
        int,
        typer.Option(
            metavar="DAYS",
            min=0,
            max=MOST_DAYS,
            help="For travellers without a finished lot, and resources never used.",
        ),
    ] = 30,
    due_days: Annotated[
        int,
        typer.Option(metavar="DAYS", min=0, max=MOST_DAYS, help="How near a due date is told."),
    ] = 14,
    everything: All = False,
    json: Json = False,
    csv: Csv = False,
    db: Db = None,
) -> None:
    """Look for gaps in the record.

    Components and certificates that are missing, documents missing or altered, steps skipped, rules
    broken by what was reported, times that run backwards, stock below zero or at unknown places,
    what is due, overdue, held or idle for too long: each with how to mend it. Exit status 1 if
    there are gaps.
    """
    form = form_of(json=json, csv=csv)
    from lotkin.core.audit import Limits
    from lotkin.uses.asking.audit import audit
    from lotkin.wiring import db_url, now_us, open_documents

    limits = Limits(
        stale=stale_days, outside=outside_days, held=held_days, unfinished=open_days, due=due_days
    )
    store = open_db(db)
    now = now_us() if at is None else instant_of(at, places_in(store).zone)
    found = audit(store, open_documents(db_url(db)), now, limits, kinds=kind or ())
    if form is Form.JSON:
        from lotkin_answers.documents.audit import audit_document
        from lotkin_cli.text.form.json_document import write_document

        write_document(audit_document(found))
    elif form is Form.CSV:
        from lotkin_answers.documents.audit import GAP_COLUMNS, gap_row
        from lotkin_cli.text.form.spreadsheet import write_rows

        write_rows(GAP_COLUMNS, map(gap_row, found.gaps))
    else:
        from lotkin_cli.text.audit_text import print_audit

        print_audit(found, places_in(store).zone, everything=everything)
    if found.gaps:
        raise typer.Exit(BAD_FINDING)


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "audit",
        audit_command,
        section=ASK,
        examples=("lotkin audit", "lotkin audit --kind certificate-missing --csv"),
    )
