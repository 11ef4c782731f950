"""What each of the five types of events means, read from the fields of the standard alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.epcis.partner.things import Thing, by_part
from lotkin.core.epcis.partner.values import Amount, Shares, code_from
from lotkin.core.epcis.shipping import is_shipping, party_shipped_to
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.epcis.partner.event_rows import PartnerRows

__all__ = ["read_into"]


def read_into(rows: PartnerRows, digest: str) -> None:
    """Read an event into its rows.

    Args:
        rows: The event, with no rows yet.
        digest: Hash of the event; a shipment has no other name.
    """
    kind = str(rows.event["type"])
    if kind == "ObjectEvent" and is_shipping(rows.event):
        _shipping(rows, digest)
    else:
        READERS[kind](rows)


def _object(rows: PartnerRows) -> None:
    event = rows.event
    things = rows.all_of("epcList", "quantityList")
    new = {row["code"] for row in rows.rows["items"]}
    if event["action"] == "ADD":
        for row in rows.rows["items"]:
            row["made"] = rows.at
    rows.settle()
    goal = Spot(rows.place)
    for thing, amount in things:
        if thing.ours or thing.code in new:
            continue
        if event["action"] == "DELETE":
            rows.move(thing, amount.micro, Spot(End.SCRAP))
        elif "bizLocation" in event:
            rows.move(thing, amount.micro, goal)
    rows.hold([thing for thing, _ in things])


def _shipping(rows: PartnerRows, digest: str) -> None:
    """Move what was shipped to the party that owns it then, what cartons hold included."""
    things = rows.all_of("epcList", "quantityList")
    rows.settle()
    party = party_shipped_to(rows.event)
    code = code_from(f"SHIPMENT:{digest[:16]}")
    rows.rows["items"].append({"code": code, "item_kind": "shipment", "made": rows.at})
    shipment = Thing(code, "shipment", "", "", None, ours=False)
    for thing, amount in things:
        rows.link(thing, shipment, amount.micro)
        _carry(rows, thing, amount.micro, Spot(party))
    rows.hold([thing for thing, _ in things])


def _carry(rows: PartnerRows, thing: Thing, micro: int | None, goal: Spot) -> None:
    """Move a thing, and with a carton what it holds."""
    origin = rows.spot_of(thing)
    if goal.within and origin is not None and origin.within != goal.within:
        rows.left_out.append(
            f"{thing.code} was packed, but not left, in {goal.within}; it was not moved"
        )
        return
    if thing.kind == "carton":
        rows.post(thing, MICRO, goal)
        for content, quantity in rows.inside(thing.code):
            _carry(rows, content, quantity, Spot(goal.place, thing.code))
    else:
        rows.move(thing, micro, goal)


def _transaction(rows: PartnerRows) -> None:
    rows.all_of("epcList", "quantityList")
    rows.settle()


def _aggregation(rows: PartnerRows) -> None:
    event = rows.event
    children = rows.all_of("childEPCs", "childQuantityList")
    parent = rows.thing(event["parentID"], kind="carton") if "parentID" in event else None
    rows.settle()
    if parent is None or event["action"] == "OBSERVE":
        return
    inside = rows.inside(parent.code)
    if event["action"] == "ADD":
        for child, amount in children:
            rows.link(child, parent, amount.micro)
            rows.move(child, amount.micro, Spot(rows.place, parent.code))
        inside = [*inside, *((child, amount.micro or 0) for child, amount in children)]
    else:
        for child, amount in children:
            rows.move(child, amount.micro, Spot(rows.place))
        gone = {child.code for child, _ in children}
        inside = [one for one in inside if one[0].code not in gone]
    rows.put_inside(parent.code, inside)


def _association(rows: PartnerRows) -> None:
    event = rows.event
    children = rows.all_of("childEPCs", "childQuantityList")
    parent = rows.thing(event["parentID"])
    rows.settle()
    if event["action"] == "DELETE":
        rows.left_out.append(f"what was taken out of {event['parentID']} stays linked to it")
    if parent is None or event["action"] != "ADD":
        return
    for child, amount in children:
        rows.link(child, parent, amount.micro)
        rows.move(child, amount.micro, Spot(End.USED_IN))


def _transformation(rows: PartnerRows) -> None:
    into = rows.all_of("inputEPCList", "inputQuantityList")
    before = len(rows.rows["items"])
    out = rows.all_of("outputEPCList", "outputQuantityList")
    for row in rows.rows["items"][before:]:
        row["made"] = rows.at
    rows.settle()
    goods = [(thing, amount) for thing, amount in out if thing.is_material]
    shares = Shares([amount for _, amount in goods])
    for number, (child, amount) in enumerate(goods):
        for together in by_part(into):
            mixing = _mixing(together, amount, is_single=shares.is_single)
            group = 0
            for parent, taken in together:
                if parent.code == child.code:
                    rows.left_out.append(f"{parent.code} both went in and came out")
                    continue
                share = shares.of(taken.micro, number) if parent.is_material else None
                group = rows.link(parent, child, share, mixing, group if mixing != "each" else 0)
    for thing, amount in into:
        rows.move(thing, amount.micro, Spot(End.USED_IN))


def _mixing(together: Sequence[tuple[Thing, Amount]], made: Amount, *, is_single: bool) -> str:
    """Tell how things that stand for each other went into what was made of them."""
    is_one_piece = is_single and made.unit == "pcs" and made.micro == MICRO
    if len(together) == 1 or is_one_piece:
        return "each"
    is_weighed = made.unit == "kg" and all(taken.unit == "kg" for _, taken in together)
    return "blend" if is_weighed else "one-of"


READERS = {
    "ObjectEvent": _object,
    "TransactionEvent": _transaction,
    "AggregationEvent": _aggregation,
    "AssociationEvent": _association,
    "TransformationEvent": _transformation,
}
