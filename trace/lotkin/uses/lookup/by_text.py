"""Finding the item that a code, serial, label or supplier's number leads to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.errors import UnknownCode
from lotkin.core.rules.checking import Shop
from lotkin.core.rules.leading import Mode

if TYPE_CHECKING:
    from lotkin.core.genealogy.items import Item
    from lotkin.uses.ports import Reading

__all__ = ["by_text"]


def by_text(view: Reading, text: str, as_of: int | None = None) -> Item:
    """Find the item that a text as it is leads to: a code, serial, label or supplier's number.

    Raises:
        UnknownCode: Nothing goes by this text, or did then.
        AmbiguousCode: Several items carry this supplier's number.
    """
    text = text.strip()
    # no code has other characters, and not every store takes them
    if not text.isprintable():
        raise UnknownCode(text)
    if as_of is None:
        exact = view.item(text)
        if exact is not None and exact.kind != "unit":
            return exact
        return Shop(view, Mode.ASKED, at=0, plan=None).led_to(text)
    item = view.item_as_of(text, as_of)
    if item is None:
        raise UnknownCode(text)
    return item
