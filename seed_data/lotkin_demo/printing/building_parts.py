"""Printing: covers and cams from powder, half of which has been in the printer before.

Every build uses the powder that the build before left over, so that the first lot of powder is,
in ever smaller shares, in every part that was printed since. About half used powder in a build is
common practice, no source.

The cams of build 12 were printed too hot and are rough; nobody measures that, but their pumps are
loud.
"""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin_demo.shop_floor import instant

if TYPE_CHECKING:
    from lotkin_demo.printing.finishing import Finishing
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Printing"]

FEW_PIECES = 75
KG_IN_A_BUILD = Decimal(8)
KG_USED = Decimal(4)
NOISY_BUILD = 12


class Printing:
    """One printer: a day to mix and print, a day to cool and unpack."""

    def __init__(self, floor: ShopFloor, finishing: Finishing) -> None:
        self.floor = floor
        self.finishing = finishing
        self.is_busy = False
        self.builds = 0

    def work(self) -> None:
        """Print if covers or cams are getting few."""
        virgin = self.floor.shelves.total("PA12-GF", "POWDER")
        if self.is_busy or virgin < KG_IN_A_BUILD - self._used():
            return
        if min(self._coming("COVER"), self._coming("CAM")) < FEW_PIECES:
            self.is_busy = True
            self._mix()

    def _coming(self, part: str) -> int:
        return int(self.floor.shelves.total(part, "STORE")) + self.finishing.under_way.get(part, 0)

    def _used(self) -> Decimal:
        return min(self.floor.shelves.total("PA12-GF-USED", "POWDER"), KG_USED)

    def _mix(self) -> None:
        """Mix virgin powder with used powder, the newest first; what is too much is given away."""
        floor = self.floor
        blend = floor.code("BLEND")
        used = self._take("PA12-GF-USED", self._used(), newest_first=True)
        virgin = self._take("PA12-GF", KG_IN_A_BUILD - self._used_kg(used), newest_first=False)
        floor.note_first(powder_at_the_start=str(virgin[0]["item"]))
        floor.record(
            "blend",
            "lene",
            station="PRINT",
            code=blend,
            part="PA12-GF-BLEND",
            place="PRINT",
            inputs=[*virgin, *used],
        )
        floor.later(1, lambda: self._print(blend))

    def _used_kg(self, used: list[dict[str, object]]) -> Decimal:
        return sum((Decimal(str(row["quantity"])) for row in used), Decimal(0))

    def _take(self, part: str, kg: Decimal, *, newest_first: bool) -> list[dict[str, object]]:
        lots = self.floor.shelves.lots(part, "POWDER")
        inputs: list[dict[str, object]] = []
        for lot in reversed(lots) if newest_first else lots:
            some = min(kg, self.floor.shelves.on_hand(lot, "POWDER"))
            if some > 0:
                self.floor.shelves.take(lot, "POWDER", some)
                inputs.append({"item": lot, "quantity": str(some), "place": "POWDER"})
                kg -= some
        return inputs

    def _print(self, blend: str) -> None:
        floor = self.floor
        covers, cams = floor.rng.randint(48, 56), floor.rng.randint(46, 60)
        traveller = floor.issue("COVER", covers)
        self.builds += 1
        cake = floor.code("CAKE")
        parts_kg = (covers * 18 + cams * Decimal("4.5")) / 1000
        loss = Decimal(floor.rng.randint(150, 350)) / 1000
        floor.wait(15)
        floor.record(
            "make",
            "lene",
            station="PRINT",
            step="10",
            traveller=traveller,
            run={
                "code": floor.code("PRINT"),
                "run_kind": "print-build",
                "started": instant(floor.now - timedelta(hours=16)),
                "resources": ["PRINTER-1"],
            },
            inputs=[{"item": blend, "loss": str(loss)}],
            outputs=[
                {"code": f"{traveller}-10-COVER", "part": "COVER", "quantity": covers},
                {"code": f"{traveller}-10-CAM", "part": "CAM", "quantity": cams},
                {
                    "code": cake,
                    "part": "PA12-GF-CAKE",
                    "quantity": str(KG_IN_A_BUILD - loss - parts_kg),
                },
            ],
        )
        if self.builds == NOISY_BUILD:
            self.floor.note(noisy_cam_lot=f"{traveller}-50-CAM")
        self.finishing.expect(traveller, {"COVER": covers, "CAM": cams})
        floor.later(1, lambda: self._unpack(traveller, cake, KG_IN_A_BUILD - loss - parts_kg))

    def _unpack(self, traveller: str, cake: str, kg: Decimal) -> None:
        """Take the parts out of the cake and sieve the powder."""
        floor = self.floor
        self.finishing.begin(traveller)
        loss = Decimal(floor.rng.randint(80, 250)) / 1000
        used = floor.code("USED")
        floor.record(
            "make",
            "lene",
            station="PRINT",
            run={
                "code": f"{used}-RUN",
                "run_kind": "finishing-load",
                "resources": ["SIEVE-1"],
            },
            inputs=[{"item": cake, "loss": str(loss)}],
            outputs=[
                {
                    "code": used,
                    "part": "PA12-GF-USED",
                    "quantity": str(kg - loss),
                    "place": "POWDER",
                }
            ],
        )
        self._give_old_powder_away()
        floor.shelves.put(used, "PA12-GF-USED", "POWDER", kg - loss)
        self.is_busy = False

    def _give_old_powder_away(self) -> None:
        """Scrap what is left of the used powder before the last one."""
        floor = self.floor
        for lot in floor.shelves.lots("PA12-GF-USED", "POWDER"):
            kg = floor.shelves.on_hand(lot, "POWDER")
            floor.record(
                "scrap", "lene", item=lot, place="POWDER", reason="used too often to be mixed again"
            )
            floor.shelves.take(lot, "POWDER", kg)
