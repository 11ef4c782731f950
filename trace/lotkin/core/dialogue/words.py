"""What a scanned or typed text means at a station."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.errors import AmbiguousCode, LotkinError
from lotkin.core.scan import (
    DigitalLink,
    ElementString,
    Message06,
    OwnCode,
    match_scan,
    read_scan,
)
from lotkin.core.scan.commands import (
    BenchSpot,
    ScanCommand,
    TravellerStep,
    read_bench_spot,
    read_command,
    read_traveller_step,
)

if TYPE_CHECKING:
    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.genealogy.items import Item

__all__ = ["Word", "understand"]

NUMBER = re.compile(r"\d{1,12}(?:[.,]\d{1,6})?")


@dataclass(frozen=True, slots=True)
class Word:
    """The meaning of a text; several fields may be set where it can mean several things.

    Attributes:
        text: What was scanned, without space around it.
        command, number, spot, step, item: What it is, if it is one.
        person, place, bench, customer, supplier, part: Its code, if the plan knows it as one.
        label: A supplier's label with data identifiers.
        candidates: Codes of the items that carry this supplier's number, if several do.
    """

    text: str
    command: ScanCommand | None = None
    number: Decimal | None = None
    spot: BenchSpot | None = None
    step: TravellerStep | None = None
    item: Item | None = None
    person: str = ""
    place: str = ""
    bench: str = ""
    customer: str = ""
    supplier: str = ""
    part: str = ""
    label: Message06 | None = None
    candidates: tuple[str, ...] = ()

    @property
    def is_new_code(self) -> bool:
        """Tell whether it can be the code of something that is not recorded yet."""
        known = self.command or self.item or self.spot or self.step or self.label
        named = (
            self.person or self.place or self.bench or self.customer or self.supplier or self.part
        )
        return not known and not named and not self.candidates and is_code(self.text)


def is_code(text: str) -> bool:
    """Tell whether a text can be a code."""
    return re.fullmatch(r"[!-~]{1,80}", text) is not None and not text.startswith("$")


def understand(text: str, desk: Desk) -> Word:
    """Find what a text means: a command, a number, a name in the plan, an item, a label."""
    text = text.strip()
    command = read_command(text)
    if command is not None:
        return Word(text, command=command)
    spot = read_bench_spot(text)
    if spot is not None:
        return Word(text, spot=spot)
    plan = desk.plan
    scan = read_scan(text)
    item, candidates = _item(text, desk)
    step = read_traveller_step(text)
    if step is not None and (item is not None or desk.traveller_part(step.traveller) is None):
        step = None
    number = NUMBER.fullmatch(text)
    return Word(
        text,
        number=Decimal(text.replace(",", ".")) if number else None,
        step=step,
        item=item,
        person=text if plan.person(text) is not None else "",
        place=text if plan.place(text) is not None else "",
        bench=text if plan.bench(text) is not None else "",
        customer=text if plan.customer(text) is not None else "",
        supplier=text if plan.supplier(text) is not None else "",
        part=text if plan.part(text) is not None else "",
        label=scan if isinstance(scan, Message06) else None,
        candidates=candidates,
    )


def _item(text: str, desk: Desk) -> tuple[Item | None, tuple[str, ...]]:
    """Find the item that a text leads to, or those among which it does not decide."""
    try:
        shop = desk.shop()
        return shop.delivery_left(shop.led_to(text), text), ()
    except AmbiguousCode as several:
        return None, several.candidates
    except LotkinError:
        pass
    scan = read_scan(text)
    if not isinstance(scan, (OwnCode, ElementString, DigitalLink)):
        return None, ()
    found = match_scan(scan, desk.view, desk.plan).items
    if len(found) == 1:
        return found[0], ()
    return None, tuple(item.code for item in found)
