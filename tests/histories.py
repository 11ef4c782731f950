"""Random histories of a works over all kinds of events, each step valid or refused by a rule.

A test draws steps one after the other and looks in between:

    history = History(data.draw)
    for _ in range(20):
        history.step()

What a step means is in `tests/history_steps.py` (things done), `tests/history_cases.py`
(suspicions) and `tests/history_corrections.py` (amendments, voids and what is said twice).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol, TypeVar

from hypothesis import strategies as st

from lotkin.core.errors import LotkinError
from lotkin.core.genealogy.items import Item
from lotkin.core.values.kinds import Family
from lotkin.core.values.places import Spot
from tests.small_works import PLAN, Works

if TYPE_CHECKING:
    from collections.abc import Sequence

    from hypothesis.strategies import SearchStrategy

    from lotkin.uses.recording.record import Recorded
    from tests.small_works import Data

__all__ = ["AROUND", "History", "NothingToDoError"]

T = TypeVar("T")

MICRO = 1_000_000
TRIES = 6
PLACES = ("SHELF", "FLOOR", "RED-BOX")
SUPPLIERS = ("ANODISER", "MILL")
CUSTOMERS = ("CLINIC", "HOSPITAL")
BENCHES = ("B1", "B2")

_CORRECTED = ("amend", "void", "say_again")
AROUND: dict[str, tuple[str, ...]] = {
    "everything": (),
    "the bench": ("mount", "build", "swap", "dismantle", "pool", "test", "inspect", *_CORRECTED),
    "mixing": ("make", "blend", "pool", "split", "find", "identify", "count", *_CORRECTED),
    "outside": ("make", "pool", "send", "take_back", "merge_batches", "count", *_CORRECTED),
    "suspicion": ("make", "split", "move", "open_case", "decide", "close_case", *_CORRECTED),
    "packing": ("build", "pack", "unpack", "ship", "come_back", "move", "test", *_CORRECTED),
}
"""Subjects of a history, and the steps that it is then made of; no names: all of them."""


class Draw(Protocol):
    """Draws from a strategy of whole numbers; hypothesis gives it."""

    def __call__(self, strategy: SearchStrategy[int], /) -> int: ...


class NothingToDoError(Exception):
    """The works holds nothing that a step could be done with."""


class History:
    """A works in which random things happen.

    Attributes:
        works: The works.
        items: All living items by code, as the step finds them.
        stock: What of each lies where, ends left out, as the step finds it.
        refused: Kinds of the errors met, in order.
    """

    def __init__(self, draw: Draw, *, planned: bool = False) -> None:
        self.draw = draw
        self.works = Works(plan=PLAN if planned else "")
        self.planned = planned
        self.items: dict[str, Item] = {}
        self.stock: dict[str, dict[Spot, int]] = {}
        self.refused: list[str] = []
        self._codes = 0

    # --- drawing

    def whole(self, least: int, most: int) -> int:
        """Draw a whole number."""
        return self.draw(st.integers(least, max(least, most)))

    def pick(self, some: Sequence[T]) -> T:
        """Draw one of some."""
        if not some:
            raise NothingToDoError
        return some[self.whole(0, len(some) - 1)]

    def several(self, some: Sequence[T], most: int = 3) -> list[T]:
        """Draw one or more of some, each once, in any order."""
        left = list(some)
        chosen = []
        for _ in range(self.whole(1, min(most, len(left)))):
            one = self.pick(left)
            left.remove(one)
            chosen.append(one)
        return chosen

    def once_in(self, times: int) -> bool:
        """Draw whether something seldom happens; the simplest history is without."""
        return self.whole(0, times - 1) == times - 1

    def new_code(self, prefix: str) -> str:
        """Give a code that was not used before."""
        self._codes += 1
        return f"{prefix}{self._codes}"

    def quantity(self, unit: str, most: int) -> str:
        """Draw a quantity up to so many millionths, mostly; whole where it is of pieces."""
        if unit == "pcs":
            return str(self.whole(1, max(1, min(most // MICRO, 30))))
        micro = self.whole(1, max(1, min(most, 20 * MICRO)))
        return f"{micro // MICRO}.{micro % MICRO:06d}"

    # --- what is there

    def look(self) -> None:
        """See what is in the works now."""
        with self.works.store.reading() as view:
            self.items = {item.code: item for item in view.all_items()}
            rows = view.all_stock()
        self.stock = {}
        for code, spot, micro in rows:
            if not spot.is_end:
                self.stock.setdefault(code, {})[spot] = micro

    def of_kind(self, *kinds: str) -> list[str]:
        """List the codes of items of some kinds."""
        return [code for code, item in self.items.items() if item.kind in kinds]

    def lots(self, *units: str, part: str = "") -> list[str]:
        """List lots of which something lies in the open inside the works."""
        return [
            code
            for code, spots in self.stock.items()
            if self.items[code].family is Family.MATERIAL
            and self.items[code].kind != "unit"
            and (not units or self.items[code].unit in units)
            and part in ("", self.items[code].part)
            and any(self.is_open(spot) and micro > 0 for spot, micro in spots.items())
        ]

    def units(self) -> list[str]:
        """List states of units that are somewhere."""
        return [code for code in self.stock if self.items[code].kind == "unit"]

    def is_open(self, spot: Spot) -> bool:
        """Tell whether a spot is inside the works and not within anything."""
        return not spot.within and spot.place not in (*SUPPLIERS, *CUSTOMERS)

    def spots(self, code: str) -> list[Spot]:
        """List where pieces of an item are, open spots inside the works first."""
        there = [spot for spot, micro in self.stock.get(code, {}).items() if micro > 0]
        return sorted(there, key=lambda spot: (not self.is_open(spot), spot))

    def take(self, code: str, *, most: int | None = None) -> Data:
        """Write what is taken of an item: from one spot, seldom more than is there."""
        spots = self.spots(code)
        if not spots:
            raise NothingToDoError
        spot = spots[0] if not self.once_in(4) else self.pick(spots)
        there = self.stock[code][spot]
        if self.once_in(12):
            there += 5 * MICRO
        row: Data = {"item": code, "place": spot.place}
        if spot.within:
            row["within"] = spot.within
        if not self.once_in(6):
            unit = self.items[code].unit
            row["quantity"] = self.quantity(unit, there if most is None else min(there, most))
        return row

    # --- doing

    def step(self, *names: str) -> Recorded | None:
        """Do one random thing, of some kinds if they are named.

        Returns:
            What was recorded; None if a rule refused it or there was nothing to do it with.
        """
        from tests.history_cases import CASES
        from tests.history_corrections import CORRECTIONS
        from tests.history_steps import STEPS

        steps = [
            one for one in (*STEPS, *CASES, *CORRECTIONS) if not names or one.__name__ in names
        ]
        self.look()
        for _ in range(TRIES):
            try:
                return self.try_out(self.pick(steps)(self))
            except NothingToDoError:
                continue
        return None

    def stock_up(self) -> None:
        """Begin with two lots of each part, so that there is something to do things with."""
        for number in ("1", "2"):
            self.works.receive(f"SCREWS-{number}", 40)
            self.works.receive(f"TIPS-{number}", 30, item_kind="machined-lot", part="TIP")
            self.works.powder(f"POWDER-{number}", 10)
            self.works.bar(f"BAR-{number}", 12, heat=f"N{number}")

    def try_out(self, data: Data) -> Recorded | None:
        """Record an event unless a rule refuses it."""
        try:
            return self.works.send_in(data)
        except LotkinError as error:
            self.refused.append(f"{data['kind']}: {error.kind}")
            return None

    def event(self, kind: str, **fields: object) -> Data:
        """Make an event: mostly now and asked for, seldom late or reported."""
        data = self.works.data(kind, **fields)
        if self.once_in(8):
            data["reported"] = True
        if "at" not in fields and self.once_in(8):
            data["at"] = self.works.data("x", at=self.whole(1, self.works.minute))["at"]
        return data

    @classmethod
    def drawn(cls, draw: Draw, *, most: int = 25) -> History:
        """Let up to so many things happen, around one subject, with a plan or without."""
        history = cls(draw, planned=bool(draw(st.integers(0, 1))))
        subject = history.pick(tuple(AROUND))
        if AROUND[subject] or not history.once_in(2):
            history.stock_up()
        for _ in range(history.whole(1, most)):
            history.step(*AROUND[subject])
        history.look()
        return history
