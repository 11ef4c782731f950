"""The fields of an EPCIS event that say what was done, where, for whom, and what was measured."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lotkin.core.epcis.checks.names import PREFIX
from lotkin.core.epcis.extension import place_uri
from lotkin.core.epcis.measures import sensors_of
from lotkin.core.epcis.steps import DECIDED
from lotkin.core.epcis.uris import our_uri

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.epcis.steps import Step
    from lotkin.core.epcis.told import Told

__all__ = ["own_order", "say_digital", "say_measures", "say_step", "say_where"]


def say_digital(event: dict[str, Any], told: Told, step: Step) -> None:
    """Name a plan, or the journal up to an event and the seal on it."""
    event |= {"type": step.type, "action": step.action}
    if told.kind == "plan":
        event["epcList"] = [our_uri("plan", told.id)]
        return
    data = told.data
    event["epcList"] = [our_uri("journal", f"{data['events']}-{data['head']}")]
    event[f"{PREFIX}:key"] = our_uri("key", str(data["key"]))
    event[f"{PREFIX}:signature"] = our_uri("signature", str(data["signature"]))


def say_step(event: dict[str, Any], told: Told, step: Step) -> None:
    """Say what was done, and in which state that left things."""
    biz_step, disposition = step.biz_step, step.disposition
    data = told.data
    if told.kind == "decide":
        biz_step, disposition = DECIDED[str(data["decision"])]
        if data["decision"] == "recall":
            event["persistentDisposition"] = {"set": ["recalled"]}
    elif told.kind == "inspect":
        disposition = "conformant" if data["result"] == "accepted" else "non_conformant"
    elif told.kind == "test":
        verdicts = {True: "conformant", False: "non_conformant"}
        disposition = verdicts.get(bool(data["passed"]), "") if "passed" in data else ""
    elif told.kind == "scrap" and data.get("end", "scrap") != "scrap":
        biz_step = "sampling" if data["end"] == "sample" else "decommissioning"
        disposition = "inactive"
    event["bizStep"] = biz_step
    if disposition:
        event["disposition"] = disposition


def say_where(event: dict[str, Any], told: Told) -> None:
    """Say place, parties and orders."""
    data, kind = told.data, told.kind
    station = data.get("station") or data.get("place")
    if station:
        event["readPoint"] = {"id": place_uri(str(station))}
    goal = data.get("to_place") or (data.get("place") if kind in ("receive", "count") else None)
    if goal:
        event["bizLocation"] = {"id": place_uri(str(goal))}
    party = data.get("customer") or data.get("supplier")
    if party and kind in ("receive", "take-back", "return"):
        owner = "possessing_party" if kind == "take-back" else "owning_party"
        event["sourceList"] = [{"type": owner, "source": our_uri("party", str(party))}]
    elif party and kind in ("ship", "send"):
        owner = "owning_party" if kind == "ship" else "possessing_party"
        event["destinationList"] = [{"type": owner, "destination": our_uri("party", str(party))}]
    orders = _orders(data, kind)
    if orders:
        event["bizTransactionList"] = orders


def say_measures(event: dict[str, Any], told: Told, at: str) -> None:
    """Say what was measured.

    Implementations of the event hash differ in the order of orders and measures, so no event has
    both: a run that measured something names its traveller in our own namespace.
    """
    sensors = sensors_of(told.kind, told.data, at)
    if not sensors:
        return
    event["sensorElementList"] = sensors
    orders = event.pop("bizTransactionList", None)
    if orders:
        event[f"{PREFIX}:order"] = [each["bizTransaction"] for each in orders]


def _orders(data: Mapping[str, Any], kind: str) -> list[dict[str, Any]]:
    orders: list[dict[str, Any]] = []
    if kind == "make" and data.get("traveller"):
        name = our_uri("traveller", str(data["traveller"]))
        orders.append({"type": "prodorder", "bizTransaction": name})
    if kind == "ship" and data.get("reference"):
        orders.append(own_order("reference", str(data["reference"])))
    if kind == "decide":
        orders.append(own_order("case", str(data["case"])))
    if kind == "receive":
        orders += [
            {"type": "cert", "bizTransaction": f"ni:///sha-256;{document['sha256']}"}
            for document in data.get("documents", ())
        ]
    return orders


def own_order(sort: str, name: str) -> dict[str, Any]:
    """Name a transaction of a type that CBV has no word for."""
    return {"type": our_uri("transaction", sort), "bizTransaction": our_uri(sort, name)}
