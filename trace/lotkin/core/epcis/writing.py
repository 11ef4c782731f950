"""Telling one of our events as an EPCIS event.

What was made from something is a TransformationEvent, so that whoever reads the standard's fields
alone still finds all that a thing came from. What was packed is an AggregationEvent, what was
mounted at a bench an AssociationEvent, an order or a case a TransactionEvent, all else an
ObjectEvent.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, Any

from lotkin.core.epcis.checks.names import PREFIX
from lotkin.core.epcis.event_fields import (
    own_order,
    say_digital,
    say_measures,
    say_step,
    say_where,
)
from lotkin.core.epcis.extension import write_rows
from lotkin.core.epcis.steps import STEPS, Step
from lotkin.core.epcis.told import moment
from lotkin.core.epcis.uris import is_instance, our_uri
from lotkin.core.values.kinds import Family
from lotkin.core.values.places import End
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from datetime import tzinfo

    from lotkin.core.epcis.told import Naming, Told

__all__ = ["state"]

UOM = {"kg": "KGM", "m": "MTR"}
"""Units by UN/CEFACT Recommendation 20; counts carry none."""

ELSEWHERE = frozenset({"heat", "source-lot"})

DIGITAL = frozenset({"plan", "seal"})

LIST_OF = {
    "ObjectEvent": ("epcList", "quantityList"),
    "TransactionEvent": ("epcList", "quantityList"),
    "AggregationEvent": ("childEPCs", "childQuantityList"),
    "AssociationEvent": ("childEPCs", "childQuantityList"),
}


def state(told: Told, naming: Naming, zone: tzinfo) -> dict[str, Any] | None:
    """Write an event; None if it is about nothing that has an identity.

    Args:
        told: The event.
        naming: Finds items and names them.
        zone: Time zone of the works.
    """
    step = STEPS[told.kind]
    at, offset = moment(told.at, zone)
    event: dict[str, Any] = {"type": "", "eventTime": at, "eventTimeZoneOffset": offset}
    if told.kind in DIGITAL:
        if told.wanted is not None:
            return None
        say_digital(event, told, step)
    elif not _Lists(told, step, naming).write(event):
        return None
    say_step(event, told, step)
    say_where(event, told)
    say_measures(event, told, at)
    event[f"{PREFIX}:event"] = our_uri("event", told.id)
    event[f"{PREFIX}:kind"] = told.kind
    if told.reading:
        event[f"{PREFIX}:reading"] = str(told.reading)
    if told.piece:
        event[f"{PREFIX}:piece"] = str(told.piece)
    event.update(write_rows(told.rows, naming.uri))
    return event


class _Lists:
    """Sorts what an event is about into the lists of its type."""

    def __init__(self, told: Told, step: Step, naming: Naming) -> None:
        self.told, self.step, self.naming = told, step, naming
        # a heat or a supplier's lot was there before the delivery that names it first
        self.made = [item.code for item in told.rows.items if item.kind not in ELSEWHERE]
        made = set(self.made)
        named = [*told.rows.codes(), *_subjects(told, step), *told.subjects]
        self.others = [
            code for code in dict.fromkeys(named) if code not in made and told.may_name(code)
        ]
        self.moved: dict[str, int] = defaultdict(int)
        for movement in told.rows.movements:
            self.moved[movement.item] += movement.quantity

    def write(self, event: dict[str, Any]) -> bool:
        """Write type, action and lists; False if there is nothing to name."""
        goods = {
            item.code
            for item in self.told.rows.items
            if item.family in (Family.MATERIAL, Family.PACK)
        }
        made = set(self.made)
        comes_from = any(
            link.child in goods and link.parent not in made for link in self.told.rows.links
        )
        kind = self.step.type
        parent = self._parent(kind)
        in_it = [code for code in (*self.made, *self.others) if code != parent]
        if kind in ("AggregationEvent", "AssociationEvent") and not (parent and in_it):
            kind, in_it = "", [*self.made, *self.others]
            parent = ""
        if not kind:
            kind = "TransformationEvent" if comes_from else "ObjectEvent"
        event["type"] = kind
        if kind == "TransformationEvent":
            self._fill(event, "inputEPCList", "inputQuantityList", self.others, self._taken)
            self._fill(event, "outputEPCList", "outputQuantityList", self.made, self._size)
            return True
        event["action"] = self.step.action
        if parent:
            event["parentID"] = self.naming.uri(parent)
        if kind == "TransactionEvent":
            self._transaction(event)
        self._fill(event, *LIST_OF[kind], in_it, self._moved)
        if self.told.kind == "issue" and self.told.wanted is None:
            self._ordered(event)
        return any(field in event for field in LIST_OF[kind])

    def _parent(self, kind: str) -> str:
        if kind == "AssociationEvent" or (kind and self.told.kind in ("pack", "ship")):
            return self.made[0] if self.made else ""
        if kind == "AggregationEvent":
            carton = str(self.told.data.get("carton", ""))
            return carton if self.told.may_name(carton) else ""
        return ""

    def _transaction(self, event: dict[str, Any]) -> None:
        if self.told.kind == "issue":
            name = our_uri("traveller", str(self.told.data["traveller"]))
            event["bizTransactionList"] = [{"type": "prodorder", "bizTransaction": name}]
        else:
            event["bizTransactionList"] = [own_order("case", str(self.told.data["case"]))]

    def _ordered(self, event: dict[str, Any]) -> None:
        """Say what a traveller orders: so many of a part, none of them there yet."""
        data = self.told.data
        quantity = float(str(data["quantity"]))
        event["quantityList"] = [
            {
                "epcClass": self.naming.part(str(data["part"])),
                "quantity": int(quantity) if quantity == int(quantity) else quantity,
            }
        ]

    def _fill(
        self,
        event: dict[str, Any],
        epcs: str,
        classes: str,
        codes: Iterable[str],
        quantity_of: Callable[[str], int | None],
    ) -> None:
        single: list[str] = []
        counted: list[dict[str, Any]] = []
        for code in codes:
            item = self.naming.item(code)
            if item is None or is_instance(item.kind):
                single.append(self.naming.uri(code))
                continue
            element: dict[str, Any] = {"epcClass": self.naming.uri(code)}
            quantity = quantity_of(code)
            if quantity is not None:
                element["quantity"] = _number(quantity)
                if item.unit in UOM:
                    element["uom"] = UOM[item.unit]
            counted.append(element)
        if single:
            event[epcs] = single
        if counted:
            event[classes] = counted

    def _size(self, code: str) -> int | None:
        item = self.naming.item(code)
        return None if item is None else item.quantity

    def _moved(self, code: str) -> int | None:
        return self.moved.get(code) or None

    def _taken(self, code: str) -> int | None:
        taken = sum(
            movement.quantity
            for movement in self.told.rows.movements
            if movement.item == code and movement.destination.place == End.USED_IN
        )
        said = [link.quantity for link in self.told.rows.links if link.parent == code]
        known = [quantity for quantity in said if quantity is not None]
        return taken or (sum(known) if known and len(known) == len(said) else None)


def _number(micro: int) -> int | float:
    return micro // MICRO if micro % MICRO == 0 else micro / MICRO


def _subjects(told: Told, step: Step) -> list[str]:
    """List the codes that the event itself names."""
    found: list[str] = []
    for field in step.subjects:
        said = told.data.get(field)
        for each in said if isinstance(said, (list, tuple)) else [said]:
            code = each.get("item") if isinstance(each, dict) else each
            if code:
                found.append(str(code))
    return found
