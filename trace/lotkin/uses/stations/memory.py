"""The session of a station as it is written down."""

from __future__ import annotations

import json
from dataclasses import asdict

from lotkin.core.dialogue import SessionState
from lotkin.core.errors import BadFile

__all__ = ["read_state", "write_state"]

EARLIER = ("last_resources", "pending", "scan")
"""What sessions of earlier versions remembered, and this one does not."""


def write_state(state: SessionState) -> str:
    """Write a session as JSON."""
    return json.dumps(asdict(state), ensure_ascii=False)


def read_state(text: str, station: str) -> SessionState:
    """Read the session of a station from JSON.

    Raises:
        BadFile: It is none.
    """
    try:
        data = json.loads(text)
        data["scans"] = tuple((scan, at) for scan, at in data["scans"])
        data["last"] = tuple(data["last"])
        for name in EARLIER:
            data.pop(name, None)
        used = data.get("resources", {})
        data["resources"] = {step: tuple(codes) for step, codes in used.items()}
        return SessionState(**data)
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        raise BadFile(
            f"station {station}",
            "what is written down of its work in hand cannot be read",
            hint="work under another name (--session at a terminal), or from another browser",
        ) from error
