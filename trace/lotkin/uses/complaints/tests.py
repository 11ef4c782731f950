"""What was tested and inspected on a unit, and where its readings stand among its siblings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.events import Inspect, Test
from lotkin.core.quality.percentile import standing_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from decimal import Decimal

    from lotkin.core.events.quality.inspection import Measure
    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.view import Entry
    from lotkin.core.quality.percentile import Standing
    from lotkin.uses.asking.amended_events import AsRead
    from lotkin.uses.ports import Reading

__all__ = ["Inspected", "Tested", "inspected", "tested"]

US_PER_DAY = 86_400_000_000
DAYS_AROUND = 90


@dataclass(frozen=True, slots=True)
class Tested:
    """One test of the unit.

    Attributes:
        standings: For each reading, where it stands among the readings of the same number of
            other units of the part, each by its latest such test within `DAYS_AROUND` days.
        passed: None where it was not judged.
        mean: Where the mean of the readings stands among theirs.
    """

    event: int
    at: int
    by: str
    state: str
    name: str
    unit: str
    readings: tuple[Decimal, ...]
    min: Decimal | None
    max: Decimal | None
    passed: bool | None
    resources: tuple[str, ...]
    standings: tuple[Standing, ...]
    mean: Standing


@dataclass(frozen=True, slots=True)
class Inspected:
    """One inspection: of the unit itself, or of a lot behind it."""

    code: str
    item: str
    event: int
    at: int
    by: str
    result: str
    reason: str
    resources: tuple[str, ...]
    measures: tuple[Measure, ...]
    of_unit: bool


def tested(view: Reading, as_read: AsRead, unit: Item, history: Sequence[Entry]) -> list[Tested]:
    """List the tests of a unit in order of time."""
    serial = unit.serial or unit.code
    own = [
        (entry, event)
        for entry, event in as_read.events(entry for entry in history if entry.kind == "test")
        if isinstance(event, Test)
    ]
    found = []
    for entry, event in sorted(own, key=lambda each: each[1].at_us):
        others = _others(view, as_read, unit.part, event)
        rows = [readings for other, readings in others.items() if other != serial]
        standings = tuple(
            standing_of(value, [row[k] for row in rows if k < len(row)])
            for k, value in enumerate(event.readings)
        )
        found.append(
            Tested(
                entry.seq,
                event.at_us,
                event.by,
                event.state or event.unit,
                event.name,
                event.measure_unit,
                event.readings,
                event.min,
                event.max,
                event.passed,
                event.resources,
                standings,
                standing_of(_mean(event.readings), [_mean(row) for row in rows]),
            )
        )
    return found


def _others(
    view: Reading, as_read: AsRead, part: str, test: Test
) -> Mapping[str, tuple[Decimal, ...]]:
    """Map serials of the part to the readings of their latest such test around the same time."""
    around = DAYS_AROUND * US_PER_DAY
    entries = view.entries_of(["test"], start=test.at_us - around, end=test.at_us + around)
    latest: dict[str, tuple[int, tuple[Decimal, ...]]] = {}
    for _, event in as_read.events(entries):
        if not isinstance(event, Test) or event.name != test.name:
            continue
        item = view.item(event.unit)
        if item is None or item.part != part:
            continue
        serial = item.serial or item.code
        if serial not in latest or latest[serial][0] <= event.at_us:
            latest[serial] = (event.at_us, event.readings)
    return {serial: readings for serial, (_, readings) in latest.items()}


def _mean(values: Sequence[Decimal]) -> Decimal:
    return sum(values, start=values[0] * 0) / len(values)


def inspected(
    view: Reading, as_read: AsRead, states: Sequence[Item], behind: Sequence[Item]
) -> list[Inspected]:
    """List the inspections behind a unit, its own first, each in order of time."""
    own = {state.code for state in states}
    found = []
    for item in behind:
        if item.kind != "inspection":
            continue
        event = as_read.event(view.entry(item.event))
        if isinstance(event, Inspect):
            found.append(
                Inspected(
                    event.inspection,
                    event.subject,
                    item.event,
                    event.at_us,
                    event.by,
                    event.result,
                    event.reason,
                    event.resources,
                    event.measures,
                    bool({event.subject, event.item} & own),
                )
            )
    return sorted(found, key=lambda one: (not one.of_unit, one.at, one.event))
