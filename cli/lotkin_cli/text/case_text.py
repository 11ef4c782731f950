"""Cases as text and as data."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_answers.documents.cases import at_customers, at_unknown_places
from lotkin_answers.words import counted, moment
from lotkin_cli.output.streams import clean, write
from lotkin_cli.text.account_text import print_accounts
from lotkin_cli.text.form.table import Column, capped, print_table

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import tzinfo

    from lotkin.core.answers.containment import Containment
    from lotkin.core.cases.membership import Case
    from lotkin.uses.cases.case_work import CaseShown
    from lotkin_answers.places import Places

__all__ = ["print_case", "print_cases", "print_scopes"]

CASES = (
    Column("case"),
    Column("state"),
    Column("undecided", right=True),
    Column("opened"),
    Column("by"),
    Column("on"),
    Column("reason"),
)
DECISIONS = (
    Column("member"),
    Column("decision"),
    Column("by"),
    Column("when"),
    Column("reason"),
)
SCOPES = (
    Column("scope"),
    Column("suspect", right=True),
    Column("expected", right=True),
    Column("at most", right=True),
    Column("at customers", right=True),
    Column("customers", right=True),
    Column("where not known", right=True),
)


def print_cases(cases: Sequence[tuple[Case, int]], zone: tzinfo | None) -> None:
    """Print a list of cases, the open ones first; days are those of the works."""
    if not cases:
        write("no case was ever opened")
        return
    ordered = sorted(cases, key=lambda each: (each[0].closed_by > 0, -each[0].event))
    print_table(
        CASES,
        [
            (
                case.code,
                "closed" if case.closed_by else "open",
                str(left) if not case.closed_by else "",
                moment(case.at, zone)[:10],
                case.by,
                ", ".join(case.subjects),
                case.reason,
            )
            for case, left in ordered
        ],
    )


def print_case(shown: CaseShown, places: Places, *, everything: bool) -> None:
    """Print a case: what it is on, what is decided, and what is left to decide."""
    case = shown.case
    state = "closed" if case.closed_by else "open"
    write(f"case {case.code}, {state}: {clean(case.reason)}")
    opened = moment(case.at, places.zone)[:10]
    write(f"on {', '.join(case.subjects)}, opened by {case.by} on {opened}")
    write(f"{counted(shown.containment.units, 'unit')}, {counted(len(shown.members), 'item')} held")
    if shown.containment.units:
        found = shown.containment
        write(f"affected: {found.expected.text} expected, {found.at_most_units} at most")
        write(found.by_place.text)
    print_accounts(shown.containment.accounts, places)
    decisions = list(shown.decisions.values())
    if decisions:
        write("")
        write(f"decided ({len(decisions)})")
        kept = capped(decisions, everything=everything)
        print_table(
            DECISIONS,
            [(d.item, d.decision, d.by, moment(d.at, places.zone)[:10], d.reason) for d in kept],
            more=len(decisions) - len(kept),
        )
    write("")
    if shown.undecided:
        write(f"not decided ({len(shown.undecided)})")
        kept_codes = capped(shown.undecided, everything=everything)
        write(f"  {', '.join(kept_codes)}")
        if len(kept_codes) < len(shown.undecided):
            write(f"  … and {len(shown.undecided) - len(kept_codes)} more; --all shows them")
    else:
        write("every piece is decided")


def print_scopes(scopes: Sequence[Containment]) -> None:
    """Print scopes side by side."""
    print_table(
        SCOPES,
        [
            (
                " + ".join(item.code for item in found.answer.subjects),
                str(found.units),
                found.expected.text,
                str(found.at_most_units),
                str(at_customers(found)),
                str(len(found.customers)),
                str(at_unknown_places(found)),
            )
            for found in scopes
        ],
    )
