"""Where the session of a station is written down: a file, or the store of the service."""

from __future__ import annotations

import json
import os
from dataclasses import asdict
from typing import TYPE_CHECKING

from lotkin.core.dialogue import SessionState
from lotkin.core.errors import BadFile

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["FileMemory", "read_state", "write_state"]

TUPLES = ("pending", "last")
EARLIER = ("last_resources",)
"""What sessions of earlier versions remembered, and this one does not."""


def write_state(state: SessionState) -> str:
    """Write a session as JSON."""
    return json.dumps(asdict(state), ensure_ascii=False)


def read_state(text: str, where: str) -> SessionState:
    """Read a session from JSON.

    Raises:
        BadFile: It is none.
    """
    try:
        data = json.loads(text)
        data["scans"] = tuple((scan, at) for scan, at in data["scans"])
        for name in TUPLES:
            data[name] = tuple(data[name])
        for name in EARLIER:
            data.pop(name, None)
        used = data.get("resources", {})
        data["resources"] = {step: tuple(codes) for step, codes in used.items()}
        return SessionState(**data)
    except (ValueError, TypeError, KeyError, AttributeError) as error:
        why = "it is no session of a station"
        raise BadFile(where, why, hint="remove it to begin anew") from error


class FileMemory:
    """A session in a file of its own."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def load(self) -> SessionState | None:
        """Give the session as it was written last; None if it never was.

        Raises:
            BadFile: The file holds something else.
        """
        if not self.path.exists():
            return None
        try:
            text = self.path.read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError) as error:
            why = "it is no session of a station"
            raise BadFile(str(self.path), why, hint="remove it to begin anew") from error
        return read_state(text, str(self.path))

    def save(self, state: SessionState) -> None:
        """Write a session down, whole or not at all."""
        fresh = self.path.with_name(f"{self.path.name}.new")
        with fresh.open("w", encoding="utf-8") as file:
            file.write(write_state(state))
            file.flush()
            os.fsync(file.fileno())
        fresh.replace(self.path)
