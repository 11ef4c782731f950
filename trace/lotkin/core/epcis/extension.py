"""What EPCIS has no field for, in our declared namespace: rows of an event, written and read.

An event of ours carries the items that it made, its links with group, mixing, quantity, `per` and
position, and its postings between places. All of them name only what the event's own fields name.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from lotkin.core.epcis.checks.names import PREFIX
from lotkin.core.epcis.uris import code_of, our_uri, said_by
from lotkin.core.values.instants import show_instant
from lotkin.core.values.places import END_NAMES
from lotkin.core.values.quantities import MICRO, from_micro

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from lotkin.core.genealogy.items import Fact, Item, Link, Movement
    from lotkin.core.values.canonical import Json
    from lotkin.core.values.places import Spot

__all__ = ["EventRows", "read_rows", "write_rows"]


@dataclass(slots=True)
class EventRows:
    """What an event brought forth."""

    items: list[Item] = field(default_factory=list)
    links: list[Link] = field(default_factory=list)
    movements: list[Movement] = field(default_factory=list)
    labels: list[Fact] = field(default_factory=list)
    holds: list[Fact] = field(default_factory=list)

    def codes(self) -> list[str]:
        """List the codes of all items that the rows are about, each once."""
        found = [item.code for item in self.items]
        found += [code for link in self.links for code in (link.parent, link.child)]
        found += [movement.item for movement in self.movements]
        found += [str(fact.value["item"]) for fact in self.labels]
        found += [fact.subject for fact in self.holds]
        return list(dict.fromkeys(found))


def _of_ours(**values: Json) -> dict[str, Json]:
    return {f"{PREFIX}:{name}": value for name, value in values.items() if value not in ("", None)}


def _amount(micro: int | None) -> str:
    return "" if micro is None else format(from_micro(micro), "f")


def _named(sort: str, name: str) -> str:
    return our_uri(sort, name) if name else ""


def place_uri(place: str) -> str:
    """Name a place, or an end where pieces stop being anywhere."""
    return our_uri("end" if place in END_NAMES else "place", place)


def write_rows(rows: EventRows, uri_of: Callable[[str], str]) -> dict[str, Json]:
    """Write rows as fields of an event.

    Args:
        rows: The rows.
        uri_of: Names an item by its code.
    """
    written: dict[str, Sequence[Json]] = {
        "item": [_item(item, uri_of) for item in rows.items],
        "link": [_link(link, uri_of) for link in rows.links],
        "posting": [_posting(movement, uri_of) for movement in rows.movements],
        "label": [
            _of_ours(text=_named("label", f.subject), item=uri_of(str(f.value["item"])))
            for f in rows.labels
        ],
        "hold": [
            _of_ours(item=uri_of(f.subject), reason=_named("reason", str(f.value["reason"])))
            for f in rows.holds
        ],
    }
    return {f"{PREFIX}:{name}": list(each) for name, each in written.items() if each}


def _item(item: Item, uri_of: Callable[[str], str]) -> Json:
    return _of_ours(
        id=uri_of(item.code),
        kind=item.kind,
        part=_named("part", item.part),
        quantity=_amount(item.quantity),
        unit=item.unit,
        made=show_instant(item.made_at),
        started=show_instant(item.started_at),
        step=_named("step", item.step),
        serial=_named("serial", item.serial),
        supplier=_named("party", item.supplier),
        supplierLot=_named("number", item.supplier_lot),
        due=show_instant(item.due_at),
        station=_named("place", item.station),
    )


def _link(link: Link, uri_of: Callable[[str], str]) -> Json:
    return _of_ours(
        parent=uri_of(link.parent),
        child=uri_of(link.child),
        group=str(link.group),
        mixing=link.mixing.value,
        quantity=_amount(link.quantity),
        per="" if link.per == MICRO else _amount(link.per),
        position=_named("position", link.position),
    )


def _posting(movement: Movement, uri_of: Callable[[str], str]) -> Json:
    def spot(prefix: str, where: Spot | None) -> dict[str, str]:
        if where is None:
            return {}
        said = {prefix: place_uri(where.place)}
        if where.within:
            said[f"{prefix}Within"] = uri_of(where.within)
        return said

    ends = {**spot("from", movement.origin), **spot("to", movement.destination)}
    return _of_ours(item=uri_of(movement.item), quantity=_amount(movement.quantity), **ends)


ITEM_FIELDS: dict[str, tuple[str, str]] = {
    "id": ("code", "id"),
    "kind": ("item_kind", ""),
    "part": ("part", "part"),
    "quantity": ("quantity", ""),
    "unit": ("unit", ""),
    "made": ("made", ""),
    "started": ("started", ""),
    "step": ("step", "step"),
    "serial": ("serial", "serial"),
    "supplier": ("supplier", "party"),
    "supplierLot": ("supplier_lot", "number"),
    "due": ("due", ""),
    "station": ("station", "place"),
}
LINK_FIELDS: dict[str, tuple[str, str]] = {
    "parent": ("parent", "id"),
    "child": ("child", "id"),
    "group": ("group", "number?"),
    "mixing": ("mixing", ""),
    "quantity": ("quantity", ""),
    "per": ("per", ""),
    "position": ("position", "position"),
}
POSTING_FIELDS: dict[str, tuple[str, str]] = {
    "item": ("item", "id"),
    "quantity": ("quantity", ""),
    "from": ("origin", "spot"),
    "fromWithin": ("origin_within", "id"),
    "to": ("destination", "spot"),
    "toWithin": ("destination_within", "id"),
}
SECTIONS: dict[str, tuple[str, dict[str, tuple[str, str]]]] = {
    "item": ("items", ITEM_FIELDS),
    "link": ("links", LINK_FIELDS),
    "posting": ("postings", POSTING_FIELDS),
    "label": ("labels", {"text": ("text", "label"), "item": ("item", "id")}),
    "hold": ("holds", {"item": ("item", "id"), "reason": ("reason", "reason")}),
}
"""Field of the document -> list of the event `adopt`, and the fields in it with what they name."""


def read_rows(event: Mapping[str, Any], faults: list[tuple[str, str]]) -> dict[str, Any]:
    """Read rows back, as the lists of the event `adopt`.

    Args:
        event: An event of a document.
        faults: Gets (path within the event, what is wrong there).
    """
    found: dict[str, Any] = {}
    for name, (to, fields) in SECTIONS.items():
        rows = event.get(f"{PREFIX}:{name}", [])
        if isinstance(rows, dict):
            rows = [rows]
        if not isinstance(rows, list):
            faults.append((f"{PREFIX}:{name}", "must be a list"))
            continue
        found[to] = [
            _read(row, fields, f"{PREFIX}:{name}[{number}]", faults)
            for number, row in enumerate(rows)
        ]
    return found


def _read(
    row: object, fields: dict[str, tuple[str, str]], path: str, faults: list[tuple[str, str]]
) -> dict[str, Any]:
    if not isinstance(row, dict):
        faults.append((path, "must be a JSON object"))
        return {}
    read: dict[str, Any] = {}
    for name, value in row.items():
        known = fields.get(name.removeprefix(f"{PREFIX}:"))
        if known is None:
            faults.append((f"{path}.{name}"[:200], "is no field that lotkin knows"))
            continue
        to, sort = known
        said = _value(value, sort)
        if said is None:
            faults.append((f"{path}.{name}", f"{str(value)[:60]!r} does not name it"))
        else:
            read[to] = said
    return read


def _value(value: object, sort: str) -> str | int | None:
    """Give what a value says; None if it is not of its sort."""
    if not isinstance(value, str):
        return None
    if sort == "":
        return value
    if sort == "number?":
        return int(value) if value.isascii() and value.isdecimal() and len(value) < 8 else None
    if sort == "id":
        return code_of(value)
    if sort == "spot":
        place = said_by(value, "end")
        return place if place in END_NAMES else said_by(value, "place")
    return said_by(value, sort)
