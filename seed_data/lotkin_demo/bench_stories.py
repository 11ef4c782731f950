"""What went wrong at the benches: a wrong scan, a forgotten one, a bin with more than the book.

All three happen while units are being built, and are put right in the records afterwards.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin_demo.shop_floor import instant

if TYPE_CHECKING:
    from datetime import datetime

    from lotkin_demo.assembly import Assembly
    from lotkin_demo.bench import Bench, Position
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["BenchStories"]

UNITS_UNTIL_SEEN = 200
FORGET_AFTER = 400
UNITS_UNTIL_REMEMBERED = 3
BELOW_AFTER = 640
PIECES_OVER = 14
UNITS_BELOW = 2


class BenchStories:
    """Watches the benches and lets things go wrong once each."""

    def __init__(self, floor: ShopFloor, assembly: Assembly) -> None:
        self.floor = floor
        self.assembly = assembly
        self.window, self.wall = assembly.benches
        self._wrong_mount = ""
        self._forgotten: tuple[datetime, str, str, int] | None = None
        self.window.fill_otherwise = self._scan_the_wrong_springs
        self.wall.fill_otherwise = self._build_below_the_book

    def work(self) -> None:
        """Look whether something is due to go wrong or to be put right."""
        if self._wrong_mount:
            self._see_the_wrong_scan()
        if self._forgotten is not None:
            self._remember()
        elif len(self.assembly.units) > FORGET_AFTER and not self.floor.works.late_mounted_lot:
            self._forget_to_scan()
        self.wall.tops_up = not self._is_due_to_go_below()
        if self.wall.below_book and self._built_below() >= UNITS_BELOW:
            self._count_the_bin()

    # --- the wrong springs

    def _scan_the_wrong_springs(self, position: Position) -> bool:
        """Mount one lot of springs and scan the label of the box beside it."""
        floor = self.floor
        lots = floor.shelves.lots("SPRING", "STORE")
        is_first = self.window.changed_at is None
        if (
            position.part != "SPRING"
            or is_first
            or floor.works.wrongly_scanned_lot
            or len(lots) < 2
        ):
            return False
        right, wrong = lots[:2]
        quantity = min(floor.shelves.on_hand(lot, "STORE") for lot in (right, wrong))
        floor.shelves.bring(right, quantity, origin="STORE", to=self.window.place)
        floor.shelves.set_aside(wrong)
        self.window.mounted[position.code] = right
        self._wrong_mount = self.window.mount([_brought(position.code, wrong, quantity)])
        floor.note(wrongly_scanned_lot=wrong, rightly_mounted_lot=right)
        self._mount_of_springs = (position.code, quantity)
        self._built_before = len(self._at(self.window))
        return True

    def _see_the_wrong_scan(self) -> None:
        """Find the box with the right label in the bin, and amend the mount."""
        floor = self.floor
        since = self._at(self.window)[self._built_before :]
        if len(since) < UNITS_UNTIL_SEEN:
            return
        code, quantity = self._mount_of_springs
        positions = [_brought(code, floor.works.rightly_mounted_lot, quantity)]
        floor.record(
            "amend",
            "quinn",
            reason="the label in the bin is that of the other box of springs",
            changes=[{"event": self._wrong_mount, "patch": {"positions": positions}}],
        )
        floor.shelves.release(floor.works.wrongly_scanned_lot)
        floor.note(units_of_the_wrong_scan=tuple(since))
        self._wrong_mount = ""

    def _at(self, bench: Bench) -> list[str]:
        return [unit.serial for unit in self.assembly.units if unit.bench == bench.code]

    # --- the forgotten scan

    def _forget_to_scan(self) -> None:
        """Change the hoses at the wall bench before the bin is empty, and forget to scan."""
        floor = self.floor
        position = next(p for p in self.wall.positions if p.part == "HOSE")
        lots = floor.shelves.lots("HOSE", "STORE")
        if not lots or lots[0] == self.wall.mounted[position.code] or self.wall.left(position) < 10:
            return
        new = lots[0]
        quantity = floor.shelves.on_hand(new, "STORE")
        old = self.wall.mounted[position.code]
        floor.shelves.bring(new, quantity, origin="STORE", to=self.wall.place)
        self.wall.mounted[position.code] = new
        floor.wait(5)
        self._forgotten = (floor.now, old, position.code, len(self._at(self.wall)))

    def _remember(self) -> None:
        """Record the mount late, with the time when it happened; take the old hoses back."""
        assert self._forgotten is not None
        floor = self.floor
        moment, old, code, before = self._forgotten
        since = self._at(self.wall)[before:]
        if len(since) < UNITS_UNTIL_REMEMBERED:
            return
        new = self.wall.mounted[code]
        quantity = floor.shelves.on_hand(new, self.wall.place) + len(since)
        floor.record(
            "mount",
            self.wall.person,
            at=instant(moment),
            station=self.wall.place,
            bench=self.wall.code,
            positions=[_brought(code, new, quantity)],
            note="forgotten when the hoses were changed",
        )
        left = floor.shelves.on_hand(old, self.wall.place)
        floor.record(
            "move",
            self.wall.person,
            item=old,
            quantity=str(left),
            place=self.wall.place,
            to_place="STORE",
        )
        floor.shelves.bring(old, left, origin=self.wall.place, to="STORE")
        floor.note(late_mounted_lot=new, units_of_the_late_mount=tuple(since))
        self._forgotten = None

    # --- more in the bin than in the book

    def _build_below_the_book(self, position: Position) -> bool:
        """Go on building from a bin that should be empty by the book, and report it."""
        if position.part not in ("PIN", "ORING") or not self._is_due_to_go_below():
            return False
        if self.wall.below_book:
            return False
        left = self.wall.left(position)
        lot = self.wall.mounted[position.code]
        if left >= position.per:
            return False
        self.floor.shelves.put(lot, position.part, self.wall.place, PIECES_OVER)
        self.wall.below_book = lot
        self._built_before_below = len(self._at(self.wall))
        return True

    def _is_due_to_go_below(self) -> bool:
        is_over = bool(self.floor.works.units_below_the_book)
        return len(self.assembly.units) > BELOW_AFTER and not is_over

    def _built_below(self) -> int:
        return len(self._at(self.wall)) - self._built_before_below

    def _count_the_bin(self) -> None:
        """Count what is really there."""
        floor = self.floor
        lot = self.wall.below_book
        floor.record(
            "count",
            self.wall.person,
            place=self.wall.place,
            item=lot,
            counted=str(floor.shelves.on_hand(lot, self.wall.place)),
            note="the supplier packs a few more than he counts",
        )
        floor.note(units_below_the_book=tuple(self._at(self.wall)[self._built_before_below :]))
        self.wall.below_book = ""


def _brought(position: str, lot: str, quantity: Decimal) -> dict[str, object]:
    return {"position": position, "item": lot, "origin": "STORE", "quantity": str(quantity)}
