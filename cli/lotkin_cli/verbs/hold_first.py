"""`hold-first`: where to go first to hold what is suspect."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_cli.narrowing import From, To, question_of
from lotkin_cli.opening import open_db
from lotkin_cli.options import All, AsOf, Codes, Csv, Db, Form, Json, Quiet, form_of
from lotkin_cli.streams import write
from lotkin_cli.verbs.adding import ASK, add_verb

if TYPE_CHECKING:
    from collections.abc import Sequence

    import typer

    from lotkin.core.holding_points import HoldingPoint

__all__ = ["add_to"]


SHOWN = 10
"""Points that are printed unless all are wanted: a walk that one person can make."""


def hold_first_command(
    codes: Codes,
    *,
    start: From = None,
    end: To = None,
    as_of: AsOf = None,
    everything: All = False,
    json: Json = False,
    csv: Csv = False,
    quiet: Quiet = False,
    db: Db = None,
) -> None:
    """Tell where to hold first, of all that is suspect.

    The fewest lots, units and cartons on hand that all suspect pieces on hand hang on, those with
    the most pieces first. A piece hangs on a lot alone if every way from what is asked about leads
    through that lot. It only answers; nothing is held.
    """
    form = form_of(json=json, csv=csv, quiet=quiet)
    question = question_of(None, None, span=(start, end), as_of=as_of)
    from lotkin.uses.hold_first import hold_first

    points = hold_first(open_db(db), codes, question)
    if form is Form.JSON:
        from lotkin.shown.holding_data import hold_first_document
        from lotkin_cli.shown.json_document import write_document

        write_document(hold_first_document(codes, points))
    elif form is Form.CSV:
        from lotkin.shown.holding_data import POINT_COLUMNS, point_rows
        from lotkin_cli.shown.spreadsheet import write_rows

        write_rows(POINT_COLUMNS, point_rows(points))
    elif form is Form.CODES:
        for point in points:
            write(point.code)
    else:
        _print(points, everything=everything)


def _print(points: Sequence[HoldingPoint], *, everything: bool) -> None:
    from lotkin.core.quantities import show_quantity
    from lotkin.shown.words import counted
    from lotkin_cli.shown.table import Column, print_table

    if not points:
        write("nothing on hand to hold")
        return
    pieces = sum(point.pieces for point in points)
    where = counted(len(points), "point")
    write(f"all that is on hand is held at {where}: {show_quantity(pieces)} pcs")
    shown = points if everything else points[:SHOWN]
    reached = 0
    rows = []
    for number, point in enumerate(shown, start=1):
        reached += point.pieces
        rows.append(
            (
                str(number),
                point.kind,
                point.code,
                point.part,
                show_quantity(point.own, point.unit),
                str(point.units) if point.units else "",
                show_quantity(point.pieces),
                f"{show_quantity(reached)} of {show_quantity(pieces)}",
                ", ".join(dict.fromkeys(here.place for here in point.at)),
            )
        )
    write("")
    print_table(
        (
            Column("", right=True),
            Column("kind"),
            Column("code"),
            Column("part"),
            Column("on hand", right=True),
            Column("units", right=True),
            Column("pieces it stops", right=True),
            Column("so far", right=True),
            Column("where", wraps=True),
        ),
        rows,
        more=len(points) - len(shown),
        how_to_see_all="--all, --csv or --json",
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
