"""The URIs that our items, places and parties go by in EPCIS documents.

What has a GTIN and a code that every reader of GS1 takes is named by its Digital Link; all else by
a URN of our own, which holds the code.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING
from urllib.parse import quote, unquote

from lotkin.core.epcis.identifiers import STEM, parts_of
from lotkin.core.values.kinds import FAMILY_OF, Family

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin.core.genealogy.items import Item

__all__ = ["code_of", "is_instance", "item_uri", "our_uri", "said_by"]

OURS = "urn:lotkin"
PLAIN = re.compile(r"[0-9A-Za-z._-]{1,20}")
"""Codes that fit into the application identifiers 10 and 21 and need no escape in an address."""

GTIN_DIGITS = 14
SINGLE = frozenset({"unit", "bench-setup"})


def our_uri(sort: str, name: str) -> str:
    """Give a URN of ours.

    Args:
        sort: What it names: `item`, `place`, `party`, `part`, `event`, ….
        name: The code or text.
    """
    return f"{OURS}:{sort}:{quote(name, safe='-._~')}"


def said_by(uri: str, sort: str) -> str | None:
    """Give the name in a URN of ours; None if it is none of this sort."""
    stem = f"{OURS}:{sort}:"
    return unquote(uri.removeprefix(stem)) if uri.startswith(stem) else None


def is_instance(kind: str) -> bool:
    """Tell whether items of a kind are named one by one, and not as a class with a quantity."""
    return kind in SINGLE or FAMILY_OF[kind] is not Family.MATERIAL


def item_uri(item: Item, gtin_of: Callable[[str], str | None]) -> str:
    """Name an item.

    Args:
        item: The item.
        gtin_of: Gives the GTIN of a part, if it has one.
    """
    is_goods = item.family is Family.MATERIAL and item.kind != "bench-setup"
    gtin = gtin_of(item.part) if item.part and is_goods else None
    if gtin is None or not PLAIN.fullmatch(item.code):
        return our_uri("item", item.code)
    ai = "21" if is_instance(item.kind) else "10"
    return f"{STEM}/01/{gtin.zfill(GTIN_DIGITS)}/{ai}/{item.code}"


def code_of(uri: str) -> str | None:
    """Give the code of an item that we named; None if the URI is none of ours."""
    ours = said_by(uri, "item")
    if ours is not None:
        return ours
    parts = parts_of(uri)
    found = parts.get("21") or parts.get("10")
    return unquote(found) if found and "01" in parts else None
