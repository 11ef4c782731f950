"""Finished goods are packed and shipped."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from lotkin.core.dialogue.doubts import problem_of_new_code
from lotkin.core.dialogue.jobs.job import Known, Work, shown, stock_slot
from lotkin.core.dialogue.number_slot import NumberSlot
from lotkin.core.rules.written_codes import fits_mask, is_made_up_carton
from lotkin.core.values.kinds import Family
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.dialogue.reply import Reply
    from lotkin.core.dialogue.words import Word
    from lotkin.core.genealogy.items import Item
    from lotkin.core.values.canonical import Json

__all__ = ["PackWork", "ShipWork"]


class Gathering(Work):
    """What packing and shipping share: pieces are scanned one after the other."""

    doing: ClassVar[str]

    def __init__(self, known: Known) -> None:
        super().__init__(known)
        self.pieces: list[Item] = []

    def gather(self, item: Item, desk: Desk) -> Reply:
        """Add a unit, a lot or a carton."""
        if any(item.code == known.code for known in self.pieces):
            return self.ok(f"{item.code} is scanned already", desk)
        if item.family not in (Family.MATERIAL, Family.PACK):
            return self.refuse(f"{shown(item)} cannot be {self.doing}", desk)
        reason = desk.why_not(item, self.doing)
        if reason:
            return self.refuse(reason, desk)
        if not desk.has_left(item):
            return self.refuse(f"none of {item.code} is left", desk)
        self.pieces.append(item)
        return self.ok(f"{len(self.pieces)}: {shown(item)}", desk)

    def slots(self, desk: Desk) -> list[NumberSlot]:
        """Ask how many of a lot; a unit or a carton is one."""
        return [
            stock_slot(f"pieces {item.code}", f"how many of {item.code}?", item, desk)
            for item in self.pieces
            if item.quantity != MICRO
        ]

    def contents(self, desk: Desk) -> list[Json]:
        """Give the pieces with their quantities and places."""
        rows: list[Json] = []
        for item in self.pieces:
            row: dict[str, Json] = {"item": item.code}
            number = self.numbers.get(f"pieces {item.code}")
            if number is not None:
                row["quantity"] = f"{number:f}"
            place = desk.place_of(item)
            if place:
                row["place"] = place
            rows.append(row)
        return rows


class PackWork(Gathering):
    """Pieces go into a carton."""

    title: ClassVar[str] = "pack"
    doing: ClassVar[str] = "packed"

    def __init__(self, known: Known) -> None:
        super().__init__(known)
        self.carton = ""

    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take a new label for the carton, and the pieces."""
        if word.item is not None:
            return self.gather(word.item, desk)
        if not word.is_new_code or self.carton:
            return None
        problem = "" if desk.late else carton_problem(word.text, desk)
        if problem:
            return self.refuse(problem, desk)
        self.carton = word.text
        return self.ok(f"carton {word.text}", desk)

    def doubt(self, word: Word, desk: Desk) -> str:
        """Ask about a code that is not recorded, where the plan does not say how cartons are."""
        if not word.is_new_code or self.carton or self.expects_number(desk):
            return super().doubt(word, desk)
        if desk.plan.works.cartons or carton_problem(word.text, desk):
            return ""
        return f"{word.text} is not recorded. A new carton with this label?"

    def lacks(self, desk: Desk) -> str:  # noqa: ARG002 - it knows its pieces
        """Ask for a first piece."""
        return "" if self.pieces else "scan what goes into the carton"

    def _code(self) -> str:
        return self.carton or f"CTN-{self.own_code()}"

    def events(self, desk: Desk) -> list[dict[str, Json]]:
        """Give the carton."""
        return [
            {
                "kind": "pack",
                "carton": self._code(),
                "place": desk.station,
                "contents": self.contents(desk),
            }
        ]

    def read_back(self, desk: Desk) -> str:  # noqa: ARG002 - it knows all it says
        """Say carton and contents."""
        return f"carton {self._code()} with {', '.join(item.code for item in self.pieces)}"


def carton_problem(text: str, desk: Desk) -> str:
    """Say why a code that is not recorded is no carton; "" if it may be one."""
    masks = desk.plan.works.cartons
    if is_made_up_carton(text) or any(fits_mask(text, mask) for mask in masks):
        return ""
    for part in desk.plan.parts:
        if any(fits_mask(text, mask) for mask in part.serials):
            return f"{text} is written like a {part.code}, and no such unit is recorded"
    return problem_of_new_code(text, masks, "cartons", desk)


class ShipWork(Gathering):
    """Cartons leave for a customer."""

    title: ClassVar[str] = "ship"
    doing: ClassVar[str] = "shipped"

    def __init__(self, known: Known) -> None:
        super().__init__(known)
        self.customer = ""

    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take the customer, and what leaves."""
        if word.customer:
            self.customer = word.customer
            plan = desk.plan.customer(word.customer)
            return self.ok(f"to {plan.name if plan is not None else word.customer}", desk)
        if word.item is not None:
            return self.gather(word.item, desk)
        return None

    def lacks(self, desk: Desk) -> str:  # noqa: ARG002 - it knows its pieces
        """Ask for customer and cartons."""
        if not self.customer:
            return "scan the customer"
        return "" if self.pieces else "scan the cartons"

    def _code(self) -> str:
        return f"SHP-{self.own_code()}"

    def events(self, desk: Desk) -> list[dict[str, Json]]:
        """Give the shipment."""
        return [
            {
                "kind": "ship",
                "shipment": self._code(),
                "customer": self.customer,
                "contents": self.contents(desk),
            }
        ]

    def read_back(self, desk: Desk) -> str:  # noqa: ARG002 - it knows all it says
        """Say shipment, customer and cartons."""
        pieces = ", ".join(item.code for item in self.pieces)
        return f"shipment {self._code()} to {self.customer}: {pieces}"
