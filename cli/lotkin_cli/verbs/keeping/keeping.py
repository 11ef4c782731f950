"""`verify`, `rebuild`, `snapshot`: is the record as it was made; deriving and copying it anew."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_answers.words import counted
from lotkin_cli.opening import open_db
from lotkin_cli.options.common import Db, Json, check_file
from lotkin_cli.output.progress import Progress
from lotkin_cli.output.streams import clean, write
from lotkin_cli.verbs.adding import KEEP, add_verb

if TYPE_CHECKING:
    from lotkin.uses.evidence.rebuild import Rebuilt
    from lotkin.uses.evidence.verify_report import AgainstReport

__all__ = ["add_to"]

BAD_FINDING = 1


def verify_command(
    *,
    against: Annotated[
        Path | None,
        typer.Option(
            "--against",
            metavar="REPORT",
            callback=check_file,
            help="A report (PDF, XLSX) or text: is its journal the beginning of today's?",
        ),
    ] = None,
    key: Annotated[
        str,
        typer.Option(
            "--key",
            metavar="KEY",
            callback=_check_key,
            help="Ask for a seal by this key; trust no other.",
        ),
    ] = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Check that journal, seals and documents are as they were recorded.

    No event changed, removed or moved: every row carries the hash of the row before it. Seals are
    signed, and every document that an event names has the content that was kept. Derived tables are
    not compared: `lotkin rebuild --check` does. Exit status 1 if there is damage, if a document is
    missing or altered, if nothing is sealed by the key named, or if a report was made from another
    journal. Who may write the store can write all of it anew: only a seal by a key kept elsewhere,
    a report, or a hash noted elsewhere tells.
    """
    from lotkin.uses.evidence.verify import verify
    from lotkin.wiring import db_url, open_documents

    store, documents = open_db(db), open_documents(db_url(db))
    found = verify(store, key, documents)
    compared = None
    if against is not None:
        from lotkin.uses.evidence.verify_report import verify_report

        compared = verify_report(store, against, documents)
    if json:
        from lotkin_answers.documents.keeping import verified_document
        from lotkin_cli.text.form.json_document import write_document

        write_document(verified_document(found, compared))
    else:
        from lotkin_cli.text.keeping.verified_text import print_verified

        print_verified(found)
        if compared is not None:
            write(_told_against(compared, found.events))
    if not found.is_sound or (compared is not None and not compared.holds):
        raise typer.Exit(BAD_FINDING)


def _check_key(value: str) -> str:
    if value and re.fullmatch("[0-9a-f]{64}", value) is None:
        raise typer.BadParameter("a public key has 64 hexadecimal digits, as `seal-key` prints it")
    return value


def _told_against(compared: AgainstReport, events: int) -> str:
    if not compared.holds:
        return "against the report: no event has a hash that it names; it is of another journal"
    return (
        f"against the report: made from the first {compared.event} of these {events} events, "
        "none of them changed since"
    )


def rebuild_command(
    *,
    check: Annotated[
        bool, typer.Option("--check", help="Only compare; leave everything as it is.")
    ] = False,
    json: Json = False,
    db: Db = None,
) -> None:
    """Derive items, links and stock from the journal anew.

    It tells whether they differed. Exit status 1 if what was there differed from what follows from
    the journal.
    """
    from lotkin.uses.evidence.rebuild import rebuild

    with Progress("events replayed") as progress:
        found = rebuild(open_db(db), check_only=check, progress=progress)
    if json:
        from lotkin_answers.documents.keeping import rebuilt_document
        from lotkin_cli.text.form.json_document import write_document

        write_document(rebuilt_document(found))
    else:
        _tell(found)
    if found.difference:
        raise typer.Exit(BAD_FINDING)


def _tell(found: Rebuilt) -> None:
    replayed = f"{counted(found.events, 'event')} replayed"
    if not found.difference:
        write(f"{replayed}: everything is as it follows from the journal")
        return
    write(f"{replayed}: {clean(found.difference)}")
    write("what follows from the journal holds now" if found.kept else "nothing was changed")


def snapshot_command(*, json: Json = False, db: Db = None) -> None:
    """Copy the graph into a file beside the store.

    From it large questions are answered at once. A service makes it by itself, and so does an
    import. The copy is never believed before it was
    compared with the journal; without it, or where it is damaged, everything is answered the same,
    only later.
    """
    from lotkin.uses.evidence.graph_snapshot import copy_graph

    seq = copy_graph(open_db(db))
    if json:
        from lotkin_cli.text.form.json_document import write_document

        write_document({"event": seq})
    else:
        write(f"copied the graph as of event {seq}")


def add_to(app: typer.Typer) -> None:
    """Add the verbs."""
    add_verb(
        app,
        "verify",
        verify_command,
        section=KEEP,
        examples=("lotkin verify", "lotkin verify --against report.pdf"),
    )
    add_verb(app, "rebuild", rebuild_command, section=KEEP, examples=("lotkin rebuild --check",))
    add_verb(app, "snapshot", snapshot_command, section=KEEP, examples=("lotkin snapshot",))
