"""What is to be recorded so that what a station recorded last is taken back."""

from __future__ import annotations

from typing import TYPE_CHECKING
from uuid import UUID, uuid5

from lotkin.core.values.instants import show_instant

if TYPE_CHECKING:
    from lotkin.core.dialogue.desk import Desk
    from lotkin.core.dialogue.state import SessionState
    from lotkin.core.values.canonical import Json

__all__ = ["void_events"]


def void_events(state: SessionState, desk: Desk) -> tuple[dict[str, Json], ...]:
    """Give the events that void those recorded last, the newest first."""
    return tuple(
        {
            "kind": "void",
            "id": str(uuid5(UUID(state.number), f"undo {i}")),
            "at": show_instant(desk.now),
            "by": state.person,
            "station": desk.station,
            "event": event,
            "reason": "undone at the station",
        }
        for i, event in enumerate(reversed(state.last))
    )
