"""A delivery of pins without their plating: a case from the first day to the last piece.

Some were cut open, some scrapped, the rest went back to where they came from; the case is closed
when nothing is left undecided.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["PinsCase"]

ON_DAY = 310
DELIVERED = 300
SCRAPPED = 40
CUT_OPEN = 2
CASE = "CASE-001"


class PinsCase:
    """Happens once, on its day."""

    def __init__(self, floor: ShopFloor) -> None:
        self.floor = floor
        self._lot = ""

    def work(self) -> None:
        """Open the case when the pins come in."""
        if self.floor.day >= ON_DAY and not self._lot:
            self._open()

    def _open(self) -> None:
        floor = self.floor
        self._lot = floor.code("PIN-BARE", 1)
        floor.record(
            "receive",
            "mara",
            code=self._lot,
            item_kind="purchased-lot",
            part="PIN",
            quantity=DELIVERED,
            place="STORE",
            supplier="FALLOW",
            delivery_note="F-2209",
            source={"kind": "source-lot", "number": "F77310"},
        )
        floor.record(
            "open-case", "quinn", case=CASE, subjects=[self._lot], reason="pins are not plated"
        )
        floor.record("move", "mara", item=self._lot, to_place="QUAR")
        floor.record(
            "scrap",
            "quinn",
            item=self._lot,
            quantity=CUT_OPEN,
            end="sample",
            reason="cut open to see the plating",
        )
        floor.note(closed_case=CASE)
        floor.later(2, self._decide)

    def _decide(self) -> None:
        floor = self.floor
        part = f"{self._lot}/2"
        floor.record(
            "decide",
            "quinn",
            case=CASE,
            decision="scrap",
            reason="bent as well",
            members=[{"item": self._lot, "quantity": SCRAPPED, "code": part}],
        )
        floor.record("scrap", "mara", item=part, reason="not plated, bent")
        floor.record(
            "decide",
            "quinn",
            case=CASE,
            decision="return to supplier",
            reason="the supplier takes them back",
            members=[{"item": self._lot}],
        )
        floor.record("move", "mara", item=self._lot, to_place="FALLOW")
        floor.record("close-case", "quinn", case=CASE, reason="all pins scrapped or sent back")
