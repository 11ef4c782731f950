"""Understanding events of others from the fields of the standard alone.

What is not said is never guessed so that something would be left out: everything that went into a
transformation is a parent of everything that came out. Several lots of one part that went into
something which is not one piece are in one group: each piece drew from one of them. Where an event
does not say how much, the quantity stays unknown.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal, InvalidOperation
from hashlib import sha256
from typing import TYPE_CHECKING, Any, Protocol
from urllib.parse import quote, unquote

from lotkin.core.epcis.adoption import Adoption
from lotkin.core.epcis.identifiers import normal_form, parts_of
from lotkin.core.epcis.uris import said_by
from lotkin.core.events.tables import IMPORTED
from lotkin.core.kinds import FAMILY_OF, Family
from lotkin.core.places import END_NAMES, End, Spot
from lotkin.core.quantities import LARGEST, MICRO, allocate, from_micro

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from lotkin.core.items import Item

__all__ = ["Foreign", "Known"]

LONGEST = 80

# UN/CEFACT Recommendation 20; KGM and MTR as in the official examples, the others from memory.
UNITS: dict[str, tuple[str, Decimal]] = {
    "KGM": ("kg", Decimal(1)),
    "GRM": ("kg", Decimal("0.001")),
    "TNE": ("kg", Decimal(1000)),
    "MTR": ("m", Decimal(1)),
    "CMT": ("m", Decimal("0.01")),
    "MMT": ("m", Decimal("0.001")),
    "H87": ("pcs", Decimal(1)),
    "C62": ("pcs", Decimal(1)),
    "EA": ("pcs", Decimal(1)),
    "": ("pcs", Decimal(1)),
}

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


@dataclass(slots=True)
class _Amount:
    """A quantity as an event says it; `micro` is None if it does not, or in no unit of ours."""

    micro: int | None
    unit: str


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
        self._at: datetime = datetime.min

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

    def _thing(self, uri: str, amount: _Amount | None = None, *, kind: str = "") -> _Thing | None:
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
        said = amount or _Amount(MICRO, "pcs")
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
            described |= {"quantity": _text(thing.micro), "unit": thing.unit}
        self._rows["items"].append(described)
        return thing

    def _describe(self, uri: str, *, counted: bool, kind: str) -> dict[str, Any] | None:
        said = parts_of(uri)
        if "01" in said and not {"10", "21"} & set(said):
            self._leave_out(f"{uri} names a kind of thing and no lot or piece of it")
            return None
        if not said:
            code = said_by(uri, "item") or unquote(uri)
            return {"code": _code(code), "item_kind": kind or _kind(counted=counted)}
        key = next(iter(said))
        if key == "01":
            return self._goods(said)
        if key in ("00", "8003"):
            return {"code": _code(said[key]), "item_kind": "carton"}
        if key in ("414", "417", "253", "255", "401", "402", "8017", "8018"):
            self._leave_out(f"{uri} names a place, a party or a paper, and no thing")
            return None
        code = " ".join(said.values()) if key == "8010" else said[key]
        if key == "8004":
            return {"code": _code(unquote(code)), "item_kind": kind or "fixture"}
        return {"code": _code(unquote(code)), "item_kind": kind or _kind(counted=counted)}

    def _goods(self, said: Mapping[str, str]) -> dict[str, Any]:
        part = self.known.part(said["01"])
        if "21" in said:
            serial = unquote(said["21"])
            code = _code(f"{part}:{serial}")
            return {"code": code, "item_kind": "unit", "part": _code(part), "serial": code}
        lot = unquote(said["10"])
        names = [self.supplier, part, lot] if self.supplier else [part, lot]
        described = {"item_kind": "source-lot", "part": _code(part), "supplier_lot": _code(lot)}
        if self.supplier:
            described["supplier"] = self.supplier
        return {"code": _code(":".join(names)), **described}

    def _all(
        self, event: Mapping[str, Any], epcs: str, classes: str
    ) -> list[tuple[_Thing, _Amount]]:
        """Find all that two lists of an event name, with how much of it."""
        found = []
        for uri in event.get(epcs, ()):
            thing = self._thing(uri)
            if thing is not None:
                found.append((thing, _Amount(MICRO, "pcs")))
        for element in event.get(classes, ()):
            amount = self._amount(element)
            thing = self._thing(element["epcClass"], amount)
            if thing is not None:
                found.append((thing, amount))
        return found

    def _amount(self, element: Mapping[str, Any]) -> _Amount:
        if "quantity" not in element:
            return _Amount(None, "")
        uom = str(element.get("uom", ""))
        if uom not in UNITS:
            self._leave_out(f"{element['quantity']} {uom}: lotkin keeps no quantities in {uom}")
            return _Amount(None, "")
        unit, factor = UNITS[uom]
        try:
            micro = (Decimal(str(element["quantity"])) * factor * MICRO).to_integral_exact()
        except InvalidOperation:
            micro = Decimal(-1)
        if not 0 <= micro <= LARGEST * MICRO or (unit == "pcs" and micro % MICRO):
            self._leave_out(f"{element['quantity']} {uom}: not a quantity of {unit}".strip())
            return _Amount(None, "")
        return _Amount(int(micro), unit)

    # --- where it is

    def _place(self, event: Mapping[str, Any]) -> str:
        for name in ("bizLocation", "readPoint"):
            if name in event:
                return _place_name(str(event[name]["id"]))
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
        row: dict[str, Any] = {"item": thing.code, "quantity": _text(min(micro, thing.micro))}
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
        shares = _Shares([amount for _, amount in goods])
        for number, (child, amount) in enumerate(goods):
            self._link_all(into, child, amount, shares, number)
        for thing, amount in into:
            self._move(thing, amount.micro, Spot(End.USED_IN))

    def _link_all(
        self,
        into: Sequence[tuple[_Thing, _Amount]],
        child: _Thing,
        amount: _Amount,
        shares: _Shares,
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
            row["quantity"] = _text(micro)
        self._rows["links"].append(row)
        return group


READERS = {
    "ObjectEvent": Foreign._object,  # noqa: SLF001 - of this module
    "TransactionEvent": Foreign._transaction,  # noqa: SLF001
    "AggregationEvent": Foreign._aggregation,  # noqa: SLF001
    "AssociationEvent": Foreign._association,  # noqa: SLF001
    "TransformationEvent": Foreign._transformation,  # noqa: SLF001
}


class _Shares:
    """Divides what went in over what came out, by size, where all sizes are in one unit."""

    def __init__(self, out: Sequence[_Amount]) -> None:
        units = {amount.unit for amount in out}
        known = all(amount.micro is not None for amount in out) and len(units) == 1
        self.is_single = len(out) == 1
        self._weights = [amount.micro or 0 for amount in out] if known else []

    def of(self, micro: int | None, number: int) -> int | None:
        """Give the share of one output; None if it cannot be told."""
        if micro is None or self.is_single:
            return micro
        return allocate(micro, self._weights)[number] if self._weights else None


def _by_part(
    into: Iterable[tuple[_Thing, _Amount]],
) -> list[list[tuple[_Thing, _Amount]]]:
    """Gather what stands for each other: lots and pieces of one part. All else stands alone."""
    groups: dict[str, list[tuple[_Thing, _Amount]]] = {}
    for thing, amount in into:
        key = f"part {thing.part}" if thing.part and thing.is_material else f"code {thing.code}"
        groups.setdefault(key, []).append((thing, amount))
    return list(groups.values())


def _kind(*, counted: bool) -> str:
    return "source-lot" if counted else "unit"


def _text(micro: int) -> str:
    return format(from_micro(micro), "f")


def _code(text: str) -> str:
    """Make a code of a text: printable, at most 80 characters, different for different texts."""
    code = quote(text, safe="!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~")
    if len(code) <= LONGEST:
        return code
    return f"{code[: LONGEST - 17]}~{sha256(text.encode()).hexdigest()[:16]}"


def _place_name(uri: str) -> str:
    said = parts_of(uri)
    if "414" in said:
        name = "-".join(unquote(value) for value in said.values())
    else:
        name = said_by(uri, "place") or uri
    name = _code(name)
    return f"place:{name}"[:LONGEST] if name in END_NAMES else name
