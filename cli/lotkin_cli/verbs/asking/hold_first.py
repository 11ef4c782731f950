"""`hold-first`: where to go first to hold what is suspect."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_cli.opening import open_db, places_in
from lotkin_cli.options.common import AsOf, Codes, Csv, Db, Form, Json, Quiet, form_of
from lotkin_cli.options.question_options import From, To, exit_if_left_out, question_of
from lotkin_cli.output.streams import write
from lotkin_cli.verbs.adding import ASK, add_verb

if TYPE_CHECKING:
    import typer

    from lotkin.core.answers.stop_list import StopList
    from lotkin_answers.places import Places

__all__ = ["add_to"]


def hold_first_command(
    codes: Codes,
    *,
    start: From = None,
    end: To = None,
    as_of: AsOf = None,
    json: Json = False,
    csv: Csv = False,
    quiet: Quiet = False,
    db: Db = None,
) -> None:
    """List all suspect pieces on hand, place by place.

    What is nearest to a customer comes first: dispatch, packed cartons, then the route backwards.
    Every piece is in the list once, and nothing must be issued from any lot on it. It only
    answers; nothing is held.
    """
    form = form_of(json=json, csv=csv, quiet=quiet)
    from lotkin.uses.asking.hold_first import hold_first

    store = open_db(db)
    places = places_in(store)
    question = question_of(None, None, span=(start, end), zone=places.zone, as_of=as_of)
    found = hold_first(store, codes, question)
    if form is Form.JSON:
        from lotkin_answers.documents.holding import hold_first_document
        from lotkin_cli.text.form.json_document import write_document

        write_document(hold_first_document(codes, found))
    elif form is Form.CSV:
        from lotkin_answers.documents.holding import STOP_COLUMNS, stop_rows
        from lotkin_cli.text.form.spreadsheet import write_rows

        write_rows(STOP_COLUMNS, stop_rows(found))
    elif form is Form.CODES:
        for code in dict.fromkeys(stop.code for stop in found.stops):
            write(code)
    else:
        from lotkin_cli.text.answer_text import print_outside

        print_outside(found.outside, question, places.zone)
        _print(found, places)
    exit_if_left_out(found.outside)


def _print(found: StopList, places: Places) -> None:
    from lotkin.core.values.quantities import show_quantity
    from lotkin_answers.documents.holding import feeding_text, stop_lines, to_count_text
    from lotkin_answers.words import counted
    from lotkin_cli.text.form.table import Column, print_table

    if not found.stops:
        write("nothing on hand to stop")
        return
    units = f", {counted(found.units, 'unit')} among them" if found.units else ""
    where = counted(len(found.places), "place")
    write(f"to stop, at {where}: {show_quantity(found.pieces)} pcs{units}")
    if found.to_count:
        write(to_count_text(found))
    write("")
    columns = (
        Column(""),
        Column("place", wraps=True),
        Column("in"),
        Column("code", wraps=True),
        Column("kind"),
        Column("part"),
        Column("quantity", right=True),
        Column("held"),
    )
    print_table(
        columns,
        [
            ("[ ]", places.titled(line.place), line.within, line.codes, line.kind, line.part,
             line.quantity, line.held)
            for line in stop_lines(found)
        ],
    )  # fmt: skip
    if found.feeders:
        write("")
        write(feeding_text(found))
        print_table(
            (
                Column("kind"),
                Column("code"),
                Column("part"),
                Column("on hand", right=True),
                Column("where", wraps=True),
                Column("came through it", right=True),
            ),
            [
                (
                    each.kind,
                    each.code,
                    each.part,
                    show_quantity(each.own, each.unit),
                    places.where(each.at, each.unit),
                    show_quantity(each.descending, "pcs") if each.descending else "",
                )
                for each in found.feeders
            ],
        )


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "hold-first",
        hold_first_command,
        section=ASK,
        examples=("lotkin hold-first POWDER-001",),
    )
