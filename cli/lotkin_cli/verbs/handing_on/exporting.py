"""`export`: items and links for other programs."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_answers.words import counted
from lotkin_cli.opening import open_db, places_in
from lotkin_cli.options.common import Db, Json, check_file
from lotkin_cli.output.streams import write
from lotkin_cli.verbs.adding import KEEP, add_verb

if TYPE_CHECKING:
    from lotkin_answers.json_document import Data
    from lotkin_cli.opening import Opened, ReadingAll, places_in

__all__ = ["add_to"]


class Format(StrEnum):
    """What the export is written as."""

    TABLES = "tables"
    PARQUET = "parquet"
    PROV = "prov"
    GRAPHML = "graphml"
    EPCIS = "epcis"


def _file(name: str, say: str) -> typer.models.OptionInfo:
    option: typer.models.OptionInfo = typer.Option(
        name, metavar="FILE", callback=check_file, help=say
    )
    return option


def export_command(
    *,
    items: Annotated[Path | None, _file("--items", "Where the table of items goes.")] = None,
    links: Annotated[Path | None, _file("--links", "Where the table of links goes.")] = None,
    form: Annotated[Format, typer.Option("--format", help="What it is written as.")] = (
        Format.TABLES
    ),
    to: Annotated[
        Path | None, _file("--to", "Where it goes; a folder for parquet. Not for tables.")
    ] = None,
    of: Annotated[
        list[str] | None,
        typer.Option(
            "--of",
            metavar="CODE",
            help="Only this, all behind it, all made of it (epcis, prov, graphml).",
        ),
    ] = None,
    case: Annotated[
        str | None,
        typer.Option("--case", metavar="CASE", help="Only what a case is about (epcis)."),
    ] = None,
    since: Annotated[
        str | None,
        typer.Option("--since", metavar="TIME", help="Only what happened from then on (epcis)."),
    ] = None,
    until: Annotated[
        str | None,
        typer.Option("--until", metavar="TIME", help="Only what happened before then (epcis)."),
    ] = None,
    json: Json = False,
    db: Db = None,
) -> None:
    """Write items and links for other programs.

    `tables` are two plain tables that can be imported again, with codes exactly as they are:
    import the columns into a spreadsheet as text. `epcis` is every event by the standard EPCIS 2.0
    (ISO/IEC 19987), which others can read and lotkin can import. `prov` is W3C PROV in JSON,
    `graphml` is for graph tools, `parquet` for questions over very many works.
    """
    _check(form, items, links, to, of)
    if form is not Format.EPCIS and (case or since or until):
        raise typer.BadParameter("--case, --since and --until are for epcis only")
    store = open_db(db)
    if form is Format.EPCIS:
        assert to is not None
        said, lines = _export_epcis(store, to, of or [], case, (since, until))
    else:
        with store.reading() as view:
            said, lines = _export(view, form, (items, links, to), of or [])
    if json:
        from lotkin_cli.text.form.json_document import write_document

        write_document(said)
    else:
        for line in lines:
            write(line)


def _check(
    form: Format,
    items: Path | None,
    links: Path | None,
    to: Path | None,
    of: list[str] | None,
) -> None:
    if form is Format.TABLES:
        if items is None or links is None:
            raise typer.BadParameter("the two tables need --items and --links")
        if to is not None or of:
            raise typer.BadParameter("--to and --of are not for tables")
        return
    if items is not None or links is not None:
        raise typer.BadParameter("--items and --links are for tables only")
    if to is None:
        raise typer.BadParameter("say with --to where it goes")
    if of and form is Format.PARQUET:
        raise typer.BadParameter("--of is not for parquet")


def _export(
    view: ReadingAll,
    form: Format,
    files: tuple[Path | None, Path | None, Path | None],
    of: list[str],
) -> tuple[Data, list[str]]:
    items, links, to = files
    if form is Format.TABLES:
        assert items is not None
        assert links is not None
        return _tables(view, items, links)
    assert to is not None
    if form is Format.PARQUET:
        from lotkin.uses.exchange.export_parquet import export_parquet

        done = export_parquet(view, to)
        said: Data = {"items": done.items, "links": done.links, "postings": done.postings}
        counts = (counted(done.items, "item"), counted(done.links, "link"))
        return said, [f"wrote {', '.join(counts)} and {counted(done.postings, 'posting')}"]
    from lotkin.uses.exchange.export_graphml import export_graphml
    from lotkin.uses.exchange.export_prov import export_prov
    from lotkin.uses.exchange.export_scope import Selected

    exported = export_prov if form is Format.PROV else export_graphml
    nodes, edges = exported(Selected(view, of), to)
    return (
        {"items": nodes, "links": edges},
        [f"wrote {counted(nodes, 'item')} and {counted(edges, 'link')}"],
    )


def _export_epcis(
    store: Opened, to: Path, of: list[str], case: str | None, span: tuple[str | None, str | None]
) -> tuple[Data, list[str]]:
    from datetime import UTC

    from lotkin.uses.exchange.epcis.export_epcis import Scope, export_epcis
    from lotkin.wiring import now_us

    start, end = (_moment(text) for text in span)
    if start is not None and end is not None and end <= start:
        raise typer.BadParameter("--until is not after --since")
    zone = places_in(store).zone or UTC
    scope = Scope(tuple(of), case or "", start, end)
    with store.reading() as view:
        done = export_epcis(view, scope, to, zone=zone, now=now_us())
    lines = [f"wrote {counted(done.events, 'EPCIS event')}"]
    if done.in_error:
        lines.append(f"{done.in_error} of them declared to be in error, because corrected since")
    return {"events": done.events, "in_error": done.in_error}, lines


def _moment(text: str | None) -> int | None:
    from lotkin.core.values.instants import parse_instant, to_us

    if text is None:
        return None
    try:
        return to_us(parse_instant(text))
    except ValueError as error:
        raise typer.BadParameter(
            f"{text!r} is no time; write it like 2026-03-01T07:30:00Z"
        ) from error


def _tables(view: ReadingAll, items: Path, links: Path) -> tuple[Data, list[str]]:
    from lotkin.uses.exchange.export_tables import export_tables

    done = export_tables(view, items, links)
    lines = [f"wrote {counted(done.items, 'item')} and {counted(done.links, 'link')}"]
    if done.quantities_left_out:
        links_without = counted(done.quantities_left_out, "link")
        lines.append(f"{links_without} without the quantity, which the tables cannot tell")
    return {
        "items": done.items,
        "links": done.links,
        "quantities_left_out": done.quantities_left_out,
    }, lines


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "export",
        export_command,
        section=KEEP,
        examples=(
            "lotkin export --items items.csv --links links.csv",
            "lotkin export --format epcis --case CASE-001 --to case.json",
            "lotkin export --format prov --of DP40-0404 --to unit.json",
        ),
    )
