"""`transfer`: the whole store into another one, of whatever kind."""

from __future__ import annotations

from typing import Annotated

import typer

from lotkin_answers.words import counted
from lotkin_cli.options.common import Db, Json, check_path
from lotkin_cli.output.streams import clean, write
from lotkin_cli.verbs.adding import KEEP, add_verb

__all__ = ["add_to"]

NOT_WHOLE = 1


def transfer_command(
    *,
    to: Annotated[
        str,
        typer.Argument(
            metavar="STORE", callback=check_path, help="A new file, or an empty database's URL."
        ),
    ],
    json: Json = False,
    db: Db = None,
) -> None:
    """Copy the whole store into a new one: a file, or a PostgreSQL database.

    The journal is verified before and after, and both are compared row by row. The old store stays
    as it is; let nobody record in it meanwhile. Passwords go into ~/.pgpass, not into the URL. Exit
    status 1 if a document that an event names was missing already.
    """
    from lotkin.uses.evidence.transfer import transfer
    from lotkin.wiring import db_url
    from lotkin.wiring.transfers import Transfers

    done = transfer(Transfers(db_url(db), to))
    if json:
        from lotkin_answers.documents.keeping import lost_data
        from lotkin_cli.text.form.json_document import write_document

        write_document(
            {
                "rows": done.rows,
                "events": done.events,
                "head": done.head,
                "documents": done.documents,
                "lost_documents": [lost_data(one) for one in done.lost],
            }
        )
    else:
        write(
            f"copied {counted(done.events, 'event')} and {counted(done.documents, 'document')}, "
            f"the same in both stores; last hash {done.head}"
        )
        for one in done.lost:
            named = f"named by event {one.document.event}"
            write(f"not copied: {clean(one.document.title)}, {named}, {one.why}")
    if done.lost:
        raise typer.Exit(NOT_WHOLE)


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "transfer",
        transfer_command,
        section=KEEP,
        examples=("lotkin transfer postgresql://lotkin@db.works/lotkin",),
    )
