"""Verifying the journal: that no row was changed, removed, reordered or inserted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.chain import check_chain

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.chain import ChainRow
    from lotkin.core.seals import SealOf
    from lotkin.uses.ports import CanRead

__all__ = ["Verified", "verify"]


@dataclass(frozen=True, slots=True)
class Verified:
    """What verifying found.

    Attributes:
        events: How many rows the journal holds.
        head: Hash of the last row; it stands for the whole journal.
        damage: (number, what is wrong), the first damaged row first; then seals that are false.
        seals: Those on record; () if the journal is damaged.
    """

    events: int
    head: str
    damage: tuple[tuple[int, str], ...]
    seals: tuple[SealOf, ...] = ()

    @property
    def is_sound(self) -> bool:
        """Tell whether all rows are as they were recorded."""
        return not self.damage


def verify(store: CanRead, key: str = "") -> Verified:
    """Check the hash chain over the whole journal, and the seals in it.

    Args:
        store: The store.
        key: The only public key whose seals are trusted; "" for any.
    """
    with store.reading() as view:
        head = view.journal_head()
        count = 0

        def counted() -> Iterator[ChainRow]:
            nonlocal count
            for row in view.chain_rows():
                count += 1
                yield row

        damage = tuple(check_chain(counted(), head))
        if damage or (not key and not view.entries_of(["seal"])):
            return Verified(count, head[1], damage)
        # what checks signatures is slow to load, and most works seal nothing
        from lotkin.uses.seal import false_seals, seals_of  # noqa: PLC0415

        return Verified(count, head[1], tuple(false_seals(view, key)), tuple(seals_of(view)))
