"""How a reader says that a text cannot be read; `read_scan` turns it into an `Unreadable`."""

from __future__ import annotations

__all__ = ["NotReadableError"]


class NotReadableError(ValueError):
    """A text that is not what it seems to be; the message says why, without naming the text."""
