"""`complaint`: all that is on record of one unit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_cli.opening import open_db, places_in
from lotkin_cli.options.common import All, Code, Csv, Db, Form, Json, form_of
from lotkin_cli.verbs.adding import ASK, add_verb

if TYPE_CHECKING:
    import typer

__all__ = ["add_to"]


def complaint_command(
    code: Code,
    *,
    everything: All = False,
    json: Json = False,
    csv: Csv = False,
    db: Db = None,
) -> None:
    """Show all that is on record of a unit.

    Where it went and came back, what was changed in it, its tests beside those of its siblings,
    the lots in it by position, and how many other units have each lot and where these are. The
    list of --csv is that of the components.
    """
    form = form_of(json=json, csv=csv)
    from lotkin.uses.complaints.complaint import complaint

    store = open_db(db)
    found = complaint(store, code)
    places = places_in(store)
    if form is Form.JSON:
        from lotkin_answers.documents.complaint import complaint_document
        from lotkin_cli.text.form.json_document import write_document

        write_document(complaint_document(found, places))
    elif form is Form.CSV:
        from lotkin_answers.documents.complaint import COMPONENT_COLUMNS, component_rows
        from lotkin_cli.text.form.spreadsheet import write_rows

        write_rows(COMPONENT_COLUMNS, component_rows(found))
    else:
        from lotkin_cli.text.complaint.text import print_complaint

        print_complaint(found, places, everything=everything)


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app, "complaint", complaint_command, section=ASK, examples=("lotkin complaint SN-000123",)
    )
