"""`import`: items and links from the two plain tables that a shop keeps."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin.shown.words import counted
from lotkin_cli.opening import open_db, plan_in_force
from lotkin_cli.options import By, Db, Json, check_file
from lotkin_cli.streams import clean, write
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
    xlsx: Annotated[
        Path | None,
        typer.Option(
            "--xlsx", metavar="FILE", callback=check_file, help="A shop's own spreadsheet."
        ),
    ] = None,
    mapping: Annotated[
        Path | None,
        typer.Option(
            "--mapping", metavar="FILE", callback=check_file, help="What its columns say (TOML)."
        ),
    ] = None,
    propose: Annotated[
        Path | None,
        typer.Option(
            "--propose", metavar="FILE", callback=check_file, help="Write a proposal of a mapping."
        ),
    ] = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Check the tables; record nothing.")
    ] = False,
    by: By = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Take over items and links from two plain tables, or from a spreadsheet.

    All of them or none. Bad rows are listed with line, column and reason. The same files are
    imported once, however often they are sent. `quantity` of an item is what was made or received.
    A spreadsheet needs a mapping of its columns: let one be proposed, correct it, try --dry-run.
    """
    if xlsx is not None:
        if items is not None or links is not None or (mapping is None) == (propose is None):
            raise typer.BadParameter("a spreadsheet takes either --mapping or --propose, alone")
        if propose is not None:
            _propose(xlsx, propose, json=json)
        else:
            assert mapping is not None
            _import_workbook(xlsx, mapping, by, dry_run=dry_run, json=json, db=db)
        return
    if mapping is not None or propose is not None:
        raise typer.BadParameter("--mapping and --propose are for a spreadsheet, --xlsx")
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


def _propose(xlsx: Path, to: Path, *, json: bool) -> None:
    from datetime import UTC

    from lotkin.core.workbook_mapping import propose
    from lotkin.uses.files import writing_text
    from lotkin.wiring.workbooks import read_workbook

    sheets = read_workbook(xlsx, UTC, 20)
    with writing_text(to) as file:
        file.write(propose(sheets))
    if json:
        from lotkin_cli.shown.json_document import write_document

        write_document({"mapping": str(to), "sheets": list(sheets)})
    else:
        write(f"proposed a mapping in {clean(str(to))}: look at every line, then --dry-run")


def _import_workbook(
    xlsx: Path, mapping: Path, by: str, *, dry_run: bool, json: bool, db: str | None
) -> None:
    from datetime import UTC

    from lotkin.core.errors import BadFile
    from lotkin.core.instants import from_us
    from lotkin.core.workbook_mapping import read_mapping
    from lotkin.shown.places import Places
    from lotkin.uses.import_workbook import import_workbook
    from lotkin.wiring import now_us
    from lotkin.wiring.workbooks import read_workbook

    try:
        text = mapping.read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise BadFile(str(mapping), "it cannot be read as text in UTF-8") from error
    wanted = read_mapping(text, mapping.name)
    store = open_db(db)
    zone = Places(plan_in_force(store)).zone or UTC
    sheets = read_workbook(xlsx, zone)
    who = (by, from_us(now_us()), now_us)
    done = import_workbook(store, sheets, wanted, who, dry_run=dry_run)
    if json:
        from lotkin_cli.shown.json_document import write_document

        write_document(
            {
                "items": done.tables.items,
                "links": done.tables.links,
                "kinds": dict(done.kinds),
                "events": list(done.tables.events),
                "repeated": done.tables.repeated,
                "dry_run": dry_run,
            }
        )
        return
    write(_told(done.tables, dry_run=dry_run))
    for kind, count in done.kinds.items():
        write(f"  {count} {kind}")


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
        examples=(
            "lotkin import --items items.csv --links links.csv --dry-run",
            "lotkin import --xlsx lots.xlsx --propose lots.toml",
        ),
    )
