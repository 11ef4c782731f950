"""The register of kinds of events, so that one that corrects can read any other.

`lotkin.core.events` fills it with every kind there is, before anything of this package is loaded
by others.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin.core.events.base import Event

__all__ = ["EVENTS"]

EVENTS: dict[str, type[Event]] = {}
"""Class of event by its kind."""
