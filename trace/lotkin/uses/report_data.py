"""What reports say: answers together with the journal's head, all of one state of the store."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.draft import Draft
from lotkin.core.events import Ship
from lotkin.core.reading import read
from lotkin.uses.cases import show_case
from lotkin.uses.complaint import complaint
from lotkin.uses.contain import contain
from lotkin.uses.where import NOTHING_SAID, Question, where_from

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin.core.answers import Containment, Row
    from lotkin.core.items import Item
    from lotkin.core.plan import ShopPlan
    from lotkin.core.seals import SealOf
    from lotkin.uses.cases import CaseShown
    from lotkin.uses.complaint import Complaint
    from lotkin.uses.ports import CanRead, Reading

__all__ = [
    "CaseData",
    "ContainmentData",
    "CustomerData",
    "Holding",
    "Origin",
    "UnitData",
    "case_data",
    "containment_data",
    "customer_data",
    "unit_data",
]


@dataclass(frozen=True, slots=True)
class ContainmentData:
    """A containment as a report shows it.

    Attributes:
        found: The answer.
        plan: The plan in force; None for none.
        head_number, head_hash: Last row of the journal that it was answered from.
        seal: The newest seal; None for none.
    """

    found: Containment
    plan: ShopPlan | None
    head_number: int
    head_hash: str
    seal: SealOf | None = None


@dataclass(frozen=True, slots=True)
class CaseData:
    """A case as it stands, and what its scope takes in."""

    shown: CaseShown
    containment: ContainmentData


@dataclass(frozen=True, slots=True)
class Holding:
    """Pieces that a customer has, and how they got there.

    Attributes:
        row: The item; its only place is the customer.
        carton: Code of the carton that they are in; "" for none.
        shipment: Code of the latest shipment that took them there; "" if none is recorded.
        shipped_at: Microseconds UTC.
        reference: Order or delivery note.
    """

    row: Row
    carton: str
    shipment: str = ""
    shipped_at: int | None = None
    reference: str = ""


@dataclass(frozen=True, slots=True)
class CustomerData:
    """A containment, and what each customer has of it, in order of their codes."""

    containment: ContainmentData
    customers: dict[str, tuple[Holding, ...]]


@dataclass(frozen=True, slots=True)
class Origin:
    """A heat or supplier's lot behind a component, and whether every piece of that is of it."""

    item: Item
    is_certain: bool


@dataclass(frozen=True, slots=True)
class UnitData:
    """All that is on record of a unit, for a report.

    Attributes:
        origins: Heats and suppliers' lots by the code of a lot in the unit.
        plan: The plan in force; None for none.
        head_number, head_hash: Last row of the journal that it was read from.
        seal: The newest seal; None for none.
    """

    unit: Complaint
    origins: dict[str, tuple[Origin, ...]]
    plan: ShopPlan | None
    head_number: int
    head_hash: str
    seal: SealOf | None = None


def _seal(view: Reading) -> SealOf | None:
    if not view.entries_of(["seal"]):
        return None
    # what knows signatures is slow to load, and most works seal nothing
    from lotkin.uses.seal import last_seal  # noqa: PLC0415

    return last_seal(view)


@dataclass(frozen=True, slots=True)
class _OneState:
    """A store that is one state of another one: all that is asked of it fits together."""

    view: Reading

    @contextmanager
    def reading(self) -> Iterator[Reading]:
        """Give the one view there is."""
        yield self.view


def containment_data(
    store: CanRead, texts: Sequence[str], question: Question = NOTHING_SAID
) -> ContainmentData:
    """Find all that some items take in, for a report.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
    """
    with store.reading() as view:
        return _containment(view, texts, question)


def case_data(store: CanRead, code: str) -> CaseData:
    """Show a case as it stands now, for a report.

    Raises:
        UnknownCode: There is no such case.
    """
    with store.reading() as view:
        shown = show_case(_OneState(view), code)
        number = view.plan_number()
        plan = view.plan(number) if number else None
        return CaseData(
            shown, ContainmentData(shown.containment, plan, *view.journal_head(), _seal(view))
        )


def customer_data(
    store: CanRead, texts: Sequence[str], question: Question = NOTHING_SAID
) -> CustomerData:
    """Find what each customer has of what some items take in, and when it was shipped.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
    """
    with store.reading() as view:
        data = _containment(view, texts, question)
        shipments = _Shipments(view, data.found.answer.as_of)
        customers = {
            customer: tuple(shipments.holding(row, customer) for row in rows)
            for customer, rows in data.found.customers.items()
        }
        return CustomerData(data, customers)


def unit_data(store: CanRead, text: str) -> UnitData:
    """Put together all that is on record of a unit, and what its components come from.

    Raises:
        NotFound, Ambiguous: The text leads nowhere, to several items, or to no unit.
    """
    with store.reading() as view:
        unit = complaint(_OneState(view), text)
        lots = {one.lot.code: one.lot for one in unit.components}
        lots |= {other.code: other for one in unit.components for other in one.alternatives}
        number = view.plan_number()
        return UnitData(
            unit,
            {code: tuple(_origins(view, lots[code])) for code in sorted(lots)},
            view.plan(number) if number else None,
            *view.journal_head(),
            _seal(view),
        )


def _origins(view: Reading, lot: Item) -> Iterator[Origin]:
    """Find the heats and suppliers' lots behind a lot, itself if it has none and was bought."""
    sources = frozenset({"heat", "source-lot"})
    rows = list(where_from(_OneState(view), lot.code, Question(kinds=sources)).items)
    if not rows and lot.supplier:
        yield Origin(lot, True)
    for row in rows:
        item = view.item(row.code)
        if item is not None:
            yield Origin(item, row.certain)


def _containment(view: Reading, texts: Sequence[str], question: Question) -> ContainmentData:
    found = contain(_OneState(view), texts, question)
    number = view.plan_number(question.as_of)
    plan = view.plan(number) if number else None
    return ContainmentData(found, plan, *view.journal_head(), _seal(view))


class _Shipments:
    """Finds the shipment that took something to a customer, each read once."""

    def __init__(self, view: Reading, as_of: int) -> None:
        self._view = view
        self._as_of = as_of
        self._ships: dict[int, Ship | None] = {}
        self._of: dict[str, list[Item]] = {}

    def holding(self, row: Row, customer: str) -> Holding:
        """Tell how what a row says came to a customer."""
        carton = row.at[0].within
        found = [
            (item.made_at or 0, item, ship)
            for code in dict.fromkeys((carton or row.code, row.code))
            for item in self._shipments_of(code)
            if (ship := self._ship(item.event)) is not None and ship.customer == customer
        ]
        if not found:
            return Holding(row, carton)
        _, item, ship = max(found, key=lambda one: (one[0], one[1].event))
        return Holding(row, carton, item.code, item.made_at, ship.reference)

    def _shipments_of(self, code: str) -> list[Item]:
        if code not in self._of:
            self._of[code] = [
                item
                for link in self._view.children(code)
                if link.event <= self._as_of
                and (item := self._view.item(link.child)) is not None
                and item.kind == "shipment"
            ]
        return self._of[code]

    def _ship(self, seq: int) -> Ship | None:
        if seq not in self._ships:
            event = read(Draft(self._view), self._view.entry(seq))
            self._ships[seq] = event if isinstance(event, Ship) else None
        return self._ships[seq]
