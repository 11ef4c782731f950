"""`drill`: a timed trace exercise, and the record of those done before."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_cli.opening import open_db, places_in
from lotkin_cli.options.common import By, Csv, Db, Form, Json, check_code, form_of
from lotkin_cli.output.streams import clean, write
from lotkin_cli.verbs.adding import ASK, add_verb

if TYPE_CHECKING:
    from lotkin.uses.asking.drill import Drilled
    from lotkin_cli.opening import Opened, places_in

__all__ = ["add_to"]

BAD_FINDING = 1
SEEDS = 1_000_000

Subject = Annotated[
    str | None,
    typer.Argument(
        metavar="CODE",
        callback=lambda value: None if value is None else check_code(value),
        help="A unit or a lot; if left out, one is chosen by chance.",
        show_default=False,
    ),
]


def drill_command(
    code: Subject = None,
    *,
    seed: Annotated[
        int | None,
        typer.Option(
            "--seed",
            metavar="NUMBER",
            min=0,
            help="Choose by this number; the same one chooses the same again.",
        ),
    ] = None,
    listing: Annotated[
        bool, typer.Option("--list", help="Only list the drills on record, with their trend.")
    ] = False,
    by: By = "",
    json: Json = False,
    csv: Csv = False,
    db: Db = None,
) -> None:
    """Practise a trace: follow a unit or a lot both ways.

    It measures the time and tells whether every unit has all that its bill names and whether the
    whole quantity is accounted for. The drill is put on record. Exit status 1 if it finds gaps.
    """
    form = form_of(json=json, csv=csv)
    if listing and (code is not None or seed is not None):
        raise typer.BadParameter("--list only lists; leave out the code and --seed")
    if csv and not listing:
        raise typer.BadParameter("--csv goes with --list")
    store = open_db(db)
    if listing:
        from lotkin_cli.text.drill_list import write_drills

        write_drills(store, form)
        return
    chosen = code
    if chosen is None:
        from random import randrange

        from lotkin.uses.asking.drill import pick

        seed = randrange(SEEDS) if seed is None else seed
        chosen = pick(store, seed)
    done = _do(store, chosen, by)
    if form is Form.JSON:
        from lotkin_answers.documents.drills import drill_document
        from lotkin_cli.text.form.json_document import write_document

        write_document(drill_document(done, None if code is not None else seed))
    else:
        from lotkin_cli.text.drill_text import print_drill

        if code is None:
            write(clean(f"chosen by chance (--seed {seed}): {chosen}"))
        print_drill(done, places_in(store))
    if done.drill.gaps:
        raise typer.Exit(BAD_FINDING)


def _do(store: Opened, code: str, by: str) -> Drilled:
    from time import perf_counter

    from lotkin.uses.asking.drill import drill
    from lotkin.wiring import now_us

    return drill(store, code, by=by, clock=now_us, timer=perf_counter)


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "drill",
        drill_command,
        section=ASK,
        examples=("lotkin drill", "lotkin drill SN-000123", "lotkin drill --list"),
    )
