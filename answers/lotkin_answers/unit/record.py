"""The record of a unit: what it is built of, what was done to it, and where it went.

Moments are texts per ISO 8601 with their offset.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from lotkin.core.journal.seals import SealOf

__all__ = [
    "BehindRow",
    "ChangeRow",
    "ComponentRow",
    "InspectionRow",
    "OriginRow",
    "UnitRecord",
    "UnitTestRow",
    "WayRow",
]


class ComponentRow(NamedTuple):
    """One component; `instead` names lots that it may have come from instead."""

    position: str
    part: str
    part_name: str
    quantity: Decimal
    unit: str
    lot: str
    instead: str
    supplier: str
    supplier_lot: str
    is_in_it: bool
    first_state: str
    last_state: str


class OriginRow(NamedTuple):
    """A heat, supplier's lot or outside batch behind a lot that is or was in the unit.

    `lot` is one code, or several joined by "or" where it is not known which of them it was;
    `certainty` is "no longer" of what was taken out.
    """

    lot: str
    part: str
    kind: str
    number: str
    supplier: str
    certainty: str


class UnitTestRow(NamedTuple):
    """One test, with all its readings."""

    at: str
    state: str
    test: str
    readings: str
    limits: str
    is_passed: bool | None
    resources: str
    by: str


class InspectionRow(NamedTuple):
    """One inspection, of the unit or of a lot behind it."""

    at: str
    inspection: str
    item: str
    is_of_unit: bool
    result: str
    measured: str
    reason: str
    by: str


class WayRow(NamedTuple):
    """One step of where it went."""

    at: str
    what: str
    state: str
    carton: str
    shipment: str
    customer: str
    reference: str
    reason: str


class ChangeRow(NamedTuple):
    """What was taken out and put in."""

    at: str
    what: str
    state: str
    taken_out: str
    put_in: str
    by: str
    note: str


class BehindRow(NamedTuple):
    """A run or resource that it went through."""

    family: str
    kind: str
    code: str
    certainty: str


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitRecord:
    """All that is on record of a unit.

    Attributes:
        states: Code and moment of each state, the first one first.
        where: Where it is now; "" for nowhere.
        hold: Why it is held; "" if it is free.
        head_number, head_hash: Last row of the journal.
        seal: The newest seal of the journal; None for none.
        is_imported: Whether it came with an import: what that did not bring along is not known.
    """

    serial: str
    part: str
    part_name: str
    works: str
    built: str
    started: str
    where: str
    hold: str
    as_of: int
    head_number: int
    head_hash: str
    seal: SealOf | None = None
    is_imported: bool = False
    written: str
    states: tuple[tuple[str, str], ...]
    components: tuple[ComponentRow, ...] = ()
    origins: tuple[OriginRow, ...] = ()
    tests: tuple[UnitTestRow, ...] = ()
    inspections: tuple[InspectionRow, ...] = ()
    way: tuple[WayRow, ...] = ()
    changes: tuple[ChangeRow, ...] = ()
    behind: tuple[BehindRow, ...] = field(default=())
