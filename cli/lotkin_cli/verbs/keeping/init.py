"""`init`: a new store."""

from __future__ import annotations

from typing import Annotated

import typer

from lotkin_cli.options.common import Db, Json
from lotkin_cli.output.streams import write
from lotkin_cli.verbs.adding import BEGIN, add_verb

__all__ = ["add_to"]


def init_command(
    *,
    upgrade: Annotated[
        bool,
        typer.Option("--upgrade", help="Bring the tables of an older store up to date instead."),
    ] = False,
    json: Json = False,
    db: Db = None,
) -> None:
    """Make a new, empty store.

    A store is one file. Nothing that is there already is touched.
    """
    from lotkin.wiring import create_store, db_url, upgrade_store
    from lotkin_cli.text.form.json_document import write_document

    url = db_url(db)
    if upgrade:
        upgrade_store(url)
    else:
        create_store(url)
    if json:
        write_document({"store": url, "made": not upgrade})
    else:
        write(f"{url} is up to date" if upgrade else f"made an empty store: {url}")


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(app, "init", init_command, section=BEGIN, examples=("lotkin init",))
