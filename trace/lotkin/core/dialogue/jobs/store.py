"""The store: deliveries come in, lots are moved, shelves are counted, powder is mixed."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, ClassVar

from lotkin.core.dialogue.jobs.job import (
    Known,
    Work,
    quantity_of,
    shown,
    stock_slot,
)
from lotkin.core.dialogue.number_slot import NumberSlot
from lotkin.core.goods_in.keeping import end_of_day
from lotkin.core.rules.serialised import carries_serial
from lotkin.core.values.kinds import KINDS, Family

if TYPE_CHECKING:
    from datetime import date

    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.dialogue.reply import Reply
    from lotkin.core.dialogue.words import Word
    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import PartPlan
    from lotkin.core.values.canonical import Json

__all__ = ["BlendWork", "CountWork", "MoveWork", "ReceiveWork"]

WORKING_RUNS = frozenset(KINDS[Family.RUN]) - {"inspection"}


IN_OUR_UNITS = {
    "KG": ("kg", Decimal(1)),
    "GR": ("kg", Decimal("0.001")),
    "MR": ("m", Decimal(1)),
    "MM": ("m", Decimal("0.001")),
    "PC": ("pcs", Decimal(1)),
    "EA": ("pcs", Decimal(1)),
}
"""Units of ANSI X12 on labels -> ours, and the factor; from memory, common practice."""


class ReceiveWork(Work):
    """A delivery: the supplier's label says most of it."""

    title: ClassVar[str] = "receive"

    def __init__(self, known: Known) -> None:
        super().__init__(known)
        self.part: PartPlan | None = None
        self.supplier = self.number = self.code = self.place = self.serial = ""
        self.quantity: Decimal | None = None
        self.expiry: date | None = None

    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take the label, or its parts one by one, our own label, and the place."""
        if word.label is not None:
            return self._take_label(word, desk)
        if word.supplier:
            self.supplier = word.supplier
            return self.ok(f"from {word.supplier}", desk)
        if word.place:
            self.place = word.place
            return self.ok(f"to {word.place}", desk)
        if word.part:
            self.part = desk.plan.part(word.part)
            return self.ok(f"part {word.part}", desk)
        if not self.number and (word.is_new_code or word.candidates or word.item is not None):
            self.number = word.text
            return self.ok(f"heat or lot {word.text}", desk)
        if word.is_new_code and self._has_serial(desk) and not self.serial:
            self.serial = word.text
            return self.ok(f"serial {word.text}", desk)
        if word.is_new_code:
            self.code = word.text
            return self.ok(f"our label {word.text}", desk)
        return None

    def _has_serial(self, desk: Desk) -> bool:
        return self.part is not None and carries_serial(desk.plan, self.part.code, "")

    def _take_label(self, word: Word, desk: Desk) -> Reply:
        label = word.label
        assert label is not None
        part = desk.plan.part(label.item_code)
        self.part = part or self.part
        self.number = label.heat_or_lot or self.number
        self.serial = label.serial or self.serial
        self.expiry = label.expires_on or self.expiry
        if desk.plan.supplier(label.supplier) is not None:
            self.supplier = label.supplier
        if label.quantity is not None and self.part is not None:
            unit, factor = IN_OUR_UNITS.get(label.quantity.unit, ("", Decimal(1)))
            if unit in ("", self.part.unit):
                self.quantity = label.quantity.value * factor
        said = [
            f"{name} {value}"
            for name, value in (
                ("part", self.part.code if self.part else ""),
                ("lot", self.number),
                ("serial", self.serial),
                ("from", self.supplier),
                ("quantity", f"{self.quantity:f}" if self.quantity else ""),
                ("use by", self.expiry.isoformat() if self.expiry else ""),
            )
            if value
        ]
        return self.ok(", ".join(said) or "the label says nothing that is needed", desk)

    def lacks(self, desk: Desk) -> str:
        """Ask for what the label did not say."""
        if self.part is None:
            return "scan the part"
        if not self.supplier:
            return "scan the supplier"
        if not self.number:
            return "scan the heat or lot number"
        if self._has_serial(desk) and not self.serial:
            return "scan the serial of the piece"
        return "" if self.place else "scan the place"

    def slots(self, desk: Desk) -> list[NumberSlot]:
        """Ask for the quantity, proposing what the label says; what has a serial is one piece."""
        if self._has_serial(desk):
            why = "each piece has a serial of its own"
            return [NumberSlot("quantity", "how many pcs?", Decimal(1), most=Decimal(1), why=why)]
        unit = self.part.unit if self.part is not None else "pcs"
        why = f"the label says {self.quantity:f} {unit}" if self.quantity is not None else ""
        prompt = f"how many {unit}?"
        return [NumberSlot("quantity", prompt, self.quantity, most=self.quantity, why=why)]

    def _code(self) -> str:
        return self.code or self.own_code()

    def events(self, desk: Desk) -> list[dict[str, Json]]:
        """Give the delivery."""
        part = self.part
        assert part is not None
        source = "heat" if part.kind == "bar-lot" else "source-lot"
        due: dict[str, Json] = {}
        if self.expiry is not None:
            due["due"] = end_of_day(self.expiry, desk.plan).isoformat()
        return [
            {
                "kind": "receive",
                "code": self._code(),
                "item_kind": part.kind,
                "part": part.code,
                "quantity": f"{self.numbers['quantity']:f}",
                "place": self.place,
                "supplier": self.supplier,
                "source": {"kind": source, "number": self.number},
                **({"serial": self.serial} if self.serial else {}),
                **due,
            }
        ]

    def read_back(self, desk: Desk) -> str:  # noqa: ARG002 - it knows all it says
        """Say code, part, quantity and place."""
        part = self.part
        assert part is not None
        return (
            f"{self._code()}: {self.numbers['quantity']:f} {part.unit} of {part.code}, "
            f"{self.supplier} {self.number}, to {self.place}"
            + (f", serial {self.serial}" if self.serial else "")
            + (f", use by {self.expiry}" if self.expiry is not None else "")
        )


class MoveWork(Work):
    """A lot, a unit or a carton goes to another place."""

    title: ClassVar[str] = "move"

    def __init__(self, known: Known) -> None:
        super().__init__(known)
        self.item: Item | None = None
        self.place = ""

    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take the item and the place."""
        if word.place:
            self.place = word.place
            return self.ok(f"to {word.place}", desk)
        if word.item is not None:
            self.item = word.item
            return self.ok(f"{shown(word.item)}, {quantity_of(word.item, desk)}", desk)
        return None

    def lacks(self, desk: Desk) -> str:  # noqa: ARG002 - it knows what it has
        """Ask for item and place."""
        if self.item is None:
            return "scan what is moved"
        return "" if self.place else "scan the place it goes to"

    def slots(self, desk: Desk) -> list[NumberSlot]:
        """Ask how many, proposing all."""
        if self.item is None:
            return []
        return [stock_slot("quantity", f"how many {self.item.unit}?", self.item, desk)]

    def events(self, desk: Desk) -> list[dict[str, Json]]:
        """Give the move."""
        assert self.item is not None
        event: dict[str, Json] = {
            "kind": "move",
            "item": self.item.code,
            "quantity": f"{self.numbers['quantity']:f}",
            "to_place": self.place,
        }
        place = desk.place_of(self.item)
        if place:
            event["place"] = place
        return [event]

    def read_back(self, desk: Desk) -> str:  # noqa: ARG002 - it knows all it says
        """Say what goes where."""
        assert self.item is not None
        return f"{self.numbers['quantity']:f} of {self.item.code} to {self.place}"


class CountWork(Work):
    """What is on a shelf, counted."""

    title: ClassVar[str] = "count"

    def __init__(self, known: Known) -> None:
        super().__init__(known)
        self.item: Item | None = None
        self.place = ""

    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take the item, and the place if it is not this station."""
        if word.place:
            self.place = word.place
            return self.ok(f"at {word.place}", desk)
        if word.item is not None:
            self.item = word.item
            return self.ok(shown(word.item), desk)
        return None

    def lacks(self, desk: Desk) -> str:  # noqa: ARG002 - it knows what it has
        """Ask for the item."""
        return "" if self.item is not None else "scan what is counted"

    def slots(self, desk: Desk) -> list[NumberSlot]:  # noqa: ARG002 - a count is not proposed
        """Ask for the count; the book is not shown, so that it is counted."""
        return [NumberSlot("counted", "how many are there?")]

    def events(self, desk: Desk) -> list[dict[str, Json]]:
        """Give the count."""
        assert self.item is not None
        return [
            {
                "kind": "count",
                "place": self.place or desk.place_of(self.item) or desk.station,
                "item": self.item.code,
                "counted": f"{self.numbers['counted']:f}",
            }
        ]

    def read_back(self, desk: Desk) -> str:
        """Say what was counted, beside the book."""
        assert self.item is not None
        place = self.place or desk.place_of(self.item) or desk.station
        counted = self.numbers["counted"]
        return f"{counted:f} of {self.item.code} at {place}"


class BlendWork(Work):
    """Powders mixed by mass."""

    title: ClassVar[str] = "blend"

    def __init__(self, known: Known) -> None:
        super().__init__(known)
        self.powders: list[Item] = []

    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take the powders."""
        item = word.item
        if item is None:
            return None
        if any(item.code == known.code for known in self.powders):
            return self.ok(f"{item.code} is scanned already", desk)
        if item.unit != "kg":
            return self.refuse(f"{shown(item)} is not kept by mass", desk)
        reason = desk.why_not(item, "mixed")
        if reason:
            return self.refuse(reason, desk)
        if not desk.has_left(item):
            return self.refuse(f"none of {item.code} is left", desk)
        self.powders.append(item)
        return self.ok(shown(item), desk)

    def lacks(self, desk: Desk) -> str:  # noqa: ARG002 - it knows its powders
        """Ask for a powder."""
        return "" if self.powders else "scan the powders"

    def slots(self, desk: Desk) -> list[NumberSlot]:
        """Ask for the mass of each."""
        return [
            stock_slot(f"kg {item.code}", f"kg of {item.code}?", item, desk)
            for item in self.powders
        ]

    def _part(self, desk: Desk) -> PartPlan | None:
        """Find the part of a blend of these powders: of the same material."""
        materials = {
            part.material
            for item in self.powders
            if (part := desk.plan.part(item.part)) is not None
        }
        blends = [
            part
            for part in desk.plan.parts
            if part.kind == "powder-blend" and part.material in materials
        ]
        return blends[0] if len(blends) == 1 else None

    def _used_share(self, desk: Desk) -> Decimal:
        total = sum(self.numbers[f"kg {item.code}"] for item in self.powders)
        used = sum(
            self.numbers[f"kg {item.code}"]
            for item in self.powders
            if any(
                parent.kind in WORKING_RUNS
                for link in desk.view.parents(item.code)
                if (parent := desk.view.item(link.parent)) is not None
            )
        )
        return Decimal(used) / total if total else Decimal(0)

    def events(self, desk: Desk) -> list[dict[str, Json]]:
        """Give the blend."""
        part = self._part(desk)
        event: dict[str, Json] = {
            "kind": "blend",
            "code": f"BLEND-{self.own_code()}",
            "place": desk.station,
            "inputs": [
                {
                    "item": item.code,
                    "quantity": f"{self.numbers[f'kg {item.code}']:f}",
                    "place": desk.place_of(item) or desk.station,
                }
                for item in self.powders
            ],
        }
        if part is not None:
            event["part"] = part.code
        return [event]

    def read_back(self, desk: Desk) -> str:
        """Say the masses, and the share of used powder beside the plan's rule."""
        part = self._part(desk)
        masses = ", ".join(f"{self.numbers[f'kg {i.code}']:f} kg {i.code}" for i in self.powders)
        rule = ""
        if part is not None and part.used_share_max is not None:
            rule = f" (the plan allows {part.used_share_max:.0%})"
        return f"BLEND-{self.own_code()}: {masses}; {self._used_share(desk):.0%} used{rule}"
