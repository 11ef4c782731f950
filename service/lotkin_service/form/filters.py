"""Words and numbers as pages show them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.account.words import account_title, lines_in_words
from lotkin.core.answers.whereabouts import said_amount
from lotkin.core.values.amounts import show_micro
from lotkin_answers.containment_words import has_chances, no_customer
from lotkin_answers.documents.drills import accounted
from lotkin_answers.places import Places
from lotkin_answers.unit.standing_text import in_case, standing
from lotkin_answers.unit.wording import no_papers, no_tests, verdict
from lotkin_answers.words import certainty, sentence
from lotkin_answers.words import moment as moment_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from lotkin.core.answers.rows import Here, Row

__all__ = ["FILTERS"]


def amount(row: Row) -> str:
    """Write how much of an item was made; "" if it has no quantity."""
    if row.quantity is None:
        return ""
    return show_micro(row.quantity, row.unit)


def plain(value: float) -> str:
    """Write a mean to one decimal at most."""
    return str(int(value)) if value == int(value) else f"{value:.1f}"


def where(at: Iterable[Here], unit: str) -> str:
    """Say where pieces are."""
    return Places.where(at, unit)


def moment(us: int | None, places: Places) -> str:
    """Write a moment in the time zone of the works."""
    return moment_text(us, places.zone)


def ago(us: int) -> str:
    """Say how long something is past, never as less than it is by more than its unit.

    >>> ago(59_000_000), ago(60_000_000), ago(7_300_000_000)
    ('less than a minute ago', '1 minute ago', '2 hours ago')
    """
    minutes = max(0, us) // 60_000_000
    if minutes < 1:
        return "less than a minute ago"
    count, unit = (minutes, "minute") if minutes < 120 else (minutes // 60, "hour")
    return f"{count} {unit}{'s' if count != 1 else ''} ago"


FILTERS: dict[str, Callable[..., object]] = {
    "account_lines": lines_in_words,
    "account_title": account_title,
    "accounted": accounted,
    "ago": ago,
    "amount": amount,
    "certainty": certainty,
    "has_chances": has_chances,
    "in_case": in_case,
    "counted_there": said_amount,
    "moment": moment,
    "no_customer": no_customer,
    "no_papers": lambda is_imported: no_papers(is_imported=is_imported),
    "no_tests": lambda is_imported: no_tests(is_imported=is_imported),
    "plain": plain,
    "sentence": sentence,
    "standing": standing,
    "verdict": verdict,
    "where": where,
}
