"""Answers: what where-from, where-used and containment find."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from lotkin.core.account import Account
    from lotkin.core.items import Item

__all__ = ["Answer", "Containment", "Here", "Row"]


class Here(NamedTuple):
    """Pieces of an item at a place.

    `place_kind` is that of the plan (shelf, station, supplier, customer …), `end` for scrap and
    the like, "" if the plan does not know the place; `within` a carton or outside batch.
    """

    place: str
    place_kind: str
    within: str
    quantity: int


class Row(NamedTuple):
    """One item of an answer; see `lotkin.core.exposure.Exposure` for the numbers."""

    code: str
    kind: str
    family: str
    part: str
    quantity: int | None
    unit: str
    serial: str
    certain: bool
    chance: float | None
    chance_low: float
    chance_high: float
    content: float | None
    removed: bool
    held: bool
    at: tuple[Here, ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """What is reached in one direction.

    Attributes:
        subjects: The items asked about.
        direction: `where-from` or `where-used`.
        items: Everything reached but the subjects, in order of family, kind, code.
        left_out: What a threshold on the content left out, in the same order.
        as_of: Journal position that the answer is of.
    """

    subjects: tuple[Item, ...]
    direction: str
    items: tuple[Row, ...]
    left_out: tuple[Row, ...]
    as_of: int

    @property
    def counts(self) -> dict[str, int]:
        """Count the items by kind; units by serial, however many states each has had."""
        counts: dict[str, int] = {}
        serials = set()
        for row in self.items:
            if row.kind != "unit":
                counts[row.kind] = counts.get(row.kind, 0) + 1
            else:
                serials.add(row.serial or row.code)
        if serials:
            counts["unit"] = len(serials)
        return dict(sorted(counts.items()))


@dataclass(frozen=True, slots=True)
class Containment:
    """Everything that a suspicion takes in, and where it is.

    Attributes:
        answer: What is reached from the subjects.
        subject_rows: The subjects themselves, with where they are.
        accounts: One for each unit.
        units: Serials of units that contain a subject now.
        removed_units: Serials that only an earlier state of did.
        expected_units: Sum of the chances over the units; those not known count as their bound.
        at_most_units: No more units than this can be affected.
        places: Rows to act on by place, customers left out.
        customers: Rows to act on by customer.
    """

    answer: Answer
    subject_rows: tuple[Row, ...]
    accounts: tuple[Account, ...]
    units: int
    removed_units: int
    expected_units: float
    at_most_units: int
    places: dict[str, tuple[Row, ...]]
    customers: dict[str, tuple[Row, ...]]
