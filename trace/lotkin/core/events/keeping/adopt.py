"""`adopt`: what somebody else has recorded, taken over from their document."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field, StringConstraints

from lotkin.core.events.base import Amount, Code, Event, Instant, PartOfEvent, Printed, Text
from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.events.parts.rows import Kind, OptionalCode, check_age, check_links, check_unused
from lotkin.core.genealogy.items import Item, Link, Movement
from lotkin.core.genealogy.view import Breach
from lotkin.core.rules.leading import Mode
from lotkin.core.rules.serialised import note_lots
from lotkin.core.values.instants import to_us
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.places import Spot
from lotkin.core.values.quantities import MICRO, to_micro

if TYPE_CHECKING:
    from datetime import datetime

    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Adopt", "AdoptedHold", "AdoptedItem", "AdoptedLabel", "AdoptedLink", "Posting"]


Place = Annotated[str, StringConstraints(min_length=1, max_length=80, pattern=r"^[ -~]+$")]
"""A place or an end; the names of ends may have a space."""


def _micro(amount: Amount | None) -> int | None:
    return None if amount is None else to_micro(amount)


def _us(moment: datetime | None) -> int | None:
    return None if moment is None else to_us(moment)


class AdoptedItem(PartOfEvent):
    """An item as they describe it."""

    code: Code
    item_kind: Kind
    part: OptionalCode = ""
    quantity: Amount | None = None
    unit: Literal["", "pcs", "kg", "m"] = ""
    made: Instant | None = None
    started: Instant | None = None
    step: Text = ""
    serial: OptionalCode = ""
    supplier: OptionalCode = ""
    supplier_lot: Printed | Literal[""] = ""
    due: Instant | None = None
    station: OptionalCode = ""


class AdoptedLink(PartOfEvent):
    """A link from parent to child."""

    parent: Code
    child: Code
    group: int = Field(ge=1, le=1_000_000)
    mixing: Mixing = Mixing.EACH
    quantity: Amount | None = None
    per: Amount = Field(default=1, validate_default=True)
    position: Text = ""


class Posting(PartOfEvent):
    """Pieces that came to be, or went from one spot to another."""

    item: Code
    quantity: Amount
    origin: Place | None = None
    origin_within: OptionalCode = ""
    destination: Place
    destination_within: OptionalCode = ""


class AdoptedLabel(PartOfEvent):
    """What a serial or label leads to from then on."""

    text: Code
    item: Code


class AdoptedHold(PartOfEvent):
    """An item that is held; no reason: it is free again."""

    item: Code
    reason: Text = ""
    stays: Annotated[Text, FilledIn()] = Field(
        default="", description="Filled in: why it is held here, so that they cannot free it"
    )


class Adopt(Event):
    """One event of somebody else's, or several that cannot be told apart in order."""

    kind: Literal["adopt"] = "adopt"
    hashes: tuple[Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")], ...] = Field(
        min_length=1, description="SHA-256 of the events taken over (CBV event hash)"
    )
    foreign: bool = Field(default=False, description="Understood from the standard's fields alone")
    items: tuple[AdoptedItem, ...] = ()
    links: tuple[AdoptedLink, ...] = ()
    postings: tuple[Posting, ...] = ()
    labels: tuple[AdoptedLabel, ...] = ()
    holds: tuple[AdoptedHold, ...] = ()

    def complete(self, shop: Shop) -> Self:
        """Check codes, and that no link goes into something that things were made from already.

        Raises:
            CodeTaken: A new item is recorded already.
            BadEvent: A link goes into something in use, or stands twice.
            Circle: The links go in a circle.
        """
        for item in self.items:
            shop.free_code(item.code)
        new = {item.code for item in self.items}
        if shop.mode is not Mode.AMENDED:
            check_unused(shop, {link.child for link in self.links} - new)
        if self.foreign:
            for parent in {link.parent: None for link in self.links if link.parent not in new}:
                shop.check_free(shop.exact(parent), "used elsewhere")
        check_links([(link.parent, link.child, link.group) for link in self.links])
        lots = [(one.code, one.part, _micro(one.quantity), one.step) for one in self.items]
        note_lots(shop, lots)
        return self.but(holds=tuple(self._hold(shop, hold) for hold in self.holds))

    def _hold(self, shop: Shop, hold: AdoptedHold) -> AdoptedHold:
        """Keep what was held here on hold, whatever their document says of it."""
        here = [
            fact
            for fact in shop.view.facts("hold", hold.item)
            if shop.view.entry(fact.event).kind != self.kind
        ]
        reason = (
            str(max(here, key=lambda fact: (fact.event, fact.ordinal)).value["reason"])
            if here
            else ""
        )
        if hold.reason or not reason:
            return hold
        shop.breaches.append(
            Breach(
                "no-right",
                hold.item,
                f"{hold.item} is held here ({reason}); a document of others does not free it",
            )
        )
        return hold.but(stays=reason)

    def establish(self, draft: Draft) -> None:
        """Note what labels lead to, and what is held."""
        for label in self.labels:
            draft.fact("label", label.text, item=label.item)
        for hold in self.holds:
            if hold.stays:
                continue
            draft.fact("hold", hold.item, reason=hold.reason)

    def derive(self, draft: Draft) -> None:
        """Make the items, link them, and post what was moved."""
        for item in self.items:
            draft.make(self._item(draft, item), None)
        for link in self.links:
            parent, child = draft.item(link.parent), draft.item(link.child)
            check_age(parent, child)
            quantity = _micro(link.quantity)
            draft.links.append(
                Link(
                    link.parent,
                    link.child,
                    link.group,
                    link.mixing,
                    quantity,
                    to_micro(link.per),
                    link.position,
                    draft.seq,
                )
            )
            if parent.kind == "bench-setup" and quantity is not None:
                self._consume(draft, parent, child, quantity)
        for posting in self.postings:
            origin = None
            if posting.origin is not None:
                origin = Spot(posting.origin, posting.origin_within)
            destination = Spot(posting.destination, posting.destination_within)
            code = draft.item(posting.item).code
            quantity = to_micro(posting.quantity)
            draft.movements.append(Movement(code, quantity, origin, destination, draft.seq))

    def _item(self, draft: Draft, item: AdoptedItem) -> Item:
        return Item(
            code=item.code,
            kind=item.item_kind,
            part=item.part,
            quantity=_micro(item.quantity),
            unit=item.unit,
            made_at=_us(item.made),
            started_at=_us(item.started),
            event=draft.seq,
            step=item.step,
            serial=item.serial,
            supplier=item.supplier,
            supplier_lot=item.supplier_lot,
            due_at=_us(item.due),
            station=item.station,
            plan=draft.plan,
        )

    def _consume(self, draft: Draft, setup: Item, unit: Item, quantity: int) -> None:
        """Take what a unit took through a bench setup, as building it does."""
        if unit.kind != "unit" or unit.serial not in ("", unit.code):
            return
        for link in draft.parents(setup.code):
            draft.consume(link.parent, Spot(setup.station), link.per * quantity // MICRO)
