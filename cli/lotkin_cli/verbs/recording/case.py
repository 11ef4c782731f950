"""`case list`, `show`, `decide`, `close` and `compare`: working a containment down."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_cli.asking import Terminal, has_terminal
from lotkin_cli.opening import open_db, places_in
from lotkin_cli.options.common import All, By, Db, Json
from lotkin_cli.output.streams import write
from lotkin_cli.text.claims import claimed, claimed_data
from lotkin_cli.text.form.json_document import write_document
from lotkin_cli.verbs.adding import ASK, add_verb

if TYPE_CHECKING:
    from lotkin.uses.cases.case_work import Person

__all__ = ["add_to", "person"]

CaseCode = Annotated[str, typer.Argument(metavar="CASE", help="Code of the case.")]


def person(by: str) -> Person:
    """Give who acts, by the clock of this machine."""
    from lotkin.uses.cases.case_work import Person
    from lotkin.wiring import now_us

    return Person(by, now_us)


def list_command(*, json: Json = False, db: Db = None) -> None:
    """List all cases, the open ones first, with how much is left to decide."""
    from lotkin.uses.cases.case_work import list_cases
    from lotkin_answers.documents.cases import case_data
    from lotkin_cli.text.case_text import print_cases

    store = open_db(db)
    cases = list_cases(store)
    if json:
        write_document({"cases": [case_data(case, left) for case, left in cases]})
    else:
        print_cases(cases, places_in(store).zone)


def show_command(
    case: CaseCode, *, everything: All = False, json: Json = False, db: Db = None
) -> None:
    """Show a case: its account, what is decided, and what is left to decide."""
    from lotkin.uses.cases.case_work import show_case
    from lotkin_answers.documents.cases import case_document
    from lotkin_cli.text.case_text import print_case

    store = open_db(db)
    shown = show_case(store, case)
    if json:
        write_document(case_document(shown))
    else:
        print_case(shown, places_in(store), everything=everything)


def decide_command(
    case: CaseCode,
    codes: Annotated[
        list[str] | None, typer.Argument(metavar="[CODE]...", help="Members; else all that fit.")
    ] = None,
    *,
    decision: Annotated[
        str,
        typer.Option(
            "--decision",
            help="use-as-is, sort, rework, scrap, 'return to supplier', recall, "
            "'cleared by evidence' or 'not recoverable'.",
        ),
    ],
    reason: Annotated[str, typer.Option("--reason", help="Why.")],
    evidence: Annotated[str, typer.Option("--evidence", help="What proves it.")] = "",
    kind: Annotated[str, typer.Option("--kind", help="Only members of this kind.")] = "",
    place: Annotated[str, typer.Option("--place", help="Only members at this place.")] = "",
    customer: Annotated[
        str, typer.Option("--customer", help="Only members at this customer.")
    ] = "",
    quantity: Annotated[
        str, typer.Option("--quantity", help="Only so many of the member; the rest stays open.")
    ] = "",
    count: Annotated[
        int | None,
        typer.Option("--count", metavar="N", help="That they are so many; asked for above 50."),
    ] = None,
    by: By = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Decide on members of a case, by name and with a reason.

    Members named, or all undecided ones that fit --kind, --place and --customer. A place or a
    customer may be said by its code or its name. What is decided on more than 50 members at once
    is asked about; --count confirms it beforehand.
    """
    from lotkin.core.cases.membership import DECISIONS
    from lotkin.core.errors import CountNotConfirmed
    from lotkin.uses.cases.case_work import Selection, Verdict, decide

    if decision not in DECISIONS:
        raise typer.BadParameter(
            f"{decision!r} is no decision; choose from {', '.join(DECISIONS)}",
            param_hint="--decision",
        )
    if not codes and not (kind or place or customer):
        raise typer.BadParameter("name members, or say --kind, --place or --customer")
    if quantity and len(codes or ()) != 1:
        raise typer.BadParameter("--quantity is for one member")
    store = open_db(db)
    verdict = Verdict(decision, reason, evidence, quantity)
    selection = Selection(tuple(codes or ()), kind, place, customer, count)
    try:
        decided = decide(store, case, verdict, person(by), selection)
    except CountNotConfirmed as error:
        if count is not None or json or not has_terminal():
            raise
        typed = Terminal().ask(f"{error.message}. Type how many they are to decide so:")
        typed_count = int(typed) if typed.isdecimal() else -1
        decided = decide(store, case, verdict, person(by), replace(selection, count=typed_count))
    if json:
        write_document(
            {
                "case": case,
                "decision": decision,
                "decided": list(decided),
                "recorded_by": claimed_data(store, by),
            }
        )
    else:
        write(f"{decision}: {', '.join(decided)}")
        write(f"decided by {claimed(store, by)}")


def close_command(
    case: CaseCode,
    *,
    reason: Annotated[str, typer.Option("--reason", help="How it ended.")],
    by: By = "",
    json: Json = False,
    db: Db = None,
) -> None:
    """Close a case; it is refused while any piece is undecided."""
    from lotkin.core.account.words import account_title
    from lotkin.uses.cases.case_work import close_case
    from lotkin.wiring.settings import names_seal_key
    from lotkin_answers.documents.cases import case_document

    signer = None
    if names_seal_key():
        from lotkin.wiring.sealing import sealing_key

        signer = sealing_key()
    store = open_db(db)
    shown = close_case(store, case, reason, person(by), signer)
    if json:
        write_document({**case_document(shown), "recorded_by": claimed_data(store, by)})
    else:
        write(f"case {case} closed: {len(shown.decisions)} decisions")
        write(f"closed by {claimed(store, by)}")
        for account in shown.containment.accounts:
            write(f"{account_title(account)}: {account.balance.text}")


def compare_command(
    scopes: Annotated[
        list[str],
        typer.Argument(metavar="SCOPE...", help="A code, or several joined with commas."),
    ],
    *,
    json: Json = False,
    db: Db = None,
) -> None:
    """Compare scopes side by side before opening a case: this batch, the bath, the heat."""
    from lotkin.uses.cases.case_work import compare_scopes
    from lotkin_answers.documents.cases import scope_data
    from lotkin_cli.text.case_text import print_scopes

    wanted = [[code for code in scope.split(",") if code] for scope in scopes]
    if not all(wanted):
        raise typer.BadParameter("a scope names no code")
    found = compare_scopes(open_db(db), wanted)
    if json:
        write_document({"scopes": [scope_data(one) for one in found]})
    else:
        print_scopes(found)


def add_to(app: typer.Typer) -> None:
    """Add the verbs."""
    group = typer.Typer(rich_markup_mode=None, pretty_exceptions_enable=False)
    add_verb(group, "list", list_command, examples=("lotkin case list",))
    add_verb(group, "show", show_command, examples=("lotkin case show CASE-7ZUV-N9E7",))
    add_verb(
        group,
        "decide",
        decide_command,
        examples=(
            "lotkin case decide CASE-7ZUV-N9E7 T-0045-30 --decision scrap --reason 'too thin'",
            "lotkin case decide CASE-7ZUV-N9E7 --customer OSTRELL --decision recall --reason leaks",
        ),
    )
    add_verb(
        group,
        "close",
        close_command,
        examples=("lotkin case close CASE-7ZUV-N9E7 --reason 'all back, all scrapped'",),
    )
    app.add_typer(
        group,
        name="case",
        help="Work a containment down to a decision for each piece.",
        epilog="\b\nExample:\n  lotkin case list",
        rich_help_panel=ASK,
    )
    add_verb(
        group,
        "compare",
        compare_command,
        examples=("lotkin case compare ANO-009 T-0044-30,T-0045-30",),
    )
