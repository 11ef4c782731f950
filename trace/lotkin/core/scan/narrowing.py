"""Narrowing candidates by what a label says of part and supplier."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import ShopPlan
    from lotkin.core.scan.iso15434.message import Message06

__all__ = ["Narrowing"]

GTIN_DIGITS = 14


class Narrowing:
    """Narrows by the plan in force, and remembers what the plan did not know.

    Heats have no part: they fit any.
    """

    def __init__(self, plan: ShopPlan | None) -> None:
        self.plan = plan
        self._unproven: dict[str, str] = {}

    def warnings_of(self, items: tuple[Item, ...]) -> tuple[str, ...]:
        """List what could not be proven of some of the items."""
        found = [self._unproven[item.code] for item in items if item.code in self._unproven]
        return tuple(dict.fromkeys(found))

    def by_gtin(self, items: tuple[Item, ...], gtin: str) -> tuple[Item, ...]:
        """Keep the items whose part has the GTIN, or that could have it.

        An unknown GTIN fits only items whose part has none in the plan.
        """
        part = self.part_of(gtin)
        if part:
            return tuple(item for item in items if item.part in (part, ""))
        fitting = tuple(item for item in items if not self.has_gtin(item.part))
        return self._with_doubt(fitting, f"GTIN {gtin} is not in the plan")

    def part_of(self, gtin: str) -> str:
        """Give the part that has a GTIN in the plan; "" if none has."""
        parts = self.plan.parts if self.plan is not None else ()
        same = (part.code for part in parts if (part.gtin or "").zfill(GTIN_DIGITS) == gtin)
        return next(same, "")

    def has_gtin(self, part: str) -> bool:
        """Tell whether a part has any GTIN in the plan."""
        known = self.plan.part(part) if self.plan is not None else None
        return known is not None and known.gtin is not None

    def by_label(self, items: tuple[Item, ...], label: Message06, di: str) -> tuple[Item, ...]:
        """Keep the items that fit what a supplier's label says of part and supplier.

        Args:
            items: Candidates.
            label: The label.
            di: Identifier of the number that they were found by. A serial is short and everybody
                has one, so it needs proof of the part if the label names any. Our own lot on a
                label may be of our own making.
        """
        items = self._by_part(items, label, needs_proof=di == "S")
        return self._by_supplier(items, label, may_be_ours=di == "T")

    def _by_part(
        self, items: tuple[Item, ...], label: Message06, *, needs_proof: bool
    ) -> tuple[Item, ...]:
        ours = label.values("P")
        said = {*ours, *label.values("1P"), *map(self.part_of, label.values("8P"))} - {""}
        if not said:
            return items
        same = tuple(item for item in items if item.part in said)
        if needs_proof:
            return same
        of_no_part = tuple(item for item in items if not item.part)
        if same or any(map(self._is_part, said)):
            return same + of_no_part
        if not ours:
            return items  # the supplier's own part number says nothing to us
        return self._with_doubt(items, f"part {', '.join(ours)} is not in the plan")

    def _by_supplier(
        self, items: tuple[Item, ...], label: Message06, *, may_be_ours: bool
    ) -> tuple[Item, ...]:
        said = label.values("V", "1V")
        if not said:
            return items
        same = tuple(
            item for item in items if item.supplier in said or (may_be_ours and not item.supplier)
        )
        if same or any(map(self._is_supplier, said)):
            return same
        return self._with_doubt(items, f"supplier {', '.join(said)} is not in the plan")

    def _is_part(self, code: str) -> bool:
        return self.plan is not None and self.plan.part(code) is not None

    def _is_supplier(self, code: str) -> bool:
        return self.plan is not None and self.plan.supplier(code) is not None

    def _with_doubt(self, items: tuple[Item, ...], doubt: str) -> tuple[Item, ...]:
        self._unproven.update((item.code, doubt) for item in items)
        return items
