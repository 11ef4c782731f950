"""Words and numbers as pages show them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.quantities import show_quantity
from lotkin.shown.drill_data import accounted
from lotkin.shown.places import Places
from lotkin.shown.words import certainty
from lotkin.shown.words import moment as moment_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from lotkin.core.answers import Here, Row

__all__ = ["FILTERS"]


def amount(row: Row) -> str:
    """Write how much of an item was made; "" if it has no quantity."""
    if row.quantity is None:
        return ""
    return f"{show_quantity(row.quantity)} {row.unit}".strip()


def plain(value: float) -> str:
    """Write a number that may be expected by chances, to one decimal at most."""
    return str(int(value)) if float(value).is_integer() else f"{value:.1f}"


def where(at: Iterable[Here]) -> str:
    """Say where pieces are."""
    return Places.where(at)


def moment(us: int | None, places: Places) -> str:
    """Write a moment in the time zone of the works."""
    return moment_text(us, places.zone)


FILTERS: dict[str, Callable[..., str]] = {
    "accounted": accounted,
    "amount": amount,
    "certainty": certainty,
    "moment": moment,
    "plain": plain,
    "where": where,
}
