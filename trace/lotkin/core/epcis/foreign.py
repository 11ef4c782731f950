"""Understanding events of others from the fields of the standard alone.

What is not said is never guessed so that something would be left out: everything that went into a
transformation is a parent of everything that came out. Several lots of one part that went into
something which is not one piece are in one group: each piece drew from one of them. Where an event
does not say how much, the quantity stays unknown.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any, Protocol
from urllib.parse import unquote

from lotkin.core.epcis.adoption import Adoption
from lotkin.core.epcis.foreign_values import (
    Amount,
    Shares,
    amount_of,
    code_from,
    place_from,
    text_of,
)
from lotkin.core.epcis.identifiers import normal_form, parts_of
from lotkin.core.epcis.uris import said_by
from lotkin.core.kinds import FAMILY_OF, Family
from lotkin.core.places import IMPORTED, End, Spot
from lotkin.core.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from lotkin.core.items import Item

__all__ = ["Foreign", "Known"]

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


@dataclass(slots=True)
class _Thing:
    """Something that events name.

    Attributes:
        ours: Whether it was recorded here before the document.
        micro: How much of it there is; None if not known.
    """

    code: str
    kind: str
    part: str
    unit: str
    micro: int | None
    ours: bool

    @property
    def is_material(self) -> bool:
        return FAMILY_OF[self.kind] is Family.MATERIAL


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
        self._things: dict[str, _Thing] = {}
        self._spots: dict[str, Spot] = {}
        self._groups: dict[str, int] = defaultdict(int)
        self._rows: dict[str, list[dict[str, Any]]] = {}
        self._path = ""
        self._at = datetime.fromtimestamp(0, UTC)

    def read(self, path: str, event: Mapping[str, Any], hashes: tuple[str, ...]) -> Adoption:
        """Understand an event that was checked."""
        self._path = path
        self._at = datetime.fromisoformat(str(event["eventTime"]).upper())
        self._rows = {"items": [], "links": [], "postings": [], "labels": [], "holds": []}
        self._groups = defaultdict(int)
        READERS[str(event["type"])](self, event)
        return Adoption(path, self._at, hashes, " ".join(hashes), self._rows, foreign=True)

    def _leave_out(self, why: str) -> None:
        self.left_out.append((self._path, why))

    # --- what is named

    def _thing(self, uri: str, amount: Amount | None = None, *, kind: str = "") -> _Thing | None:
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
            thing = _Thing(item.code, item.kind, item.part, item.unit, item.quantity, ours=True)
            self._things[normal] = thing
            return thing
        said = amount or Amount(MICRO, "pcs")
        thing = _Thing(
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
        if "01" in said and not {"10", "21"} & set(said):
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
        code = " ".join(said.values()) if key == "8010" else said[key]
        if key == "8004":
            return {"code": code_from(unquote(code)), "item_kind": kind or "fixture"}
        return {"code": code_from(unquote(code)), "item_kind": kind or _kind(counted=counted)}

    def _goods(self, said: Mapping[str, str]) -> dict[str, Any]:
        part = self.known.part(said["01"])
        if "21" in said:
            serial = unquote(said["21"])
            code = code_from(f"{part}:{serial}")
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

    def _all(
        self, event: Mapping[str, Any], epcs: str, classes: str
    ) -> list[tuple[_Thing, Amount]]:
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
        return _once_each(found)

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

    def _move(self, thing: _Thing, micro: int | None, goal: Spot) -> None:
        """Post pieces from where they are; nothing if it is not known how many there are."""
        if not micro or thing.micro is None or not thing.is_material:
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

    def _hold(self, event: Mapping[str, Any], things: Sequence[_Thing]) -> None:
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
            else:
                self._move(child, amount.micro, Spot(place))

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
        into: Sequence[tuple[_Thing, Amount]],
        child: _Thing,
        amount: Amount,
        shares: Shares,
        number: int,
    ) -> None:
        one_piece = shares.is_single and amount.unit == "pcs" and amount.micro == MICRO
        for together in _by_part(into):
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
        parent: _Thing,
        child: _Thing,
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


def _once_each(found: Iterable[tuple[_Thing, Amount]]) -> list[tuple[_Thing, Amount]]:
    """Add up what a list names several times, such as two bundles of one lot."""
    sums: dict[str, tuple[_Thing, Amount]] = {}
    for thing, amount in found:
        before = sums[thing.code][1] if thing.code in sums else None
        sums[thing.code] = thing, amount if before is None else _added(before, amount)
    return list(sums.values())


def _added(one: Amount, other: Amount) -> Amount:
    if one.micro is None or other.micro is None or one.unit != other.unit:
        return Amount(None, "")
    return Amount(one.micro + other.micro, one.unit)


def _by_part(
    into: Iterable[tuple[_Thing, Amount]],
) -> list[list[tuple[_Thing, Amount]]]:
    """Gather what stands for each other: lots and pieces of one part. All else stands alone."""
    groups: dict[str, list[tuple[_Thing, Amount]]] = {}
    for thing, amount in into:
        key = f"part {thing.part}" if thing.part and thing.is_material else f"code {thing.code}"
        groups.setdefault(key, []).append((thing, amount))
    return list(groups.values())


def _kind(*, counted: bool) -> str:
    return "source-lot" if counted else "unit"
