"""`contain` and `account`: all that a suspicion takes in, and where its quantity went."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_answers.places import Places
from lotkin_cli.opening import open_db, places_in
from lotkin_cli.options.common import (
    All,
    AsOf,
    By,
    Code,
    Codes,
    Csv,
    Db,
    Form,
    Json,
    Quiet,
    form_of,
)
from lotkin_cli.options.question_options import (
    Families,
    From,
    Kinds,
    MinContent,
    To,
    exit_if_left_out,
    question_of,
)
from lotkin_cli.output.streams import write
from lotkin_cli.text.claims import claimed, claimed_data
from lotkin_cli.verbs.adding import ASK, add_verb

if TYPE_CHECKING:
    from lotkin.core.answers.containment import Containment
    from lotkin.uses.asking.where import Question
    from lotkin_answers.json_document import Data
    from lotkin_cli.opening import Opened, places_in

__all__ = ["add_to", "render"]


def contain_command(
    codes: Codes,
    *,
    family: Families = None,
    kind: Kinds = None,
    start: From = None,
    end: To = None,
    as_of: AsOf = None,
    min_content: MinContent = None,
    opens: Annotated[
        bool, typer.Option("--open", help="Open a case on it: all of it is held.")
    ] = False,
    reason: Annotated[str, typer.Option("--reason", help="Why the case is opened.")] = "",
    by: By = "",
    everything: All = False,
    json: Json = False,
    csv: Csv = False,
    quiet: Quiet = False,
    db: Db = None,
) -> None:
    """Find all that is suspect because of some items.

    How many units are affected and where they are now, the account of the quantity, what there is
    to stop at which place, and which customer has what. It only answers, and nothing is held,
    unless --open opens a case: then all of it is held, and what is made from it later too.
    """
    form = form_of(json=json, csv=csv, quiet=quiet)
    from lotkin.uses.asking.contain import contain

    store = open_db(db)
    places = places_in(store)
    question = question_of(
        family, kind, span=(start, end), zone=places.zone, as_of=as_of, min_content=min_content
    )
    case = ""
    if opens:
        case = _open(store, codes, reason, by, question)
    elif reason:
        raise typer.BadParameter("--reason goes with --open")
    found = contain(store, codes, question)
    if case and form is Form.TEXT:
        write(f"opened by {claimed(store, by)}")
    acted = claimed_data(store, by) if case else None
    render(found, question, places, form, everything=everything, case=case, acted=acted)
    exit_if_left_out(found.answer.outside)


def _open(store: Opened, codes: list[str], reason: str, by: str, question: Question) -> str:
    """Open a case; give its code."""
    if not reason:
        raise typer.BadParameter("--open needs --reason")
    if question.as_of is not None or question.kinds or question.families:
        raise typer.BadParameter(
            "a case holds all that is affected now: no --as-of, --kind, --family"
        )
    from lotkin.uses.cases.case_work import open_case
    from lotkin_cli.verbs.recording.case import person

    return open_case(store, codes, reason, person(by), question).case.code


def render(
    found: Containment,
    question: Question,
    places: Places,
    form: Form,
    *,
    everything: bool,
    case: str = "",
    acted: Data | None = None,
) -> None:
    """Print a containment in the form that is wanted."""
    if form is Form.JSON:
        from lotkin_answers.documents.answers import containment_document
        from lotkin_cli.text.form.json_document import write_document

        document = containment_document(found, places, case=case)
        write_document(document if acted is None else {**document, "recorded_by": acted})
    elif form is Form.CSV:
        from lotkin_answers.documents.answers import ACT_COLUMNS, act_rows
        from lotkin_cli.text.form.spreadsheet import write_rows

        write_rows(ACT_COLUMNS, act_rows(found, places))
    elif form is Form.CODES:
        for row in found.answer.items:
            write(row.code)
    else:
        from lotkin_cli.text.containment_text import print_containment

        if case:
            write(f"case {case} is open: all of this is held")
            write("")
        print_containment(found, question, places, everything=everything)


def account_command(
    code: Code,
    *,
    as_of: AsOf = None,
    json: Json = False,
    csv: Csv = False,
    db: Db = None,
) -> None:
    """Account for the whole quantity of an item.

    Where every piece of it is now, and whether any is missing. For a heat the account begins with
    its deliveries, for a run with what came out of it.
    """
    form = form_of(json=json, csv=csv)
    from lotkin.uses.asking.contain import account

    store = open_db(db)
    found = account(store, code, as_of)
    if form is Form.JSON:
        from lotkin_answers.documents.answers import account_document
        from lotkin_cli.text.form.json_document import write_document

        write_document(account_document(found))
    elif form is Form.CSV:
        from lotkin_answers.json_document import tidy
        from lotkin_cli.text.form.spreadsheet import write_rows

        write_rows(
            ("where", "quantity", "unit", "exact"),
            (
                (line.where, tidy(line.quantity), each.unit, line.exact)
                for each in found.accounts
                for line in each.lines
            ),
        )
    else:
        from lotkin_cli.text.account_text import print_accounts
        from lotkin_cli.text.answer_text import described

        write(described(found.answer.subjects[0]))
        write(f"as of event {found.answer.as_of}")
        print_accounts(found.accounts, places_in(store))


def add_to(app: typer.Typer) -> None:
    """Add both verbs."""
    add_verb(
        app,
        "contain",
        contain_command,
        section=ASK,
        examples=(
            "lotkin contain ANO-014",
            "lotkin contain ANO-014 --open --reason 'coating too thin'",
            "lotkin contain BATH-3 --from 2026-03-01T06:00:00Z --to 2026-03-01T14:00:00Z",
        ),
    )
    add_verb(app, "account", account_command, section=ASK, examples=("lotkin account HEAT-77120",))
