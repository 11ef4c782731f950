"""`next-question`: what to find out next, so that as little as possible stays suspect."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_cli.opening import open_db, places_in
from lotkin_cli.options.common import All, Codes, Csv, Db, Form, Json, form_of
from lotkin_cli.options.question_options import From, To, exit_if_left_out, question_of
from lotkin_cli.output.streams import write
from lotkin_cli.verbs.adding import ASK, add_verb

if TYPE_CHECKING:
    from collections.abc import Sequence

    import typer

    from lotkin.uses.asking.next_question import OpenQuestion

__all__ = ["add_to"]


SHOWN = 10
"""Questions that are printed unless all are wanted."""

ASSUMED = "* shares are not recorded; all candidates are taken as equally likely"


def next_question_command(
    codes: Codes,
    *,
    start: From = None,
    end: To = None,
    everything: All = False,
    json: Json = False,
    csv: Csv = False,
    db: Db = None,
) -> None:
    """Tell what to find out next to narrow a suspicion.

    Where lots were mixed or it is not known which lot it was, part of what is suspect is sound.
    Each question comes with how many pieces are suspect for no other reason, and how many of them
    the answer is expected to free. Without such a question nothing can be narrowed so.
    """
    form = form_of(json=json, csv=csv)
    store = open_db(db)
    zone = places_in(store).zone if start or end else None
    question = question_of(None, None, span=(start, end), zone=zone)
    from lotkin.uses.asking.next_question import next_question

    found = next_question(store, codes, question)
    if form is Form.JSON:
        from lotkin_answers.documents.investigation.questions import questions_document
        from lotkin_cli.text.form.json_document import write_document

        write_document(questions_document(codes, found))
    elif form is Form.CSV:
        from lotkin_answers.documents.investigation.questions import QUESTION_COLUMNS, question_rows
        from lotkin_cli.text.form.spreadsheet import write_rows

        write_rows(QUESTION_COLUMNS, question_rows(found))
    else:
        from lotkin_cli.text.answer_text import print_outside

        print_outside(found.outside, question, zone)
        _print(found.questions, everything=everything)
    exit_if_left_out(found.outside)


def _print(found: Sequence[OpenQuestion], *, everything: bool) -> None:
    from lotkin_answers.documents.investigation.questions import pieces_of
    from lotkin_answers.words import counted, percent
    from lotkin_cli.text.form.table import Column, print_table

    if not found:
        write("no question: nothing here is suspect only because lots were mixed or not known")
        return
    write(f"{counted(len(found), 'question')}, the one that is expected to free most first")
    shown = found if everything else found[:SHOWN]
    rows = []
    for each in shown:
        hanging, expected = pieces_of(each)
        mark = "*" if each.asked.is_assumed else ""
        candidates = (f"{c} (suspect)" if c in each.suspects else c for c in each.candidates)
        rows.append(
            (
                each.text,
                ", ".join(candidates),
                f"{hanging:g}",
                f"{percent(each.asked.chance_free)}{mark}",
                f"{expected:.1f}",
            )
        )
    write("")
    print_table(
        (
            Column("question", wraps=True),
            Column("candidates", wraps=True),
            Column("pieces", right=True),
            Column("not suspect", right=True),
            Column("frees about", right=True),
        ),
        rows,
        more=len(found) - len(shown),
        how_to_see_all="--all, --csv or --json",
    )
    if any(each.asked.is_assumed for each in shown):
        write("")
        write(ASSUMED)


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "next-question",
        next_question_command,
        section=ASK,
        examples=("lotkin next-question BILLET-006",),
    )
