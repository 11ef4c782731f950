"""Rebuilding items, links, stock and facts from the journal, and comparing with the living ones."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.errors import JournalUnreadable, LotkinError, Unavailable
from lotkin.core.events.derivation import effects_of
from lotkin.core.events.reading import parse_event

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin.core.genealogy.view import Entry
    from lotkin.uses.ports import CanRebuild, Rebuilding

__all__ = ["Rebuilt", "rebuild"]


@dataclass(frozen=True, slots=True)
class Rebuilt:
    """What rebuilding found.

    Attributes:
        events: How many events were replayed.
        difference: Where the living tables differed from what follows from the journal; "" if
            nowhere.
        kept: Whether the living tables were replaced by what follows from the journal.
    """

    events: int
    difference: str
    kept: bool


def rebuild(
    store: CanRebuild, *, check_only: bool = False, progress: Callable[[int], None] | None = None
) -> Rebuilt:
    """Derive everything from the journal anew, in one transaction.

    Args:
        store: The store.
        check_only: Compare, and leave the living tables as they are.
        progress: Called with the number of events replayed so far.

    Raises:
        JournalUnreadable: An event cannot be replayed; nothing was changed.
    """
    count = 0
    with store.rebuilding(keep=not check_only) as rebuilding:
        rebuilding.set_aside()
        for entry in rebuilding.entries():
            _replay(rebuilding, entry)
            count += 1
            if progress is not None and count % 500 == 0:
                progress(count)
        difference = rebuilding.difference()
    return Rebuilt(count, difference, not check_only)


def _replay(rebuilding: Rebuilding, entry: Entry) -> None:
    """Derive what follows from one event; what it says then was accepted once."""
    try:
        event = parse_event(entry.data, f"event {entry.seq}")
        effects = effects_of(rebuilding, event, entry.seq, entry.plan)
        rebuilding.apply(effects, entry.seq)
    except Unavailable:
        raise
    except LotkinError as error:
        raise JournalUnreadable(entry.seq, error.message) from error
