"""A supplier who writes EPCIS documents by the fields of the standard alone."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from lotkin.core.epcis.checks.event_hash import event_hash
from lotkin.core.epcis.checks.names import known_prefixes
from lotkin.core.epcis.checks.vocabulary import CONTEXT
from lotkin.uses.exchange.epcis.import_epcis import EpcisImport, import_epcis
from lotkin.uses.exchange.epcis.understanding import Who
from tests.small_works import PLAN, Works

__all__ = [
    "BILLET",
    "OTHER_ROD",
    "ROD",
    "TYPES",
    "WHERE",
    "WITH_GTINS",
    "Event",
    "Partner",
    "document",
    "name_of",
    "quantity",
]

Event = dict[str, Any]

KINDS = ("Object", "Aggregation", "Transaction", "Transformation", "Association")
WITH_GTINS = PLAN.replace(
    'code = "BAR", name = "Bar",', 'code = "BAR", name = "Bar", gtin = "9521141123454",'
).replace('code = "PUMP", name = "Pump",', 'code = "PUMP", name = "Pump", gtin = "9521141654323",')
"""GTINs with the prefix that GS1 keeps for demonstrations."""

TYPES = tuple(f"{name}Event" for name in KINDS)
BILLET = "urn:epc:class:lgtin:9521141.077777.MELT-7"
ROD = "urn:epc:class:lgtin:9521141.012345.ROD-9"
OTHER_ROD = "https://id.gs1.org/01/09521141123454/10/ROD-10"
WHERE = {"id": "urn:epc:id:sgln:9521141.00001.0"}


class Partner:
    """Writes documents as a supplier does."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.events: list[Event] = []
        self.hour = 0

    def add(self, kind: str, **fields: Any) -> Event:
        """Add an event, an hour after the one before."""
        self.hour += 1
        event = {
            "type": f"{kind}Event",
            "eventTime": f"2026-02-{1 + self.hour // 24:02}T{self.hour % 24:02}:00:00Z",
            "eventTimeZoneOffset": "+01:00",
            **fields,
        }
        self.events.append(event)
        return event

    def write(self) -> None:
        """Write what was added so far."""
        self.path.write_text(json.dumps(document(self.events)))

    def into(self, works: Works, *, supplier: str = "MILL") -> EpcisImport:
        """Import what was written."""
        self.write()
        who = Who("QUINN", supplier)
        return import_epcis(works.store, self.path, who, dry_run=False, clock=works.clock)


def document(events: list[Event]) -> Event:
    return {
        "@context": [CONTEXT, {"ex": "https://example.com/ns/"}],
        "type": "EPCISDocument",
        "schemaVersion": "2.0",
        "creationDate": "2026-03-01T12:00:00Z",
        "epcisBody": {"eventList": events},
    }


def name_of(event: Event) -> str:
    return event_hash(event, known_prefixes([CONTEXT, {"ex": "https://example.com/ns/"}]))


def quantity(epc_class: str, amount: float | None = None, uom: str = "") -> Event:
    element: Event = {"epcClass": epc_class}
    if amount is not None:
        element["quantity"] = amount
    return {**element, **({"uom": uom} if uom else {})}
