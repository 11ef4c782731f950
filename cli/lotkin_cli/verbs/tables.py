"""`import`: items and links from the two plain tables that a shop keeps."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin.shown.words import counted
from lotkin_cli.opening import open_db
from lotkin_cli.options import By, Db, Json, check_file
from lotkin_cli.streams import write
from lotkin_cli.verbs.adding import RECORD, add_verb

if TYPE_CHECKING:
    from lotkin.uses.import_tables import ImportReport

__all__ = ["add_to"]

WORTH_COPYING = 10_000
"""Links after which the copy of the graph may be too old."""


def import_command(
    *,
    items: Annotated[
        Path | None,
        typer.Option(
            "--items",
            metavar="FILE",
            callback=check_file,
            help="CSV with the columns code, kind, part, quantity, unit, made_at.",
        ),
    ] = None,
    links: Annotated[
        Path | None,
        typer.Option(
            "--links",
            metavar="FILE",
            callback=check_file,
            help="CSV with the columns parent, child, quantity, group, mixing, per.",
        ),
    ] = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Check the tables; record nothing.")
    ] = False,
    by: By = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Take over items and links from two plain tables.

    All of them or none. Bad rows are listed with line, column and reason. The same files are
    imported once, however often they are sent. `quantity` of an item is what was made or received.
    """
    if items is None and links is None:
        raise typer.BadParameter("name a table with --items, --links or both")
    from lotkin.core.instants import from_us
    from lotkin.uses.import_tables import import_tables
    from lotkin.wiring import now_us

    store = open_db(db)
    done = import_tables(
        store, items, links, by=by, at=from_us(now_us()), dry_run=dry_run, clock=now_us
    )
    if done.events and done.links >= WORTH_COPYING:
        from lotkin.uses.copy_graph import copy_graph

        copy_graph(store, only_if_due=True)
    if json:
        from lotkin_cli.shown.json_document import write_document

        write_document(
            {
                "items": done.items,
                "links": done.links,
                "events": list(done.events),
                "repeated": done.repeated,
                "dry_run": dry_run,
            }
        )
    else:
        write(_told(done, dry_run=dry_run))


def _told(done: ImportReport, *, dry_run: bool) -> str:
    what = f"{counted(done.items, 'item')} and {counted(done.links, 'link')}"
    if done.repeated:
        return f"{what} were imported before; nothing was added"
    if dry_run:
        return f"{what} can be imported; nothing was recorded"
    return f"imported {what} in {counted(len(done.events), 'event')}"


def add_to(app: typer.Typer) -> None:
    """Add `import`."""
    add_verb(
        app,
        "import",
        import_command,
        section=RECORD,
        examples=("lotkin import --items items.csv --links links.csv --dry-run",),
    )
