"""Understanding events of others from the fields of the standard alone.

What is not said is never guessed so that something would be left out: everything that went into a
transformation is a parent of everything that came out. Several lots of one part that went into
something which is not one piece are in one group: each piece drew from one of them. Where an event
does not say how much, the quantity stays unknown.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lotkin.core.epcis.adoption import Adoption
from lotkin.core.epcis.partner.event_rows import PartnerRows, Told
from lotkin.core.epcis.partner.event_types import read_into

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.epcis.partner.names import Known

__all__ = ["PartnerReader"]


class PartnerReader:
    """Reads events one after the other, in the order in which they happened.

    Attributes:
        left_out: (path, what was not taken over and why).
    """

    def __init__(self, known: Known, supplier: str = "") -> None:
        """Begin.

        Args:
            known: What is recorded here.
            supplier: Our code of whose events these are; "" if unknown.
        """
        self.known, self.supplier = known, supplier
        self.left_out: list[tuple[str, str]] = []
        self._told = Told()

    def read(self, path: str, event: Mapping[str, Any], hashes: tuple[str, ...]) -> Adoption:
        """Understand an event that was checked."""
        digests = " ".join(hashes)
        rows = PartnerRows(event, self.known, self._told, self.supplier)
        read_into(rows, digests)
        self._told.take(rows.told)
        self.left_out += [(path, why) for why in rows.left_out]
        return Adoption(path, rows.at, hashes, digests, rows.rows, foreign=True)
