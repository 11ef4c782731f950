"""A containment in words: how sure, who has some, and who decides, the same for every face."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from lotkin.core.answers.whereabouts import said_at_unknown_places

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.answers.containment import Containment
    from lotkin.core.answers.rows import Row

__all__ = [
    "BOUNDS_MEAN",
    "CHANCE_MEANS",
    "DUTY",
    "UNKNOWN_MEANS",
    "certain_and_possible",
    "every_row",
    "has_chances",
    "no_customer",
]

DUTY = (
    "Whether to release, recall or notify is for the responsible persons to decide, "
    "under the law that applies to them."
)

CHANCE_MEANS = "possible: the chance for one piece, as if all mixtures were independent"

BOUNDS_MEAN = f"{CHANCE_MEANS}; in brackets its bounds whatever they share"

UNKNOWN_MEANS = (
    "unknown kind: the plan does not know the place and no shipment to it is recorded; whether it "
    "is a customer is not known. Add it to the plan"
)


def every_row(found: Containment) -> Iterator[Row]:
    """Give every item of a containment, the subjects first."""
    return chain(found.subject_rows, found.answer.items)


def has_chances(found: Containment) -> bool:
    """Tell whether something is only possible, so that what this means has to be said."""
    return any(not row.certain and not row.removed for row in every_row(found))


def certain_and_possible(found: Containment) -> tuple[int, int]:
    """Count the serials that certainly are suspect now, and those that possibly are."""
    rows = [row for row in every_row(found) if row.kind == "unit"]
    gone = {row.serial or row.code for row in rows if row.removed}
    certain = {row.serial or row.code for row in rows if row.certain and not row.removed} - gone
    return len(certain), found.units - len(certain)


def no_customer(found: Containment, *, is_narrowed: bool = False) -> str:
    """Say that no customer has any: `nothing` only where every place is known and all was asked.

    Pieces may have been shipped and have come back, so nothing is said of shipments.
    """
    unknown = said_at_unknown_places(found.unknown_places)
    if unknown:
        return f"no customer is known to have any; {unknown}"
    return "nothing of these kinds" if is_narrowed else "nothing"
