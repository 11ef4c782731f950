"""`sample`: how many pieces of a suspect lot to check, and what a check shows."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_cli.opening import open_db
from lotkin_cli.options.common import Code, Db, Form, Json, form_of
from lotkin_cli.output.streams import write
from lotkin_cli.verbs.adding import ASK, add_verb

if TYPE_CHECKING:
    from fractions import Fraction

    from lotkin.uses.asking.sample_plan import Checked, SampleAnswer

__all__ = ["add_to"]

MOST_DECIMALS = 9


def _check_share(value: str | None) -> str | None:
    if value is not None:
        _share(value)
    return value


def _share(text: str) -> Fraction:
    """Read a share exactly as it is written."""
    from decimal import Decimal, InvalidOperation
    from fractions import Fraction

    try:
        share = Decimal(text)
    except InvalidOperation:
        raise typer.BadParameter(f"{text!r} is no share; write it like 0.95") from None
    if not (share.is_finite() and 0 < share < 1):
        raise typer.BadParameter(f"{text} is not between 0 and 1; write 95 % as 0.95")
    if -int(share.as_tuple().exponent) > MOST_DECIMALS:
        raise typer.BadParameter(f"{text} has more than {MOST_DECIMALS} decimals")
    return Fraction(share)


Confidence = Annotated[
    str,
    typer.Option(
        "--confidence", metavar="SHARE", callback=_check_share, help="How sure it is to be."
    ),
]
BadPieces = Annotated[
    int | None,
    typer.Option(
        "--bad-pieces",
        metavar="NUMBER",
        min=1,
        help="The lot must not pass with so many bad pieces; 1 if nothing is said.",
    ),
]
BadShare = Annotated[
    str | None,
    typer.Option(
        "--bad-share",
        metavar="SHARE",
        callback=_check_share,
        help="The same as a share of the lot.",
    ),
]
Allowed = Annotated[
    int,
    typer.Option(
        "--allowed",
        metavar="NUMBER",
        min=0,
        max=100,
        help="Bad pieces in the sample with which it still passes.",
    ),
]
CheckedPieces = Annotated[
    int | None,
    typer.Option("--checked", metavar="NUMBER", min=1, help="So many have been checked already."),
]
Found = Annotated[
    int, typer.Option("--found", metavar="NUMBER", min=0, help="Bad ones among those checked.")
]


def sample_command(
    code: Code,
    *,
    confidence: Confidence = "0.95",
    bad_pieces: BadPieces = None,
    bad_share: BadShare = None,
    allowed: Allowed = 0,
    checked: CheckedPieces = None,
    found: Found = 0,
    json: Json = False,
    db: Db = None,
) -> None:
    """Say how many pieces of a suspect lot to check.

    Counted on what is on hand, exactly: the smallest sample that finds out the lot as surely as is
    wanted, if it is as bad as is said. With --checked also what a check has shown.
    """
    if bad_pieces is not None and bad_share is not None:
        raise typer.BadParameter("--bad-pieces and --bad-share exclude each other")
    if found and checked is None:
        raise typer.BadParameter("--found needs --checked")
    form = form_of(json=json)
    from lotkin.uses.asking.sample_plan import Checked, Wanted, plan_sample

    wanted = Wanted(
        _share(confidence), bad_pieces, None if bad_share is None else _share(bad_share), allowed
    )
    seen: Checked | None = None if checked is None else Checked(checked, found)
    answer = plan_sample(open_db(db), code, wanted, seen)
    if form is Form.JSON:
        from lotkin_answers.documents.investigation.samples import sample_document
        from lotkin_cli.text.form.json_document import write_document

        write_document(sample_document(answer))
    else:
        _print(answer)


def _print(answer: SampleAnswer) -> None:
    from lotkin_answers.documents.investigation.samples import what_passes
    from lotkin_answers.words import listed, percent
    from lotkin_cli.text.answer_text import described
    from lotkin_cli.text.form.table import Column, print_table

    plan, shown = answer.plan, answer.shown
    sure = percent(float(plan.confidence))
    write(f"sample of {described(answer.item)}")
    write(f"as of event {answer.as_of}")
    write(f"on hand: {answer.on_hand} pcs ({listed(answer.places.items())})")
    how = "all of them" if plan.is_whole_lot else "drawn at random"
    write(f"check {plan.sample} pcs, {how}; it passes with {plan.allowed} bad in the sample")
    write(
        f"with {plan.bad} bad of {plan.lot} or more it passes with a chance of "
        f"{percent(float(plan.risk))} at most ({sure} confidence)"
    )
    if answer.endless is not None:
        write(f"of a process without an end it would be {answer.endless} pcs, none of them bad")
    if shown is not None:
        write(
            f"shown by {shown.checked.pieces} checked, {shown.checked.bad} bad: at most "
            f"{shown.most_bad} of {answer.on_hand} are bad; of all that is made so, at most "
            f"{percent(shown.share_at_most)} ({sure} confidence)"
        )
    write("")
    print_table(
        (Column("bad in the lot", right=True), Column("passes with a chance of", right=True)),
        [(str(bad), percent(chance)) for bad, chance in what_passes(answer)],
    )


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "sample",
        sample_command,
        section=ASK,
        examples=(
            "lotkin sample ANO-014-A --confidence 0.95 --bad-pieces 2",
            "lotkin sample ANO-014-A --bad-share 0.05 --checked 30",
        ),
    )
