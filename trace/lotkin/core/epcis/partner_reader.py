"""Understanding events of others from the fields of the standard alone.

What is not said is never guessed so that something would be left out: everything that went into a
transformation is a parent of everything that came out. Several lots of one part that went into
something which is not one piece are in one group: each piece drew from one of them. Where an event
does not say how much, the quantity stays unknown.
"""

from __future__ import annotations

from collections import defaultdict
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any, Protocol
from urllib.parse import unquote

from lotkin.core.epcis.adoption import Adoption
from lotkin.core.epcis.foreign_things import Thing, by_part, once_each
from lotkin.core.epcis.identifiers import normal_form, parts_of
from lotkin.core.epcis.partner_values import (
    Amount,
    Shares,
    amount_of,
    code_from,
    place_from,
    text_of,
)
from lotkin.core.epcis.shipping import is_shipping, party_shipped_to
from lotkin.core.epcis.uris import said_by
from lotkin.core.values.places import IMPORTED, End, Spot
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.genealogy.items import Item

__all__ = ["BAD", "Foreign", "Known"]

_SEPARATORS = {"8010": " "}
"""What stands between the values of a key with a qualifier, such as a piece and its serial."""

BAD = frozenset({"non_conformant", "recalled", "damaged", "expired", "needs_replacement"})
"""Dispositions that keep a thing from being used."""


class Known(Protocol):
    """What is recorded here already."""

    def find(self, uri: str, code: str) -> Item | None:
        """Find an item by an identifier in its normal form, or by the code we would give it."""

    def part(self, gtin: str) -> str:
        """Give our code of a part by its GTIN; the GTIN if we have none."""

    def spot(self, code: str) -> Spot:
        """Tell where an item lies, most of it."""


class Foreign:
    """Reads events one after the other, in the order in which they happened.

    Attributes:
        left_out: (path, what was not taken over and why).
    """

    def __init__(self, known: Known, supplier: str = "") -> None:
        """Begin.

        Args:
            known: What is recorded here.
            supplier: Our code of whose events these are; "" if unknown.
        """
        self.known, self.supplier = known, supplier
        self.left_out: list[tuple[str, str]] = []
        self._things: dict[str, Thing] = {}
        self._spots: dict[str, Spot] = {}
        self._inside: dict[str, list[tuple[Thing, int]]] = defaultdict(list)
        self._groups: dict[str, int] = defaultdict(int)
        self._rows: dict[str, list[dict[str, Any]]] = {}
        self._path = self._hash = ""
        self._at = datetime.fromtimestamp(0, UTC)

    def read(self, path: str, event: Mapping[str, Any], hashes: tuple[str, ...]) -> Adoption:
        """Understand an event that was checked."""
        self._path = path
        self._at = datetime.fromisoformat(str(event["eventTime"]).upper())
        self._rows = {"items": [], "links": [], "postings": [], "labels": [], "holds": []}
        self._groups = defaultdict(int)
        self._hash = " ".join(hashes)
        READERS[str(event["type"])](self, event)
        return Adoption(path, self._at, hashes, " ".join(hashes), self._rows, foreign=True)

    def _leave_out(self, why: str) -> None:
        self.left_out.append((self._path, why))

    # --- what is named

    def _thing(self, uri: str, amount: Amount | None = None, *, kind: str = "") -> Thing | None:
        """Find what an identifier means, or make it.

        Args:
            uri: The identifier.
            amount: For a class with a quantity; None for a single thing.
            kind: What it is, where the event tells that.
        """
        normal = normal_form(uri)
        known = self._things.get(normal)
        if known is not None:
            return known
        described = self._describe(normal, counted=amount is not None, kind=kind)
        if described is None:
            return None
        item = self.known.find(normal, described["code"])
        if item is not None:
            thing = Thing(item.code, item.kind, item.part, item.unit, item.quantity, ours=True)
            self._things[normal] = thing
            return thing
        said = amount or Amount(MICRO, "pcs")
        thing = Thing(
            described["code"],
            described["item_kind"],
            described.get("part", ""),
            said.unit if said.micro is not None else "",
            said.micro,
            ours=False,
        )
        self._things[normal] = thing
        if thing.micro is not None:
            described |= {"quantity": text_of(thing.micro), "unit": thing.unit}
        self._rows["items"].append(described)
        return thing

    def _describe(self, uri: str, *, counted: bool, kind: str) -> dict[str, Any] | None:
        said = parts_of(uri)
        if "01" in said and not {"10", "21", "235"} & set(said):
            self._leave_out(f"{uri} names a kind of thing and no lot or piece of it")
            return None
        if not said:
            code = said_by(uri, "item") or unquote(uri)
            return {"code": code_from(code), "item_kind": kind or _kind(counted=counted)}
        key = next(iter(said))
        if key == "01":
            return self._goods(said)
        if key in ("00", "8003"):
            return {"code": code_from(said[key]), "item_kind": "carton"}
        if key in ("414", "417", "253", "255", "401", "402", "8017", "8018"):
            self._leave_out(f"{uri} names a place, a party or a paper, and no thing")
            return None
        code = _SEPARATORS.get(key, ":").join(said.values())
        if key == "8004":
            return {"code": code_from(unquote(code)), "item_kind": kind or "fixture"}
        return {"code": code_from(unquote(code)), "item_kind": kind or _kind(counted=counted)}

    def _goods(self, said: Mapping[str, str]) -> dict[str, Any]:
        part = self.known.part(said["01"])
        if "21" in said:
            serial = unquote(said["21"])
            code = code_from(f"{part}:{serial}")
            return {"code": code, "item_kind": "unit", "part": code_from(part), "serial": code}
        if "235" in said:
            # serials by AI (235) and by AI (21) are given by different bodies and may be alike
            code = code_from(f"{part}:235:{unquote(said['235'])}")
            return {"code": code, "item_kind": "unit", "part": code_from(part), "serial": code}
        lot = unquote(said["10"])
        names = [self.supplier, part, lot] if self.supplier else [part, lot]
        described = {
            "item_kind": "source-lot",
            "part": code_from(part),
            "supplier_lot": code_from(lot),
        }
        if self.supplier:
            described["supplier"] = self.supplier
        return {"code": code_from(":".join(names)), **described}

    def _all(self, event: Mapping[str, Any], epcs: str, classes: str) -> list[tuple[Thing, Amount]]:
        """Find all that two lists of an event name, with how much of it."""
        found = []
        for uri in event.get(epcs, ()):
            thing = self._thing(uri)
            if thing is not None:
                found.append((thing, Amount(MICRO, "pcs")))
        for element in event.get(classes, ()):
            amount = self._amount(element)
            thing = self._thing(element["epcClass"], amount)
            if thing is not None:
                found.append((thing, amount))
        return once_each(found)

    def _amount(self, element: Mapping[str, Any]) -> Amount:
        amount, problem = amount_of(element)
        if problem:
            self._leave_out(problem)
        return amount

    # --- where it is

    def _place(self, event: Mapping[str, Any]) -> str:
        for name in ("bizLocation", "readPoint"):
            if name in event:
                return place_from(str(event[name]["id"]))
        return IMPORTED

    def _settle(self, event: Mapping[str, Any]) -> None:
        """Put what this event names for the first time where the event took place."""
        place = Spot(self._place(event))
        posted = {row["item"] for row in self._rows["postings"] if "origin" not in row}
        for row in self._rows["items"]:
            code = row["code"]
            if code in self._spots or code in posted or "quantity" not in row:
                continue
            self._spots[code] = place
            self._rows["postings"].insert(
                0, {"item": code, "quantity": row["quantity"], "destination": place.place}
            )

    def _move(self, thing: Thing, micro: int | None, goal: Spot) -> None:
        """Post pieces from where they are; nothing if it is not known how many there are."""
        if micro and thing.is_material:
            self._post(thing, micro, goal)

    def _post(self, thing: Thing, micro: int, goal: Spot) -> None:
        if thing.micro is None:
            return
        origin = self.known.spot(thing.code) if thing.ours else self._spots.get(thing.code)
        if origin is None or origin == goal:
            return
        row: dict[str, Any] = {"item": thing.code, "quantity": text_of(min(micro, thing.micro))}
        row |= {"origin": origin.place, "origin_within": origin.within}
        row |= {"destination": goal.place, "destination_within": goal.within}
        self._rows["postings"].append(row)
        if not goal.is_end and micro >= thing.micro:
            self._spots[thing.code] = goal

    # --- the five types

    def _object(self, event: Mapping[str, Any]) -> None:
        things = self._all(event, "epcList", "quantityList")
        new = {row["code"] for row in self._rows["items"]}
        if is_shipping(event):
            self._settle(event)
            self._ship(event, things)
            self._hold(event, [thing for thing, _ in things])
            return
        if event["action"] == "ADD":
            for row in self._rows["items"]:
                row["made"] = self._at
        self._settle(event)
        goal = Spot(self._place(event))
        for thing, amount in things:
            if thing.ours or thing.code in new:
                continue
            if event["action"] == "DELETE":
                self._move(thing, amount.micro, Spot(End.SCRAP))
            elif "bizLocation" in event:
                self._move(thing, amount.micro, goal)
        self._hold(event, [thing for thing, _ in things])

    def _ship(self, event: Mapping[str, Any], things: Sequence[tuple[Thing, Amount]]) -> None:
        """Move what was shipped to the party that owns it then, what cartons hold included."""
        party = party_shipped_to(event)
        code = code_from(f"SHIPMENT:{self._hash[:16]}")
        self._rows["items"].append({"code": code, "item_kind": "shipment", "made": self._at})
        shipment = Thing(code, "shipment", "", "", None, ours=False)
        for thing, amount in things:
            self._link(thing, shipment, amount.micro)
            self._carry(thing, amount.micro, party, "")

    def _carry(self, thing: Thing, micro: int | None, party: str, within: str) -> None:
        goal = Spot(party, within)
        origin = self.known.spot(thing.code) if thing.ours else self._spots.get(thing.code)
        if within and origin is not None and origin.within != within:
            self._leave_out(f"{thing.code} was packed, but not left, in {within}; it was not moved")
            return
        if thing.kind == "carton":
            self._post(thing, MICRO, goal)
            for content, quantity in self._inside[thing.code]:
                self._carry(content, quantity, party, thing.code)
        else:
            self._move(thing, micro, goal)

    def _hold(self, event: Mapping[str, Any], things: Sequence[Thing]) -> None:
        said = [str(event.get("disposition", ""))]
        said += event.get("persistentDisposition", {}).get("set", [])
        words = [word.rpartition("Disp-")[2] for word in said]
        bad = [word.replace("_", " ") for word in words if word in BAD]
        if bad:
            whose = self.supplier or "whoever sent the document"
            reason = f"{', '.join(dict.fromkeys(bad))}, says {whose}"
            self._rows["holds"] += [{"item": thing.code, "reason": reason} for thing in things]

    def _transaction(self, event: Mapping[str, Any]) -> None:
        self._all(event, "epcList", "quantityList")
        self._settle(event)

    def _aggregation(self, event: Mapping[str, Any]) -> None:
        children = self._all(event, "childEPCs", "childQuantityList")
        parent = self._thing(event["parentID"], kind="carton") if "parentID" in event else None
        self._settle(event)
        if parent is None or event["action"] == "OBSERVE":
            return
        place = self._place(event)
        for child, amount in children:
            if event["action"] == "ADD":
                self._link(child, parent, amount.micro)
                self._move(child, amount.micro, Spot(place, parent.code))
                self._inside[parent.code].append((child, amount.micro or 0))
            else:
                self._move(child, amount.micro, Spot(place))
                inside = self._inside[parent.code]
                self._inside[parent.code] = [one for one in inside if one[0].code != child.code]

    def _association(self, event: Mapping[str, Any]) -> None:
        children = self._all(event, "childEPCs", "childQuantityList")
        parent = self._thing(event["parentID"])
        self._settle(event)
        if event["action"] == "DELETE":
            self._leave_out(f"what was taken out of {event['parentID']} stays linked to it")
        if parent is None or event["action"] != "ADD":
            return
        for child, amount in children:
            self._link(child, parent, amount.micro)
            self._move(child, amount.micro, Spot(End.USED_IN))

    def _transformation(self, event: Mapping[str, Any]) -> None:
        into = self._all(event, "inputEPCList", "inputQuantityList")
        before = len(self._rows["items"])
        out = self._all(event, "outputEPCList", "outputQuantityList")
        for row in self._rows["items"][before:]:
            row["made"] = self._at
        self._settle(event)
        goods = [(thing, amount) for thing, amount in out if thing.is_material]
        shares = Shares([amount for _, amount in goods])
        for number, (child, amount) in enumerate(goods):
            self._link_all(into, child, amount, shares, number)
        for thing, amount in into:
            self._move(thing, amount.micro, Spot(End.USED_IN))

    def _link_all(
        self,
        into: Sequence[tuple[Thing, Amount]],
        child: Thing,
        amount: Amount,
        shares: Shares,
        number: int,
    ) -> None:
        one_piece = shares.is_single and amount.unit == "pcs" and amount.micro == MICRO
        for together in by_part(into):
            mixing = "each"
            if len(together) > 1 and not one_piece:
                weighed = amount.unit == "kg" and all(a.unit == "kg" for _, a in together)
                mixing = "blend" if weighed else "one-of"
            group = 0
            for parent, taken in together:
                if parent.code == child.code:
                    self._leave_out(f"{parent.code} both went in and came out")
                    continue
                share = shares.of(taken.micro, number) if parent.is_material else None
                group = self._link(parent, child, share, mixing, group if mixing != "each" else 0)

    def _link(
        self,
        parent: Thing,
        child: Thing,
        micro: int | None,
        mixing: str = "each",
        group: int = 0,
    ) -> int:
        if not group:
            self._groups[child.code] += 1
            group = self._groups[child.code]
        row: dict[str, Any] = {"parent": parent.code, "child": child.code, "group": group}
        row["mixing"] = mixing
        if micro is not None:
            row["quantity"] = text_of(micro)
        self._rows["links"].append(row)
        return group


READERS = {
    "ObjectEvent": Foreign._object,
    "TransactionEvent": Foreign._transaction,
    "AggregationEvent": Foreign._aggregation,
    "AssociationEvent": Foreign._association,
    "TransformationEvent": Foreign._transformation,
}


def _kind(*, counted: bool) -> str:
    return "source-lot" if counted else "unit"
