"""Verifying what can be proven of a record: its journal, its seals, and the documents it names."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.journal.chain import check_chain
from lotkin.core.journal.named_documents import documents_in

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.journal.chain import ChainRow
    from lotkin.core.journal.named_documents import LostDocument, NamedDocument
    from lotkin.core.journal.seals import SealOf
    from lotkin.uses.evidence.named_documents import GivesDocuments
    from lotkin.uses.ports import CanRead

__all__ = ["Verified", "verify"]

DERIVED = "derived tables"
DOCUMENTS = "documents"
SEALS = "seals"


@dataclass(frozen=True, slots=True)
class Verified:
    """What verifying found.

    Attributes:
        events: How many rows the journal holds.
        head: Hash of the last row; it stands for the whole journal.
        broken: (number, what is wrong) of rows that the chain of hashes tells of, the first one
            first.
        seals: Those on record; () if the journal is damaged.
        false_seals: (number, what is wrong) of seals that do not hold.
        key: The only key that was trusted; "" for any.
        named: The documents that events name.
        lost: Those of them that are missing or altered; None if they were not looked at.
    """

    events: int
    head: str
    broken: tuple[tuple[int, str], ...]
    seals: tuple[SealOf, ...] = ()
    false_seals: tuple[tuple[int, str], ...] = ()
    key: str = ""
    named: tuple[NamedDocument, ...] = ()
    lost: tuple[LostDocument, ...] | None = None

    @property
    def damage(self) -> tuple[tuple[int, str], ...]:
        """Give what is wrong with the journal: broken rows, then false seals."""
        return self.broken + self.false_seals

    @property
    def true_seals(self) -> tuple[SealOf, ...]:
        """Give the seals that hold."""
        false = {seq for seq, _ in self.false_seals}
        return tuple(one for one in self.seals if one.event not in false)

    @property
    def sealed_to(self) -> int:
        """Give the number of the last event that a seal covers that holds; 0 for none."""
        return max((one.events for one in self.true_seals), default=0)

    @property
    def lacks_seal(self) -> bool:
        """Tell whether a key was named and nothing is sealed by it."""
        return bool(self.key) and not self.sealed_to

    @property
    def not_looked_at(self) -> tuple[str, ...]:
        """Name what nothing is said about."""
        unseen = [SEALS] if self.broken else []
        if self.lost is None:
            unseen.append(DOCUMENTS)
        return (*unseen, DERIVED)

    @property
    def is_sound(self) -> bool:
        """Tell whether nothing is wrong with what was looked at; see `not_looked_at`."""
        return not self.damage and not self.lacks_seal and not self.lost


def verify(store: CanRead, key: str = "", documents: GivesDocuments | None = None) -> Verified:
    """Check the hash chain over the whole journal, the seals in it, and the documents it names.

    The derived tables are not compared: to replay the journal is what `rebuild` does.

    Args:
        store: The store.
        key: The only public key whose seals are trusted; "" for any.
        documents: Where they are kept; None to leave them out.
    """
    named: dict[str, NamedDocument] = {}
    with store.reading() as view:
        head = view.journal_head()
        count = 0

        def looked_at() -> Iterator[ChainRow]:
            nonlocal count
            for row in view.chain_rows():
                count += 1
                for document in documents_in(row.seq, row.data):
                    named.setdefault(document.sha256, document)
                yield row

        broken = tuple(check_chain(looked_at(), head))
        seals: tuple[SealOf, ...] = ()
        false: tuple[tuple[int, str], ...] = ()
        if not broken and view.entries_of(["seal"]):
            # what checks signatures is slow to load, and most works seal nothing
            from lotkin.uses.evidence.seal import false_seals, seals_of  # noqa: PLC0415

            seals, false = tuple(seals_of(view)), tuple(false_seals(view, key))
    lost = None
    if documents is not None:
        from lotkin.uses.evidence.named_documents import lost_documents  # noqa: PLC0415 - loads all errors

        lost = lost_documents(named.values(), documents)
    return Verified(count, head[1], broken, seals, false, key, tuple(named.values()), lost)
