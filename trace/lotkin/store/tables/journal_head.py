"""What marks the state of a store: the end of its journal, and whose numbers the items have."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.store.connection.statements import Ask

if TYPE_CHECKING:
    from lotkin.store.connection.database import Database

__all__ = ["NOTHING_RECORDED", "NUMBERING", "hash_of_event", "head_of", "numbering_of"]

NUMBERING = "numbering"
NOTHING_RECORDED = (0, "0" * 64)
"""Number and hash before the first event (`core.canonical.GENESIS`)."""

NOTED = Ask("SELECT value FROM meta WHERE key = :key")
HASH_OF = Ask("SELECT hash FROM journal WHERE seq = :seq")


def head_of(database: Database) -> tuple[int, str]:
    """Give number and hash of the last journal row, as noted apart from the journal.

    `NOTHING_RECORDED` if nothing, or nothing that can be read, is noted.
    """
    seq, _, digest = str(NOTED.first(database, key="head") or "").partition(" ")
    return (int(seq), digest) if seq.isdecimal() and len(seq) < 19 else NOTHING_RECORDED


def hash_of_event(database: Database, seq: int) -> str:
    """Give the hash of an event; "" if there is none of this number."""
    return str(HASH_OF.first(database, seq=seq) or "")


def numbering_of(database: Database) -> str:
    """Give the mark of the numbers in a store; "" if it was never derived anew.

    Deriving everything anew may number the items otherwise.
    """
    return str(NOTED.first(database, key=NUMBERING) or "")
