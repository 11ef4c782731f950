"""Drills as documents and as rows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.account.balance import Balance
from lotkin.core.values.amounts import show_amount, show_number
from lotkin.core.values.instants import show_instant
from lotkin_answers.documents.answers import subject_data

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from lotkin.core.events import Drill
    from lotkin.core.events.quality.drill import Accounted
    from lotkin.core.genealogy.view import Entry
    from lotkin.uses.asking.drill import Drilled
    from lotkin_answers.json_document import Data, Value
    from lotkin_answers.spreadsheet import Cell

__all__ = [
    "DRILL_COLUMNS",
    "accounted",
    "drill_data",
    "drill_document",
    "drill_rows",
    "drills_document",
]

DRILL_COLUMNS = (
    "event", "at", "by", "subject", "seconds", "behind", "ahead", "units", "complete_units",
    "accounts", "gaps",
)  # fmt: skip


def accounted(drill: Drill) -> str:
    """Say how much was accounted for of how much, and what was not."""
    return "; ".join(_balance(account) for account in drill.accounts)


def _balance(account: Accounted) -> str:
    balance = Balance(
        account.unit,
        float(account.of),
        float(account.found),
        missing=float(account.missing),
        over=float(account.more_used_than_made),
        surplus=float(account.only_counted),
        unknown=float(account.not_known),
    )
    if account.verdict:
        return balance.text
    # what was not judged then is not judged now
    found = show_number(balance.found, balance.unit)
    return f"{found} of {show_amount(balance.of, balance.unit)} found, not judged"


def drill_document(done: Drilled, seed: int | None) -> dict[str, Value | Iterable[Value]]:
    """Describe a drill just done."""
    return {
        "subject": subject_data(done.subject),
        "seed": seed,
        **drill_data(done.drill),
        "customers": [
            {"customer": customer, "items": number} for customer, number in done.customers.items()
        ],
        "unknown_places": [
            {"place": place, "items": number} for place, number in done.unknown_places.items()
        ],
        "event": done.event,
    }


def drill_data(drill: Drill) -> Data:
    """Describe what a drill measured."""
    complete = drill.complete_units / drill.units if drill.units else None
    return {
        "seconds": drill.seconds,
        "behind": drill.behind,
        "ahead": drill.ahead,
        "units": drill.units,
        "complete_units": drill.complete_units,
        "completeness": complete,
        "accounts": [
            {
                "unit": account.unit,
                "part": account.part,
                "of": account.of,
                "found": account.found,
                "verdict": account.verdict or None,
                "missing": account.missing,
                "more_used_than_made": account.more_used_than_made,
                "only_counted": account.only_counted,
                "not_known": account.not_known,
            }
            for account in drill.accounts
        ],
        "gaps": list(drill.gaps),
    }


def drills_document(found: Sequence[tuple[Entry, Drill]]) -> dict[str, Value | Iterable[Value]]:
    """Describe the drills on record."""
    return {
        "drills": (
            {
                "event": entry.seq,
                "at": show_instant(drill.at_us),
                "by": drill.by,
                "subject": drill.subject,
                **drill_data(drill),
            }
            for entry, drill in found
        )
    }


def drill_rows(found: Sequence[tuple[Entry, Drill]]) -> Iterator[tuple[Cell, ...]]:
    """Write a drill a row."""
    for entry, drill in found:
        yield (
            *(entry.seq, show_instant(drill.at_us), drill.by, drill.subject, drill.seconds),
            *(drill.behind, drill.ahead, drill.units, drill.complete_units),
            *(accounted(drill), len(drill.gaps)),
        )
