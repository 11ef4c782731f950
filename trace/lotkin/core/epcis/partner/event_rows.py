"""The rows that one event of somebody else is read into, and what it tells the events after it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING, Any

from lotkin.core.epcis.identifiers import normal_form
from lotkin.core.epcis.partner.names import describe
from lotkin.core.epcis.partner.things import Thing, once_each
from lotkin.core.epcis.partner.values import Amount, amount_of, place_from, text_of
from lotkin.core.values.places import IMPORTED, Spot
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.epcis.partner.names import Known

__all__ = ["BAD", "PartnerRows", "Told"]

BAD = frozenset({"non_conformant", "recalled", "damaged", "expired", "needs_replacement"})
"""Dispositions that keep a thing from being used."""


@dataclass(slots=True)
class Told:
    """What events of a document tell those after them.

    Attributes:
        things: Identifier in its normal form -> what it means.
        spots: Code -> where it is.
        inside: Code of a carton -> what is in it, in millionths.
    """

    things: dict[str, Thing] = field(default_factory=dict)
    spots: dict[str, Spot] = field(default_factory=dict)
    inside: dict[str, list[tuple[Thing, int]]] = field(default_factory=dict)

    def take(self, later: Told) -> None:
        """Add what a later event told; where both tell something, the later one counts."""
        self.things |= later.things
        self.spots |= later.spots
        self.inside |= later.inside


class PartnerRows:
    """One event, read row by row; nothing outside it is changed.

    Attributes:
        event: The event, checked.
        at: When it happened.
        rows: The lists of the event `adopt`.
        told: What it tells the events after it.
        left_out: What is not taken over, and why.
    """

    def __init__(
        self, event: Mapping[str, Any], known: Known, before: Told, supplier: str = ""
    ) -> None:
        """Begin.

        Args:
            event: The event, checked.
            known: What is recorded here.
            before: What the events of the document before it told.
            supplier: Our code of whose events these are; "" if unknown.
        """
        self.event, self.supplier = event, supplier
        self.at = datetime.fromisoformat(str(event["eventTime"]).upper())
        self.rows: dict[str, list[dict[str, Any]]] = {
            "items": [],
            "links": [],
            "postings": [],
            "labels": [],
            "holds": [],
        }
        self.told = Told()
        self.left_out: list[str] = []
        self._known, self._before = known, before
        self._groups: dict[str, int] = defaultdict(int)

    # --- what is named

    def thing(self, uri: str, amount: Amount | None = None, *, kind: str = "") -> Thing | None:
        """Find what an identifier means, or make it.

        Args:
            uri: The identifier.
            amount: For a class with a quantity; None for a single thing.
            kind: What it is, where the event tells that.
        """
        normal = normal_form(uri)
        thing = self.told.things.get(normal) or self._before.things.get(normal)
        if thing is not None:
            return thing
        described, problem = describe(
            normal, self._known, self.supplier, counted=amount is not None, kind=kind
        )
        if described is None:
            self.left_out.append(problem)
            return None
        item = self._known.find(normal, described["code"])
        if item is not None:
            thing = Thing(item.code, item.kind, item.part, item.unit, item.quantity, ours=True)
        else:
            thing = self._new(described, amount or Amount(MICRO, "pcs"))
        self.told.things[normal] = thing
        return thing

    def _new(self, described: dict[str, Any], amount: Amount) -> Thing:
        """Make a thing and the row of its item."""
        thing = Thing(
            described["code"],
            described["item_kind"],
            described.get("part", ""),
            amount.unit if amount.micro is not None else "",
            amount.micro,
            ours=False,
        )
        if thing.micro is not None:
            described |= {"quantity": text_of(thing.micro), "unit": thing.unit}
        self.rows["items"].append(described)
        return thing

    def all_of(self, epcs: str, classes: str) -> list[tuple[Thing, Amount]]:
        """Find all that two lists of the event name, with how much of it."""
        found = []
        for uri in self.event.get(epcs, ()):
            thing = self.thing(uri)
            if thing is not None:
                found.append((thing, Amount(MICRO, "pcs")))
        for element in self.event.get(classes, ()):
            amount, problem = amount_of(element)
            if problem:
                self.left_out.append(problem)
            thing = self.thing(element["epcClass"], amount)
            if thing is not None:
                found.append((thing, amount))
        return once_each(found)

    # --- where it is

    @property
    def place(self) -> str:
        """Where the event took place, as far as it says."""
        for name in ("bizLocation", "readPoint"):
            if name in self.event:
                return place_from(str(self.event[name]["id"]))
        return IMPORTED

    def spot_of(self, thing: Thing) -> Spot | None:
        """Tell where a thing is before it is moved; None if nothing says."""
        return self._known.spot(thing.code) if thing.ours else self._told_spot(thing.code)

    def _told_spot(self, code: str) -> Spot | None:
        return self.told.spots.get(code) or self._before.spots.get(code)

    def inside(self, carton: str) -> list[tuple[Thing, int]]:
        """List what the document put into a carton, in millionths."""
        told = self.told if carton in self.told.inside else self._before
        return told.inside.get(carton, [])

    def put_inside(self, carton: str, contents: list[tuple[Thing, int]]) -> None:
        """Say what is in a carton from now on."""
        self.told.inside[carton] = contents

    def settle(self) -> None:
        """Put what this event names for the first time where the event took place."""
        place = Spot(self.place)
        posted = {row["item"] for row in self.rows["postings"] if "origin" not in row}
        for row in self.rows["items"]:
            code = row["code"]
            if self._told_spot(code) is not None or code in posted or "quantity" not in row:
                continue
            self.told.spots[code] = place
            self.rows["postings"].insert(
                0, {"item": code, "quantity": row["quantity"], "destination": place.place}
            )

    def move(self, thing: Thing, micro: int | None, goal: Spot) -> None:
        """Post pieces from where they are; nothing if it is not known how many there are."""
        if micro and thing.is_material:
            self.post(thing, micro, goal)

    def post(self, thing: Thing, micro: int, goal: Spot) -> None:
        """Post so much of a thing from where it is."""
        if thing.micro is None:
            return
        origin = self.spot_of(thing)
        if origin is None or origin == goal:
            return
        row: dict[str, Any] = {"item": thing.code, "quantity": text_of(min(micro, thing.micro))}
        row |= {"origin": origin.place, "origin_within": origin.within}
        row |= {"destination": goal.place, "destination_within": goal.within}
        self.rows["postings"].append(row)
        if not goal.is_end and micro >= thing.micro:
            self.told.spots[thing.code] = goal

    # --- what became of it

    def link(
        self,
        parent: Thing,
        child: Thing,
        micro: int | None,
        mixing: str = "each",
        group: int = 0,
    ) -> int:
        """Link a thing to what came of it; gives the group of the link, a new one for 0."""
        if not group:
            self._groups[child.code] += 1
            group = self._groups[child.code]
        row: dict[str, Any] = {"parent": parent.code, "child": child.code, "group": group}
        row["mixing"] = mixing
        if micro is not None:
            row["quantity"] = text_of(micro)
        self.rows["links"].append(row)
        return group

    def hold(self, things: Sequence[Thing]) -> None:
        """Hold things where the event says that they must not be used."""
        said = [str(self.event.get("disposition", ""))]
        said += self.event.get("persistentDisposition", {}).get("set", [])
        words = [word.rpartition("Disp-")[2] for word in said]
        bad = [word.replace("_", " ") for word in words if word in BAD]
        if bad:
            whose = self.supplier or "whoever sent the document"
            reason = f"{', '.join(dict.fromkeys(bad))}, says {whose}"
            self.rows["holds"] += [{"item": thing.code, "reason": reason} for thing in things]
