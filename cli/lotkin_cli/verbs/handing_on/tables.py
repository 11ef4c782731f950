"""`import`: items and links from the two plain tables that a shop keeps."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_answers.words import counted
from lotkin_cli.opening import open_db, places_in, plan_in_force
from lotkin_cli.options.common import By, Db, Json, check_file
from lotkin_cli.output.streams import clean, write
from lotkin_cli.verbs.adding import RECORD, add_verb

if TYPE_CHECKING:
    from lotkin.uses.exchange.import_tables import ImportReport
    from lotkin_cli.opening import Opened

__all__ = ["add_to"]

LONGEST_PREFIX = 40
"""Characters that can stand before codes; those have at most 80."""

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
    epcis: Annotated[
        Path | None,
        typer.Option(
            "--epcis", metavar="FILE", callback=check_file, help="An EPCIS 2.0 document (JSON)."
        ),
    ] = None,
    supplier: Annotated[
        str | None,
        typer.Option("--from", metavar="SUPPLIER", help="Whose document it is, by our code."),
    ] = None,
    prefix: Annotated[
        str | None,
        typer.Option(
            "--prefix", metavar="TEXT", help="Put before every code of another lotkin works."
        ),
    ] = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Check everything; record nothing.")
    ] = False,
    by: By = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Take over items and links from tables, a spreadsheet or an EPCIS document.

    All of them or none. Bad rows are listed with line, column and reason. The same files are
    imported once, however often they are sent. `quantity` of an item is what was made or received.
    A spreadsheet needs a mapping of its columns: let one be proposed, correct it, try --dry-run.
    An EPCIS document holds events by the standard, a supplier's or of another lotkin works; what
    was corrected since it was imported is corrected here too.
    """
    _check(epcis, (supplier, prefix), xlsx, (mapping, propose), (items, links))
    if epcis is not None:
        who = (by, supplier or "", prefix or "")
        _import_epcis(epcis, who, dry_run=dry_run, json=json, db=db)
        return
    if xlsx is not None:
        if propose is not None:
            _propose(xlsx, propose, json=json)
        else:
            assert mapping is not None
            _import_workbook(xlsx, mapping, by, dry_run=dry_run, json=json, db=db)
        return
    from lotkin.core.values.instants import from_us
    from lotkin.uses.exchange.import_tables import import_tables
    from lotkin.wiring import now_us

    store = open_db(db)
    done = import_tables(
        store, items, links, by=by, at=from_us(now_us()), dry_run=dry_run, clock=now_us
    )
    if json:
        from lotkin_cli.text.form.json_document import write_document

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
    if done.events and done.links >= WORTH_COPYING:
        _copy_graph(store)


def _copy_graph(store: Opened) -> None:
    """Copy the graph for large questions; what was imported is on record either way."""
    from lotkin.core.errors import Unavailable
    from lotkin.uses.evidence.graph_snapshot import copy_graph

    try:
        copy_graph(store, only_if_due=True)
    except Unavailable as error:
        why = clean(error.message)
        write(f"note: imported; the copy of the graph was not made ({why})", sys.stderr)
        write("hint: make it with `lotkin snapshot`; answers are the same without it", sys.stderr)


Files = tuple[Path | None, Path | None]


def _check(
    epcis: Path | None,
    who: tuple[str | None, str | None],
    xlsx: Path | None,
    mapping: Files,
    tables: Files,
) -> None:
    """Check that options which belong together came together."""
    if epcis is not None and any((xlsx, *mapping, *tables)):
        raise typer.BadParameter("a document is imported alone")
    if epcis is None and any(who):
        raise typer.BadParameter("--from and --prefix are for a document, --epcis")
    if xlsx is not None and (any(tables) or all(mapping) or not any(mapping)):
        raise typer.BadParameter("a spreadsheet takes either --mapping or --propose, alone")
    if xlsx is None and any(mapping):
        raise typer.BadParameter("--mapping and --propose are for a spreadsheet, --xlsx")
    if epcis is None and xlsx is None and not any(tables):
        raise typer.BadParameter("name a table with --items, --links or both")


def _propose(xlsx: Path, to: Path, *, json: bool) -> None:
    from datetime import UTC

    from lotkin.core.plain_tables.workbook_mapping import propose
    from lotkin.uses.exchange.files import writing_text
    from lotkin.wiring.workbooks import read_workbook

    sheets = read_workbook(xlsx, UTC, 20)
    with writing_text(to) as file:
        file.write(propose(sheets))
    if json:
        from lotkin_cli.text.form.json_document import write_document

        write_document({"mapping": str(to), "sheets": list(sheets)})
    else:
        write(f"proposed a mapping in {clean(str(to))}: look at every line, then --dry-run")


def _import_workbook(
    xlsx: Path, mapping: Path, by: str, *, dry_run: bool, json: bool, db: str | None
) -> None:
    from datetime import UTC

    from lotkin.core.errors import BadFile
    from lotkin.core.plain_tables.workbook_mapping import read_mapping
    from lotkin.core.values.instants import from_us
    from lotkin.uses.exchange.import_workbook import import_workbook
    from lotkin.wiring import now_us
    from lotkin.wiring.workbooks import read_workbook

    try:
        text = mapping.read_text("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise BadFile(str(mapping), "it cannot be read as text in UTF-8") from error
    wanted = read_mapping(text, mapping.name)
    store = open_db(db)
    zone = places_in(store).zone or UTC
    sheets = read_workbook(xlsx, zone)
    who = (by, from_us(now_us()), now_us)
    done = import_workbook(store, sheets, wanted, who, dry_run=dry_run)
    if json:
        from lotkin_cli.text.form.json_document import write_document

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


def _import_epcis(
    path: Path, who: tuple[str, str, str], *, dry_run: bool, json: bool, db: str | None
) -> None:
    from lotkin.uses.exchange.epcis.import_epcis import import_epcis
    from lotkin.uses.exchange.epcis.understanding import Who
    from lotkin.wiring import now_us

    store = open_db(db)
    plan = plan_in_force(store)
    _, supplier, prefix = who
    if supplier and plan is not None and plan.supplier(supplier) is None:
        raise typer.BadParameter(f"the plan has no supplier {clean(supplier)}")
    if len(prefix) > LONGEST_PREFIX or not all("!" <= each <= "~" for each in prefix):
        raise typer.BadParameter("a prefix has at most 40 plain characters without spaces")
    done = import_epcis(store, path, Who(*who), dry_run=dry_run, clock=now_us)
    if json:
        from dataclasses import asdict

        from lotkin_cli.text.form.json_document import write_document

        write_document({**asdict(done), "left_out": list(done.left_out), "dry_run": dry_run})
        return
    made = f"{counted(done.items, 'item')} and {counted(done.links, 'link')}"
    write(f"{counted(done.events, 'EPCIS event')}: {done.adopted} new, with {made}")
    if done.amended or done.voided:
        write(f"{done.amended} corrected, {done.voided} taken back")
    if done.repeated:
        write(f"{done.repeated} were imported before")
    for line in done.left_out:
        write(f"left out: {clean(line)}")
    if done.not_kept:
        fields = ", ".join(f"{clean(name)} {number}" for name, number in done.not_kept.items())
        write(f"not taken over, by field and number of events: {fields}")
    if dry_run:
        write("nothing was recorded")


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
            "lotkin import --epcis billets.json --from ANNING --dry-run",
        ),
    )
