"""The hash chain of the journal: what a row's hash covers, and what a break in the chain means."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.canonical import GENESIS, Json, canonical, chain_hash

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from lotkin.core.view import Entry

__all__ = ["check_chain", "hash_of"]


def hash_of(entry: Entry) -> str:
    """Hash all that a journal row says, and the hash of the row before it."""
    content: dict[str, Json] = {
        "seq": entry.seq,
        "id": entry.id,
        "kind": entry.kind,
        "at": entry.at,
        "recorded_at": entry.recorded_at,
        "station": entry.station,
        "by": entry.by,
        "reported": entry.reported,
        "data": entry.data,
        "sent": entry.sent,
        "plan": entry.plan,
        "breaches": [
            {"rule": b.rule, "record": b.record, "message": b.message} for b in entry.breaches
        ],
    }
    return chain_hash(canonical(content), entry.previous)


def check_chain(entries: Iterable[Entry], head: tuple[int, str]) -> Iterator[tuple[int, str]]:
    """Find rows that were changed, removed, reordered or inserted, in order of the journal.

    Args:
        entries: All rows in order of `seq`.
        head: Number and hash of the last row as noted apart from the journal; (0, GENESIS) when
            nothing was recorded.

    Yields:
        (number, what is wrong), the first one naming the first row that is not as recorded.
    """
    previous, expected = GENESIS, 1
    for entry in entries:
        if entry.seq != expected:
            what = "is missing" if entry.seq > expected else "stands twice"
            yield expected, what
            expected = entry.seq
            previous = entry.previous
        if entry.previous != previous:
            yield entry.seq, "does not follow the row before it; a row was exchanged or inserted"
        if hash_of(entry) != entry.hash:
            yield entry.seq, "was changed after it was recorded"
        previous, expected = entry.hash, entry.seq + 1
    if (expected - 1, previous) != head:
        if head[0] >= expected:
            yield expected, f"is missing; the journal ended at {head[0]} when it was last written"
        elif head[0] < expected - 1:
            yield head[0] + 1, "was added behind the end of the journal"
        else:
            yield head[0], "is not the row that was written last"
