"""What each customer has of what some items, or a case, take in, and how it got there."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from lotkin.core.cases.membership import find_case
from lotkin.core.errors import BadEvent
from lotkin.core.events import Adopt, Ship
from lotkin.core.events.reading import read
from lotkin.core.genealogy.draft import Draft
from lotkin.uses.asking.where import NOTHING_SAID, Question
from lotkin.uses.reporting.report_data import case_data, containment_data, one_state

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Sequence

    from lotkin.core.answers.rows import Row
    from lotkin.core.cases.membership import Case
    from lotkin.core.events import Event
    from lotkin.core.genealogy.items import Item
    from lotkin.uses.ports import CanRead, Reading
    from lotkin.uses.reporting.report_data import ContainmentData

__all__ = ["CustomerData", "Holding", "customer_data"]


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
    """A containment, and what each customer has of it, in order of their codes.

    Attributes:
        case: The case that it was asked for; None where items were named.
    """

    containment: ContainmentData
    customers: dict[str, tuple[Holding, ...]]
    case: Case | None = None


def customer_data(
    store: CanRead, texts: Sequence[str], question: Question = NOTHING_SAID
) -> CustomerData:
    """Find what each customer has of what some items take in, and when it was shipped.

    Args:
        store: Where to look.
        texts: Codes, serials, labels or supplier's numbers; or one code of a case, whose own scope
            and span count then. What the case has released is left out.
        question: What narrows the answer.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
        BadEvent: A case is named beside something else, or with what would narrow it.
    """
    with store.reading() as view:
        case = _case_named(view, texts, question)
        if case is None:
            data, wanted = containment_data(one_state(view), texts, question), None
        else:
            of_case = case_data(one_state(view), case.code)
            data, wanted = of_case.containment, set(of_case.shown.members)
        shipments = _Shipments(view, data.found.answer.as_of)
        customers = {
            customer: tuple(shipments.holding(row, customer) for row in _of_case(rows, wanted))
            for customer, rows in data.found.customers.items()
        }
        found = {customer: holdings for customer, holdings in customers.items() if holdings}
        return CustomerData(data, found, case)


def _case_named(view: Reading, texts: Sequence[str], question: Question) -> Case | None:
    named = [case for text in texts if not view.item(text) and (case := find_case(view, text))]
    if not named:
        return None
    if len(texts) > 1:
        raise BadEvent(named[0].code, "is a case: name it alone, or name its items")
    if replace(question, families=frozenset(), kinds=frozenset()) != NOTHING_SAID:
        raise BadEvent(named[0].code, "is a case and has its own span: ask without one")
    return named[0]


def _of_case(rows: Iterable[Row], wanted: Collection[str] | None) -> list[Row]:
    """Keep the members of a case, and the cartons that any of them is in; None keeps all."""
    if wanted is None:
        return list(rows)
    members = [row for row in rows if row.code in wanted]
    cartons = {row.code: row for row in members if row.kind == "carton"}
    around = {row.at[0].within for row in members if row.kind != "carton"}
    full: set[str] = set()
    while around:
        full |= around
        around = {row.at[0].within for code, row in cartons.items() if code in around} - full
    if not any(row.kind != "carton" for row in members):
        return members
    return [row for row in members if row.kind != "carton" or row.code in full]


class _Shipments:
    """Finds the shipment that took something to a customer, each event read once."""

    def __init__(self, view: Reading, as_of: int) -> None:
        self._view = view
        self._as_of = as_of
        self._events: dict[int, Event] = {}
        self._of: dict[str, list[Item]] = {}

    def holding(self, row: Row, customer: str) -> Holding:
        """Tell how what a row says came to a customer."""
        carton = row.at[0].within
        found = [
            (item.made_at or 0, item, reference)
            for code in dict.fromkeys((carton or row.code, row.code))
            for item in self._shipments_of(code)
            if (reference := self._reference(item, code, customer)) is not None
        ]
        if not found:
            return Holding(row, carton)
        _, item, reference = max(found, key=lambda one: (one[0], one[1].event))
        return Holding(row, carton, item.code, item.made_at, reference)

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

    def _reference(self, shipment: Item, code: str, customer: str) -> str | None:
        """Give the reference of a shipment that took an item to a customer; None for no such."""
        event = self._event(shipment.event)
        if isinstance(event, Ship) and event.customer == customer:
            return event.reference
        if isinstance(event, Adopt) and any(
            posting.item == code and posting.destination == customer for posting in event.postings
        ):
            return ""
        return None

    def _event(self, seq: int) -> Event:
        if seq not in self._events:
            self._events[seq] = read(Draft(self._view), self._view.entry(seq))
        return self._events[seq]
