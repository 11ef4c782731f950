"""The hash chain of the journal: what a row's hash covers, and what a break in the chain means."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.canonical import GENESIS, Json, canonical, chain_hash

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from lotkin.core.view import Breach, Entry

__all__ = ["ChainRow", "breaches_text", "chain_row", "check_chain", "hash_of"]


class ChainRow(NamedTuple):
    """A journal row as it is stored, `data` and `breaches` as their very texts.

    The texts are not parsed, so that no change of them goes unseen.
    """

    seq: int
    id: str
    kind: str
    at: int
    recorded_at: int
    station: str
    by: str
    reported: int
    data: str
    sent: str
    plan: int
    breaches: str
    previous: str
    hash: str


def breaches_text(breaches: Sequence[Breach]) -> str:
    """Write broken rules as the journal holds them."""
    if not breaches:
        return "[]"
    rows = [{"rule": b.rule, "record": b.record, "message": b.message} for b in breaches]
    return json.dumps(rows, separators=(",", ":"), ensure_ascii=False, sort_keys=True)


def chain_row(entry: Entry) -> ChainRow:
    """Give an entry as it is stored."""
    return ChainRow(
        entry.seq,
        entry.id,
        entry.kind,
        entry.at,
        entry.recorded_at,
        entry.station,
        entry.by,
        int(entry.reported),
        entry.text or canonical(entry.data),
        entry.sent,
        entry.plan,
        breaches_text(entry.breaches),
        entry.previous,
        entry.hash,
    )


def hash_of(row: ChainRow) -> str:
    """Hash all that a journal row says, and the hash of the row before it."""
    content: dict[str, Json] = dict(zip(ChainRow._fields[:-2], row[:-2], strict=True))
    try:
        return chain_hash(canonical(content), str(row.previous))
    except (TypeError, ValueError):
        return "not a hash: a field holds what was never recorded"


def check_chain(rows: Iterable[ChainRow], head: tuple[int, str]) -> Iterator[tuple[int, str]]:
    """Find rows that were changed, removed, reordered or inserted, in order of the journal.

    Args:
        rows: All rows in order of `seq`.
        head: Number and hash of the last row as noted apart from the journal; (0, GENESIS) when
            nothing was recorded.

    Yields:
        (number, what is wrong), the first one naming the first row that is not as recorded.
    """
    previous, expected = GENESIS, 1
    for row in rows:
        if row.seq != expected:
            yield expected, "is missing" if row.seq > expected else "stands twice"
            expected = row.seq
        elif row.previous != previous:
            yield row.seq, "does not follow the row before it; one was exchanged or inserted"
        if hash_of(row) != row.hash:
            yield row.seq, "was changed after it was recorded"
        previous, expected = row.hash, row.seq + 1
    last = expected - 1
    if (last, previous) == head:
        return
    if head[0] > last:
        yield expected, f"is missing; the journal ended at {head[0]} when it was last written"
    elif head[0] < last:
        yield head[0] + 1, "was added behind the end of the journal"
    else:
        yield last, "is not the row that was written last"
