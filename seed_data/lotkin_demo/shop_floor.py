"""The floor of the demo works: its clock, its shelves, its plans for later, and what it records."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from random import Random
from typing import TYPE_CHECKING, Any
from uuid import UUID, uuid5

from lotkin.core.values.instants import show_instant, to_us
from lotkin_demo.material.shelves import Shelves
from lotkin_demo.notable import DemoWorks
from lotkin_demo.plan_file import shop_plan

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["EventData", "ShopFloor", "instant"]

EventData = dict[str, object]

OPENS = time(5, 40)
LATEST = time(17, 30)
NAMESPACE = UUID("95200000-0000-5000-8000-000000000952")


def instant(moment: datetime) -> str:
    """Write a moment as events have it."""
    return show_instant(to_us(moment))


class ShopFloor:
    """One works on one run through its calendar; everything random comes from one seed.

    Attributes:
        rng: The only source of chance.
        now: The time on the clock in the hall.
        day: Number of the working day, from 0.
        shelves: What lies where.
        works: The notable codes so far.
        outbox: (event, microseconds when it is recorded) not yet handed over.
    """

    def __init__(self, seed: int) -> None:
        self.seed = seed
        self.rng = Random(seed)
        self.plan = shop_plan()
        self.shelves = Shelves()
        self.works = DemoWorks()
        self.now = datetime(2025, 1, 7, 5, 40, tzinfo=UTC)
        self.day = 0
        self.outbox: list[tuple[EventData, int]] = []
        self._recorded = 0
        self._numbers: dict[str, int] = {}
        self._agenda: dict[int, list[Callable[[], object]]] = {}

    def open_day(self, number: int, day: date) -> None:
        """Begin a working day."""
        self.day = number
        self.now = datetime.combine(day, OPENS, UTC) + timedelta(minutes=self.rng.randint(0, 15))

    def later(self, days: int, task: Callable[[], object]) -> None:
        """Plan a task for so many working days from now, at least one."""
        self._agenda.setdefault(self.day + max(days, 1), []).append(task)

    def do_what_is_due(self) -> None:
        """Do the tasks that were planned for today, in the order they were planned."""
        for task in self._agenda.pop(self.day, ()):
            task()

    def wait(self, minutes: float) -> None:
        """Let time pass; the works is never open past its latest hour."""
        self.now += timedelta(seconds=round(minutes * 60))
        if self.now.time() > LATEST:
            message = f"too much work for one day: {self.now}"
            raise ValueError(message)

    def code(self, prefix: str, width: int = 3) -> str:
        """Give the next code of a series, e.g. `ANO-014`."""
        number = self._numbers[prefix] = self._numbers.get(prefix, 0) + 1
        return f"{prefix}-{number:0{width}d}"

    def issue(self, part: str, quantity: int) -> str:
        """Issue the next traveller for pieces of a part."""
        traveller = self.code("T", 4)
        self.record("issue", "mara", minutes=0, traveller=traveller, part=part, quantity=quantity)
        return traveller

    def record(
        self,
        kind: str,
        by: str,
        fields: EventData | None = None,
        *,
        minutes: float | None = None,
        **more: object,
    ) -> str:
        """Record an event, after a few minutes and for now unless it says `at`.

        Fields that are None are left out.

        Returns:
            The id of the event.
        """
        self.wait(self.rng.randint(1, 3) if minutes is None else minutes)
        self._recorded += 1
        event_id = str(uuid5(NAMESPACE, f"{self.seed}/{self._recorded}"))
        event: EventData = {"id": event_id, "kind": kind, "at": instant(self.now), "by": by}
        said = {**(fields or {}), **more}
        event.update((name, value) for name, value in said.items() if value is not None)
        self.outbox.append((event, to_us(self.now)))
        return event_id

    def note_first(self, **codes: str) -> None:
        """Remember the first of several; later ones change nothing."""
        self.note(**{name: code for name, code in codes.items() if not getattr(self.works, name)})

    def note(self, **codes: Any) -> None:
        """Remember notable codes."""
        self.works = replace(self.works, **codes)
