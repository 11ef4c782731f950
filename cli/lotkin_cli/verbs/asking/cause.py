"""`common-cause`: what units that failed share, and whether it is more than chance."""

from __future__ import annotations

from typing import Annotated

import typer

from lotkin_cli.opening import open_db, places_in
from lotkin_cli.options.common import All, Codes, Csv, Db, Form, Json, form_of
from lotkin_cli.verbs.adding import ASK, add_verb

__all__ = ["add_to"]

MOST_DAYS = 36_500

Margin = Annotated[
    int,
    typer.Option(
        "--margin",
        metavar="DAYS",
        min=0,
        max=MOST_DAYS,
        help="Compare with units built so many days before or after them as well.",
    ),
]


def common_cause_command(
    codes: Codes,
    *,
    margin: Margin = 45,
    everything: All = False,
    json: Json = False,
    csv: Csv = False,
    db: Db = None,
) -> None:
    """Find what units that failed have in common.

    Every lot, run, machine, tool and bath behind them is compared with shipped units of the same
    part built at that time, by Fisher's exact test, adjusted for how many things are tested
    (Benjamini-Hochberg). What the data cannot tell apart is told as one. At least three units are
    needed. It says so if there is no finding.
    """
    form = form_of(json=json, csv=csv)
    from lotkin.uses.asking.common_cause import common_cause
    from lotkin_answers.documents.investigation import causes as cause_data

    store = open_db(db)
    found = common_cause(store, codes, margin)
    if form is Form.JSON:
        from lotkin_cli.text.form.json_document import write_document

        write_document(cause_data.cause_document(found))
    elif form is Form.CSV:
        from lotkin_cli.text.form.spreadsheet import write_rows

        write_rows(cause_data.CAUSE_COLUMNS, cause_data.cause_rows(found))
    else:
        zone = places_in(store).zone
        from lotkin_cli.text import cause_text

        cause_text.print_cause(found, zone, everything=everything)


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "common-cause",
        common_cause_command,
        section=ASK,
        examples=("lotkin common-cause DP40-0404 DP40-0453 DP40-0454 --margin 60",),
    )
