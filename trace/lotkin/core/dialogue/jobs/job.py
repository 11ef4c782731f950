"""A piece of work that is told by scans: what it has, what it lacks, what it will record."""

from __future__ import annotations

from abc import ABC, abstractmethod
from copy import copy
from dataclasses import dataclass
from decimal import Decimal
from itertools import count
from typing import TYPE_CHECKING, ClassVar, Self
from uuid import UUID, uuid5

from lotkin.core.dialogue.doubts import doubt_of_number
from lotkin.core.dialogue.number_slot import NumberSlot
from lotkin.core.dialogue.reply import Reply, Tone
from lotkin.core.values.codes import new_code
from lotkin.core.values.instants import show_instant
from lotkin.core.values.quantities import from_micro, show_quantity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.dialogue.words import Word
    from lotkin.core.genealogy.items import Item
    from lotkin.core.scan.commands import ScanCommand
    from lotkin.core.values.canonical import Json

__all__ = ["Known", "Work", "codes_after", "free_code", "shown", "stock_slot"]

CODE_SPACE = 31**7
"""How many own codes there are; see `lotkin.core.values.codes`."""


@dataclass(frozen=True, slots=True)
class Known:
    """What a session hands to a work when it begins.

    Attributes:
        number: Identity of the work; ids of its events and new codes follow from it.
        started: Microseconds UTC when the run was started, if a start was scanned.
        last_rig: Code of the rig last used here.
        last_resources: Codes of the machines and tools last used here for this step.
    """

    number: UUID
    started: int | None = None
    last_rig: str = ""
    last_resources: tuple[str, ...] = ()


class Work(ABC):
    """Base of all works. Scans come through `take`; `events` is asked for when it is confirmed."""

    title: ClassVar[str]

    def __init__(self, known: Known) -> None:
        self.known = known
        self.numbers: dict[str, Decimal] = {}
        self.aside = ""
        """Key of a number that was asked for out of turn, such as scrap."""

    def copied(self) -> Self:
        """Give a copy that goes on by itself: what it gathers is its own; items never change."""
        twin = copy(self)
        for name, value in vars(self).items():
            if isinstance(value, (list, dict, set)):
                setattr(twin, name, value.copy())
        return twin

    @abstractmethod
    def take(self, word: Word, desk: Desk) -> Reply | None:
        """Take a scan; None if it has no place in this work."""

    def opening(self, word: Word, desk: Desk) -> Reply:
        """Take the scan that began the work."""
        return self.take(word, desk) or self.ok(f"{self.title}:", desk)

    @abstractmethod
    def lacks(self, desk: Desk) -> str:
        """Ask for what is missing besides numbers; "" if nothing is."""

    @abstractmethod
    def events(self, desk: Desk) -> list[dict[str, Json]]:
        """Give the events to record, without their envelopes."""

    @abstractmethod
    def read_back(self, desk: Desk) -> str:
        """Say what will be recorded."""

    def doubt(self, word: Word, desk: Desk) -> str:
        """Say what is odd about a scan, so that it is asked about once; "" if nothing is."""
        slot = self.open_slot(desk)
        if word.number is None or slot is None:
            return ""
        return doubt_of_number(slot, word.number) if self.expects_number(desk) else ""

    def expects_number(self, desk: Desk) -> bool:
        """Tell whether a number is wanted now, so that digits are one and no code."""
        return bool(self.aside) or (not self.lacks(desk) and self.open_slot(desk) is not None)

    def choices(self) -> tuple[ScanCommand, ...]:
        """List the cards that answer what is asked now; () if a card is no answer."""
        return ()

    def cautions(self) -> tuple[str, ...]:
        """List what the plan warns of in this work."""
        return ()

    def slots(self, desk: Desk) -> list[NumberSlot]:  # noqa: ARG002 - many works need none
        """List the numbers that are needed, in the order of asking."""
        return []

    def open_slot(self, desk: Desk) -> NumberSlot | None:
        """Give the number to ask for next."""
        if self.aside:
            return NumberSlot(self.aside, f"how many {self.aside}?")
        return next((slot for slot in self.slots(desk) if slot.key not in self.numbers), None)

    def ask(self, desk: Desk) -> str:
        """Ask for the next thing; what will be recorded, if nothing is missing."""
        lacking = self.lacks(desk)
        if lacking:
            return lacking
        slot = self.open_slot(desk)
        if slot is None:
            return f"confirm: {self.read_back(desk)}"
        if slot.proposal is None:
            return slot.prompt
        return f"{slot.prompt} (Enter: {slot.proposal:f})"

    def is_complete(self, desk: Desk) -> bool:
        """Tell whether it can be confirmed."""
        return not self.lacks(desk) and self.open_slot(desk) is None

    def take_number(self, number: Decimal | None, desk: Desk) -> Reply | None:
        """Take a typed number, or the proposal for None; None if no number is wanted."""
        slot = self.open_slot(desk)
        if slot is None or (number is None and slot.proposal is None):
            return None
        value = slot.proposal if number is None else number
        assert value is not None
        self.numbers[slot.key] = value
        self.aside = ""
        return self.ok(f"{slot.prompt.rstrip('?')}: {value:f}", desk)

    def ok(self, said: str, desk: Desk) -> Reply:
        """Say what was understood, and ask for the next thing."""
        return Reply(Tone.ASK, said, self.ask(desk))

    def refuse(self, why: str, desk: Desk) -> Reply:
        """Refuse a scan, and ask again."""
        return Reply.refused(why, self.ask(desk))

    def envelope(
        self, events: list[dict[str, Json]], desk: Desk, by: str, remark: str
    ) -> list[dict[str, Json]]:
        """Put ids, time, station and the person who confirms to events."""
        note: dict[str, Json] = {"note": remark} if remark else {}
        return [
            {
                "id": str(uuid5(self.known.number, str(i))),
                "at": show_instant(desk.now - (len(events) - 1 - i)),
                "by": by,
                "station": desk.station,
                **note,
                **event,
            }
            for i, event in enumerate(events)
        ]

    def own_code(self, turn: int = 0) -> str:
        """Make a new code that follows from the identity of the work."""
        return new_code((self.known.number.int + turn) % CODE_SPACE)


def shown(item: Item) -> str:
    """Name an item for people: code and part."""
    return f"{item.code} ({item.part})" if item.part else item.code


def free_code(base: str, desk: Desk) -> str:
    """Give a code that is not taken: the base, then with a letter B, C … behind it."""
    return next(code for code in codes_after(base) if desk.view.item(code) is None)


def codes_after(base: str) -> Iterator[str]:
    """Give the codes of one series in their order: the base, then with B, C … behind it."""
    yield base
    for letter in "BCDEFGHJKMNPQRSTUVWXYZ":
        yield f"{base}{letter}"
    for number in count(2):
        yield f"{base}Z{number}"


def quantity_of(item: Item, desk: Desk) -> str:
    """Say how much of an item there is."""
    return show_quantity(desk.on_hand(item), item.unit)


def stock_slot(key: str, prompt: str, item: Item, desk: Desk) -> NumberSlot:
    """Ask for a number of an item: all there is is proposed, more is asked about."""
    there = all_of(item, desk)
    why = f"the book has {there:f} {item.unit} of {item.code}"
    return NumberSlot(key, prompt, there, there, why)


def all_of(item: Item, desk: Desk) -> Decimal:
    """Give how much of an item there is, here if some is here."""
    place = desk.place_of(item)
    return from_micro(max(desk.on_hand(item, place), 0))
