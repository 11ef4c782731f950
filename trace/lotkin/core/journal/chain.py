"""The hash chain of the journal: what a row's hash covers, and what a break in the chain means."""

from __future__ import annotations

import json
from dataclasses import replace
from json.encoder import encode_basestring
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.values.canonical import GENESIS, Json, canonical, chain_hash

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from lotkin.core.genealogy.view import Breach, Entry

__all__ = ["ChainRow", "chain_row", "chained", "check_chain", "hash_of"]


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


NO_HASH = "not a hash: a field holds what was never recorded"

NUMBERS = frozenset({"seq", "at", "recorded_at", "reported", "plan"})
KINDS = tuple(int if name in NUMBERS else str for name in ChainRow._fields)
"""Types of the fields of a row as it is recorded."""


def _breaches_text(breaches: Sequence[Breach]) -> str:
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
        _breaches_text(entry.breaches),
        entry.previous,
        entry.hash,
    )


def chained(entry: Entry) -> Entry:
    """Give an entry, which names the hash before it, with the hash of its own."""
    return replace(entry, hash=hash_of(chain_row(entry)))


def hash_of(row: ChainRow) -> str:
    """Hash all that a journal row says, and the hash of the row before it."""
    if tuple(map(type, row)) != KINDS:
        return _hash_of_any(row)
    spelt = encode_basestring
    # `canonical` gives the same, and is slower
    content = (
        f'{{"at":{row.at},"breaches":{spelt(row.breaches)},"by":{spelt(row.by)},'
        f'"data":{spelt(row.data)},"id":{spelt(row.id)},"kind":{spelt(row.kind)},'
        f'"plan":{row.plan},"recorded_at":{row.recorded_at},"reported":{row.reported},'
        f'"sent":{spelt(row.sent)},"seq":{row.seq},"station":{spelt(row.station)}}}'
    )
    try:
        return chain_hash(content, row.previous)
    except UnicodeEncodeError:
        return NO_HASH


def _hash_of_any(row: ChainRow) -> str:
    """Hash a row whatever it holds: damage, mostly."""
    content: dict[str, Json] = dict(zip(ChainRow._fields[:-2], row[:-2], strict=True))
    try:
        return chain_hash(canonical(content), str(row.previous))
    except (TypeError, ValueError):
        return NO_HASH


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
