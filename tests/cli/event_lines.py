"""Events as lines of JSON, for `lotkin record`."""

from __future__ import annotations

import json
from uuid import NAMESPACE_OID, uuid5

__all__ = ["event_line", "receipt"]


def event_line(kind: str, **fields: object) -> str:
    """Write an event; what is not said is filled in, the id follows from the content."""
    event = {"kind": kind, "at": "2026-03-03T06:00:00Z", "by": "ANN", **fields}
    content = json.dumps(event, sort_keys=True)
    return json.dumps({"id": str(uuid5(NAMESPACE_OID, content)), **event}) + "\n"


def receipt(code: str, **fields: object) -> str:
    """Write the receipt of a lot of a hundred screws."""
    said = {"item_kind": "purchased-lot", "part": "SCREW", "place": "SHELF", "quantity": 100}
    return event_line("receive", code=code, **{**said, **fields})
