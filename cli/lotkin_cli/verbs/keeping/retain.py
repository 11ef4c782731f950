"""`retain`: removing what need not be kept any longer."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from lotkin_cli.options.common import Db, Json, check_file
from lotkin_cli.output.streams import write
from lotkin_cli.verbs.adding import KEEP, add_verb

__all__ = ["add_to"]

NAMES = {
    "scans": "scans of stations",
    "notices": "notices to other programs",
    "sign_ins": "sign-ins",
    "documents": "documents that no event names",
}


def retain_command(
    *,
    rules: Annotated[
        Path | None,
        typer.Option("--rules", metavar="FILE", callback=check_file, help="How long (TOML)."),
    ] = None,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Only tell what would go.")] = False,
    json: Json = False,
    db: Db = None,
) -> None:
    """Remove what is old and no evidence.

    That is scans, notices, sign-ins, and documents that no event names. Events, items, links, and
    documents that an event names are the record and always stay. Without rules, scans go after
    2 years, notices after 1 year, sign-ins and documents after 90 days.
    """
    from lotkin.core.errors import BadFile
    from lotkin.core.journal.retention import Retention, read_retention
    from lotkin.uses.evidence.retain import retain
    from lotkin.wiring import db_url, now_us, open_documents, open_store

    wanted = Retention()
    if rules is not None:
        try:
            wanted = read_retention(rules.read_text("utf-8"), rules.name)
        except (OSError, UnicodeDecodeError) as error:
            raise BadFile(str(rules), "it cannot be read as text in UTF-8") from error
    url = db_url(db)
    gone = retain(open_store(url), open_documents(url), wanted, now_us, dry_run=dry_run)
    if json:
        from lotkin_cli.text.form.json_document import write_document

        write_document({"removed": dict(gone), "dry_run": dry_run})
        return
    for kind, count in gone.items():
        went = "would go" if dry_run else "gone"
        write(f"{NAMES[kind]}: {count} {went}, kept for {getattr(wanted, kind)}")


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "retain",
        retain_command,
        section=KEEP,
        examples=("lotkin retain --dry-run",),
    )
