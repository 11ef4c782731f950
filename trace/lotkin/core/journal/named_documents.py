"""Documents that events name: the list of what must be there, whatever lies in the folder."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["LostDocument", "NamedDocument", "documents_in"]

HASH = re.compile(r"[0-9a-f]{64}")
MARK = '"sha256"'


class NamedDocument(NamedTuple):
    """A document as an event names it.

    Attributes:
        sha256: Of its content, 64 hexadecimal digits.
        name: As whoever attached it called it; "" if the event does not say.
        event: Number of the event.
    """

    sha256: str
    name: str
    event: int

    @property
    def title(self) -> str:
        """Give what people call it: its name, and the beginning of its hash."""
        if not self.name:
            return f"document {self.sha256}"
        return f"document {self.name} ({self.sha256[:12]})"


class LostDocument(NamedTuple):
    """A document that an event names and that is not there as it was kept.

    Attributes:
        document: Which.
        why: `is missing`, `was altered`, or `cannot be read` with the reason.
    """

    document: NamedDocument
    why: str

    @property
    def is_altered(self) -> bool:
        """Tell whether something else is there under its hash."""
        return self.why == ALTERED


MISSING = "is missing"
ALTERED = "was altered"
UNREADABLE = "cannot be read"


def documents_in(event: int, text: object) -> Iterator[NamedDocument]:
    """Yield the documents that an event names, also where an amendment patches them in.

    Args:
        event: Number of the event.
        text: Its data as the journal holds them; what is damaged and no JSON names nothing.
    """
    if not isinstance(text, str) or MARK not in text:
        return
    try:
        waiting = [json.loads(text)]
    except (ValueError, RecursionError):
        return
    while waiting:
        value = waiting.pop()
        if isinstance(value, list):
            waiting.extend(reversed(value))
        elif isinstance(value, dict):
            sha256 = value.get("sha256")
            if isinstance(sha256, str) and HASH.fullmatch(sha256):
                yield NamedDocument(sha256, str(value.get("name", "")), event)
            waiting.extend(reversed(value.values()))
