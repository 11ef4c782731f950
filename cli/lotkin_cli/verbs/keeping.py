"""`verify`, `rebuild`, `snapshot`: is the record as it was made; deriving and copying it anew."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from lotkin.shown.words import counted
from lotkin_cli.opening import open_db
from lotkin_cli.options import Db, Json
from lotkin_cli.progress import Progress
from lotkin_cli.streams import clean, write
from lotkin_cli.verbs.adding import KEEP, add_verb

if TYPE_CHECKING:
    from lotkin.uses.rebuild import Rebuilt

__all__ = ["add_to"]

BAD_FINDING = 1


def verify_command(*, json: Json = False, db: Db = None) -> None:
    """Check that the journal is as it was recorded.

    No event changed, removed or moved: every row carries the hash of the row before it. Exit status
    1 if there is damage. Note the hash of the last row somewhere else, and you can tell later
    whether the end was cut off.
    """
    from lotkin.uses.verify import verify

    found = verify(open_db(db))
    if json:
        from lotkin.shown.keeping_data import verified_document
        from lotkin_cli.shown.json_document import write_document

        write_document(verified_document(found))
    elif found.is_sound:
        write(f"sound: {counted(found.events, 'event')}, last hash {found.head}")
    else:
        seq, why = found.damage[0]
        write(f"damaged: {counted(len(found.damage), 'row')} of {found.events}")
        write(f"first damaged row: {seq}, {clean(why)}")
        write("restore a backup; the rows before this one are sound")
    if not found.is_sound:
        raise typer.Exit(BAD_FINDING)


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
    from lotkin.uses.rebuild import rebuild

    with Progress("events replayed") as progress:
        found = rebuild(open_db(db), check_only=check, progress=progress)
    if json:
        from lotkin.shown.keeping_data import rebuilt_document
        from lotkin_cli.shown.json_document import write_document

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
    from lotkin.uses.copy_graph import copy_graph

    seq = copy_graph(open_db(db))
    if json:
        from lotkin_cli.shown.json_document import write_document

        write_document({"event": seq})
    else:
        write(f"copied the graph as of event {seq}")


def add_to(app: typer.Typer) -> None:
    """Add the verbs."""
    add_verb(app, "verify", verify_command, section=KEEP, examples=("lotkin verify",))
    add_verb(app, "rebuild", rebuild_command, section=KEEP, examples=("lotkin rebuild --check",))
    add_verb(app, "snapshot", snapshot_command, section=KEEP, examples=("lotkin snapshot",))
