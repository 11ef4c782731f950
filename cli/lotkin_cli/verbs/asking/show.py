"""`show`: all that is known of one item."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_cli.opening import open_db, places_in
from lotkin_cli.options.common import All, Code, Db, Json
from lotkin_cli.verbs.adding import ASK, add_verb

if TYPE_CHECKING:
    import typer

__all__ = ["add_to"]


def show_command(code: Code, *, everything: All = False, json: Json = False, db: Db = None) -> None:
    """Show one item and where it is.

    What it is, what it was made from and what became of it. Its history lists the events that it
    had a part in, with their numbers and, with --json, ids. The code of a case shows the case.
    """
    from lotkin.core.errors import NotAnItem
    from lotkin.uses.asking.show import show

    store = open_db(db)
    try:
        shown = show(store, code)
    except NotAnItem as other:
        if other.what != "case":
            raise
        from lotkin_cli.verbs.recording.case import show_command as show_case_command

        show_case_command(other.record, everything=everything, json=json, db=db)
        return
    if json:
        from lotkin_answers.documents.items import item_document
        from lotkin_cli.text.form.json_document import write_document

        write_document(item_document(shown))
    else:
        from lotkin_cli.text.item_text import print_item

        print_item(shown, places_in(store), everything=everything)


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(app, "show", show_command, section=ASK, examples=("lotkin show SN-000123",))
