"""Answers: what where-from, where-used and containment find."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin.core.account.sheet import Account
    from lotkin.core.answers.left_out import LeftOut
    from lotkin.core.answers.rows import Row, Rows
    from lotkin.core.answers.unit_counts import Expected, UnitsByPlace
    from lotkin.core.genealogy.items import Item

__all__ = ["Answer", "Containment"]


@dataclass(frozen=True, slots=True)
class Answer:
    """What is reached in one direction.

    Attributes:
        subjects: The items asked about.
        direction: `where-from` or `where-used`.
        items: Everything reached but the subjects, in order of family, kind, code.
        left_out: What a threshold on the content left out, in the same order.
        as_of: Journal position that the answer is of.
        outside: Those of the subjects that the time asked about leaves out.
    """

    subjects: tuple[Item, ...]
    direction: str
    items: Rows
    left_out: Rows
    as_of: int
    outside: tuple[LeftOut, ...] = ()

    @property
    def counts(self) -> dict[str, int]:
        """Count the items by kind; units by serial, however many states each has had."""
        nodes = self.items.maker.reach.nodes
        counts: dict[str, int] = {}
        serials = set()
        for i in self.items.unordered:
            kind = nodes.kind[i]
            if kind == "unit":
                serials.add(nodes.serial[i] or nodes.code[i])
            else:
                counts[kind] = counts.get(kind, 0) + 1
        if serials:
            counts["unit"] = len(serials)
        return dict(sorted(counts.items()))


@dataclass(frozen=True, slots=True)
class Containment:
    """Everything that a suspicion takes in, and where it is.

    Attributes:
        answer: What is reached from the subjects.
        subject_rows: The subjects themselves, with where they are, and lots of which pieces are
            still inside an outside batch asked about.
        accounts: One for each unit.
        units: Serials of units that contain a subject now.
        removed_units: Serials that only an earlier state of did.
        expected: Sum of the chances over the units; a range where some are not known.
        at_most_units: No more units than this can be affected.
        by_place: Where the units are, each counted once.
        places: Rows to act on by place of the works or a supplier.
        customers: Rows to act on by customer.
        unknown_places: Rows to act on by place whose kind is not known; while there are any, it is
            not known either that no customer has some.
    """

    answer: Answer
    subject_rows: tuple[Row, ...]
    accounts: tuple[Account, ...]
    units: int
    removed_units: int
    expected: Expected
    at_most_units: int
    by_place: UnitsByPlace
    places: dict[str, tuple[Row, ...]]
    customers: dict[str, tuple[Row, ...]]
    unknown_places: dict[str, tuple[Row, ...]] = field(default_factory=dict)
