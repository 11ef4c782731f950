"""`dispersion`: how many units a recall takes, and what mixing adds to that."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_cli.opening import open_db
from lotkin_cli.options.common import All, Csv, Db, Form, Json, MaybeCode, form_of
from lotkin_cli.verbs.adding import ASK, add_verb

if TYPE_CHECKING:
    import typer

__all__ = ["add_to"]


def dispersion_command(
    code: MaybeCode = None,
    *,
    everything: All = False,
    json: Json = False,
    csv: Csv = False,
    db: Db = None,
) -> None:
    """Tell how many units the recall of each lot would take.

    The worst and the average recall, how many raw lots are in a unit, and which mixings cost the
    most traceability. With a code only what it went into, and what is behind it. The list of --csv
    is that of the lots.
    """
    form = form_of(json=json, csv=csv)
    from lotkin.uses.asking.dispersion import dispersion

    found = dispersion(open_db(db), code)
    if form is Form.JSON:
        from lotkin_answers.documents.investigation.dispersion import dispersion_document
        from lotkin_cli.text.form.json_document import write_document

        write_document(dispersion_document(found))
    elif form is Form.CSV:
        from lotkin_answers.documents.investigation.dispersion import LOT_COLUMNS, lot_rows
        from lotkin_cli.text.form.spreadsheet import write_rows

        write_rows(LOT_COLUMNS, lot_rows(found))
    else:
        from lotkin_cli.text.dispersion_text import print_dispersion

        print_dispersion(found, everything=everything)


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "dispersion",
        dispersion_command,
        section=ASK,
        examples=("lotkin dispersion", "lotkin dispersion POWDER-001"),
    )
