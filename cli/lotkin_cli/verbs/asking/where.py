"""`where-from` and `where-used`: what is behind an item, and what it went into."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_cli.opening import open_db, places_in
from lotkin_cli.options.common import All, AsOf, Code, Csv, Db, Form, Json, Quiet, form_of
from lotkin_cli.options.question_options import Families, From, Kinds, MinContent, To, question_of
from lotkin_cli.output.streams import write
from lotkin_cli.verbs.adding import ASK, add_verb

if TYPE_CHECKING:
    from datetime import tzinfo

    import typer

    from lotkin.core.answers.containment import Answer
    from lotkin.uses.asking.where import Question

__all__ = ["add_to"]


def where_from_command(
    code: Code,
    *,
    family: Families = None,
    kind: Kinds = None,
    as_of: AsOf = None,
    min_content: MinContent = None,
    everything: All = False,
    json: Json = False,
    csv: Csv = False,
    quiet: Quiet = False,
    db: Db = None,
) -> None:
    """Find everything that is behind an item.

    Material that it is made of, runs that it went through, machines, tools and baths that it was
    exposed to: each with how sure it is that one piece of the item has it.
    """
    form = form_of(json=json, csv=csv, quiet=quiet)
    question = question_of(family, kind, as_of=as_of, min_content=min_content)
    from lotkin.uses.asking.where import where_from

    answer = where_from(open_db(db), code, question)
    _render(answer, question, form, None, everything=everything)


def where_used_command(
    code: Code,
    *,
    family: Families = None,
    kind: Kinds = None,
    start: From = None,
    end: To = None,
    as_of: AsOf = None,
    min_content: MinContent = None,
    everything: All = False,
    json: Json = False,
    csv: Csv = False,
    quiet: Quiet = False,
    db: Db = None,
) -> None:
    """Find everything that an item went into.

    Also what was exposed to it, if it is a run or a machine, tool or bath. Each item found comes
    with how sure that is, and with where its pieces are now.
    """
    form = form_of(json=json, csv=csv, quiet=quiet)
    from lotkin.uses.asking.where import where_used

    store = open_db(db)
    zone = places_in(store).zone if start or end else None
    question = question_of(
        family, kind, span=(start, end), zone=zone, as_of=as_of, min_content=min_content
    )
    answer = where_used(store, code, question)
    _render(answer, question, form, zone, everything=everything)


def _render(
    answer: Answer, question: Question, form: Form, zone: tzinfo | None, *, everything: bool
) -> None:
    if form is Form.JSON:
        from lotkin_answers.documents.answers import answer_document
        from lotkin_cli.text.form.json_document import write_document

        write_document(answer_document(answer))
    elif form is Form.CSV:
        from lotkin_answers.documents.answers import ITEM_COLUMNS, item_rows
        from lotkin_cli.text.form.spreadsheet import write_rows

        write_rows(ITEM_COLUMNS, item_rows(answer.items))
    elif form is Form.CODES:
        for row in answer.items:
            write(row.code)
    else:
        from lotkin_cli.text.answer_text import print_answer

        print_answer(answer, question, zone, everything=everything)


def add_to(app: typer.Typer) -> None:
    """Add both verbs."""
    add_verb(
        app,
        "where-from",
        where_from_command,
        section=ASK,
        examples=("lotkin where-from SN-000123 --family material",),
    )
    add_verb(
        app,
        "where-used",
        where_used_command,
        section=ASK,
        examples=("lotkin where-used ANO-014 --kind unit --csv",),
    )
