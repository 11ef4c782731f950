"""Finding what a scanned or typed text leads to, now or as of a journal position."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.errors import UnknownCode, UnknownEvent
from lotkin.core.rules.known_otherwise import known_otherwise
from lotkin.uses.lookup.by_text import by_text

if TYPE_CHECKING:
    from lotkin.core.genealogy.items import Item
    from lotkin.uses.ports import Reading

__all__ = ["check_position", "resolve"]


def resolve(view: Reading, text: str, as_of: int | None = None) -> Item:
    """Find the item that a text leads to: a code, serial, label, supplier's number, or a scan.

    A unit's serial leads to its newest state. The code of a lot leads to the lot itself even where
    its label is now on what is left of it: what was made before is asked about as well.
    A text that nothing goes by is read as a scan: our own QR code, GS1 data, a supplier's label.
    As of an earlier position only exact codes lead anywhere.

    Raises:
        UnknownCode: Nothing goes by this text, or did then.
        NotAnItem: It is a case, a word of the plan, a traveller or an order.
        AmbiguousCode: Several items carry this supplier's number.
        UnreadableLabel: It is a damaged label.
    """
    try:
        return by_text(view, text, as_of)
    except UnknownCode as unknown:
        # the tables of label standards are slow to load
        from lotkin.core.scan import read_scan  # noqa: PLC0415
        from lotkin.uses.lookup.find import by_scan  # noqa: PLC0415

        try:
            return by_scan(view, read_scan(text), unknown, as_of).item
        except UnknownCode as nothing:
            # and so is the plan
            plan = view.plan(view.plan_number())
            # what a label says within comes after the text as it is
            said = known_otherwise(view, plan, text) or known_otherwise(view, plan, nothing.record)
            raise said or nothing from None


def check_position(view: Reading, as_of: int | None) -> int:
    """Give the journal position that an answer is of.

    Raises:
        UnknownEvent: The journal does not reach that far.
    """
    head = view.journal_head()[0]
    if as_of is not None and not 0 <= as_of <= head:
        raise UnknownEvent(str(as_of))
    return head if as_of is None else as_of
