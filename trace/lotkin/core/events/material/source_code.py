"""The code of a heat or of a supplier's lot: the recorded one, or one made of its names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.printed_numbers import folded, in_ascii

if TYPE_CHECKING:
    from lotkin.core.events.material.delivered import Source
    from lotkin.core.rules.checking import Shop

__all__ = ["coded"]


def coded(shop: Shop, source: Source, supplier: str, part: str) -> Source:
    """Give a source with its code.

    A heat is a melt whatever was rolled from it; a supplier's lot number is of one part.
    """
    if source.code:
        return source
    for item in shop.view.carrying(source.number):
        same_part = source.kind == "heat" or item.part == part
        if item.kind == source.kind and item.supplier == supplier and same_part:
            return source.but(code=item.code)
    names = [supplier, in_ascii(source.number)]
    if source.kind == "source-lot":
        names.insert(1, part)
    return source.but(code=_unlike_others(shop, source, ":".join(names)[:80]))


def _unlike_others(shop: Shop, source: Source, code: str) -> str:
    """Number a code on that a source with another number has already, as in ÄB-1 and AB-1."""
    tried, count = code, 1
    while (other := shop.view.item(tried)) is not None and (
        folded(other.supplier_lot) != folded(source.number)
    ):
        count += 1
        tried = f"{code[:76]}~{count}"
    return tried
