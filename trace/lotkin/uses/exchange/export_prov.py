"""Exporting the genealogy as W3C PROV, in its JSON form.

Sources: W3C PROV-DM (Recommendation, 2013) for the meaning; PROV-JSON (W3C Member Submission, 2013)
for the form. Every item is an entity, every event an activity, and every link says that the child
was derived from the parent; the earlier state of a unit is what it is a revision of.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING
from urllib.parse import quote

from lotkin.core.values.instants import show_instant
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.quantities import show_quantity
from lotkin.uses.exchange.files import writing_text

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path
    from typing import TextIO

    from lotkin.core.genealogy.items import Item, Link
    from lotkin.core.values.canonical import Json
    from lotkin.uses.exchange.export_scope import Selected

    Record = tuple[str, dict[str, Json]]

__all__ = ["entity_name", "export_prov"]

PREFIXES = {
    "item": "urn:lotkin:item:",
    "event": "urn:lotkin:event:",
    "lotkin": "urn:lotkin:",
    "xsd": "http://www.w3.org/2001/XMLSchema#",
}


def entity_name(code: str) -> str:
    """Give the qualified name of an item; what a name cannot hold is written as in a URI."""
    return f"item:{quote(code, safe='-._~')}"


def export_prov(selected: Selected, path: Path) -> tuple[int, int]:
    """Write items and links as a PROV-JSON document, one record after the other.

    Returns:
        How many entities and derivations.

    Raises:
        BadFile: The file cannot be written.
    """
    document = _Document(selected)
    with writing_text(path) as file:
        file.write('{"prefix": ' + json.dumps(PREFIXES))
        for name, records in document.sections():
            _write_section(file, name, records)
        file.write("\n}\n")
    return document.entities, document.derivations


class _Document:
    """The records, section by section.

    Attributes:
        entities, derivations: How many were written so far.
    """

    def __init__(self, selected: Selected) -> None:
        self._selected = selected
        self._events: set[int] = set()
        self.entities = self.derivations = 0

    def sections(self) -> Iterator[tuple[str, Iterator[Record]]]:
        """Yield the sections; each is to be read before the next one."""
        yield "entity", self._entities()
        yield "wasDerivedFrom", self._derivations()
        yield "wasGeneratedBy", self._generations()
        yield "activity", self._activities()

    def _entities(self) -> Iterator[Record]:
        for item in self._selected.items():
            self.entities += 1
            self._events.add(item.event)
            yield entity_name(item.code), _entity(item)

    def _derivations(self) -> Iterator[Record]:
        for link in self._selected.links():
            self.derivations += 1
            self._events.add(link.event)
            yield f"_:d{self.derivations}", _derivation(link)

    def _generations(self) -> Iterator[Record]:
        for number, item in enumerate(self._selected.items(), 1):
            made: dict[str, Json] = {
                "prov:entity": entity_name(item.code),
                "prov:activity": f"event:{item.event}",
            }
            if item.made_at is not None:
                made["prov:time"] = show_instant(item.made_at)
            yield f"_:g{number}", made

    def _activities(self) -> Iterator[Record]:
        times = self._selected.view.event_times()
        for seq in sorted(self._events):
            at = show_instant(times[seq][0])
            yield f"event:{seq}", {"prov:startTime": at, "prov:endTime": at}


def _write_section(file: TextIO, name: str, records: Iterable[Record]) -> None:
    file.write(f',\n"{name}": {{')
    separator = "\n"
    for key, value in records:
        file.write(f"{separator}{json.dumps(key)}: {json.dumps(value)}")
        separator = ",\n"
    file.write("}")


def _entity(item: Item) -> dict[str, Json]:
    said: dict[str, Json] = {"prov:label": item.code, "lotkin:kind": item.kind}
    if item.part:
        said["lotkin:part"] = item.part
    if item.quantity is not None:
        said["lotkin:quantity"] = show_quantity(item.quantity, item.unit)
    if item.serial:
        said["lotkin:serial"] = item.serial
    if item.supplier_lot:
        said["lotkin:supplierLot"] = item.supplier_lot
    return said


def _derivation(link: Link) -> dict[str, Json]:
    said: dict[str, Json] = {
        "prov:generatedEntity": entity_name(link.child),
        "prov:usedEntity": entity_name(link.parent),
        "prov:activity": f"event:{link.event}",
        "lotkin:mixing": link.mixing.value,
        "lotkin:group": link.group,
    }
    if link.mixing is Mixing.FORMER:
        said["prov:type"] = {"$": "prov:Revision", "type": "xsd:QName"}
    if link.position:
        said["lotkin:position"] = link.position
    return said
