"""Sealing the journal, and telling how far it is sealed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol
from uuid import uuid4

from lotkin.core.events.keeping.seal import Seal
from lotkin.core.journal.seals import SealOf, is_signed, statement
from lotkin.core.values.instants import from_us
from lotkin.uses.recording.record import record

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.uses.ports import CanRead, CanRecord, Clock, Reading

    class Store(CanRead, CanRecord, Protocol):
        """A store that can be sealed."""


__all__ = ["Signer", "false_seals", "last_seal", "seal", "seals_of"]


class Signer(Protocol):
    """Has a private key and shows it to nobody."""

    @property
    def key(self) -> str:
        """The public key, 64 hexadecimal digits."""

    def sign(self, content: bytes) -> str:
        """Sign some bytes; 128 hexadecimal digits."""


def seal(store: Store, signer: Signer, by: str, clock: Clock) -> SealOf | None:
    """Sign all events that there are, and put that on record.

    Returns:
        The seal; None where the last event is a seal already, or there is no event.
    """
    with store.reading() as view:
        events, head = view.journal_head()
        if not events or view.entry(events).kind == "seal":
            return None
    now = clock()
    event = Seal(
        id=uuid4(),
        at=from_us(now),
        by=by,
        events=events,
        head=head,
        key=signer.key,
        signature=signer.sign(statement(events, head)),
    )
    (done,) = record(store, [event], clock)
    return SealOf(done.seq, now, events, head, event.key, event.signature)


def seals_of(view: Reading) -> Iterator[SealOf]:
    """Yield all seals in the order of the journal."""
    for entry in view.entries_of(["seal"]):
        said = entry.data
        yield SealOf(
            entry.seq,
            entry.recorded_at,
            int(str(said["events"])),
            str(said["head"]),
            str(said["key"]),
            str(said["signature"]),
        )


def last_seal(view: Reading) -> SealOf | None:
    """Give the newest seal."""
    return max(seals_of(view), key=lambda one: one.event, default=None)


def false_seals(view: Reading, key: str = "") -> Iterator[tuple[int, str]]:
    """Find seals that do not hold.

    Args:
        view: One state of the store.
        key: The only key that is trusted; "" for any.

    Yields:
        (number of the event, what is wrong).
    """
    for one in seals_of(view):
        if key and one.key != key:
            yield one.event, "is a seal by another key"
        elif view.entry(one.events).hash != one.head:
            yield one.event, f"seals event {one.events} with another hash than it has"
        elif not is_signed(one.key, one.events, one.head, one.signature):
            yield one.event, "is a seal whose signature is false"
