"""Gathering the graph from the tables into arrays."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, Any

import numpy as np

from lotkin.store.connection.statements import Ask
from lotkin.store.graph.changes_since import ITEM_NUMBERS, LINK_FIELDS, LINK_NUMBERS, NODE_TEXTS
from lotkin.store.graph.tree_layout import lay_out

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from lotkin.store.connection.database import Database

    Array = NDArray[Any]

__all__ = ["gather", "smallest"]

BLOCK = 50_000

HIGHEST = Ask("SELECT max(id) FROM item")


def gather(database: Database) -> tuple[dict[str, Any], dict[str, Array]]:
    """Read all items and links.

    Returns:
        What the arrays are about, and the arrays: for an item its number is its position. `down`
        lists children by parent (`down_at` says from where), `up_…` fields of links by child;
        what `lay_out` gives is with them.

    Complexity: O(items + links), and sorting.
    """
    size = int(HIGHEST.first(database) or 0) + 1
    arrays, texts = _items(database, size)
    links = _links(database)
    parent, child = links[:, 0], links[:, 1]
    by_child = np.lexsort((parent, links[:, 3], links[:, 2], child))
    by_parent = np.lexsort((child, parent))
    arrays["down_at"] = _starts(parent, size)
    arrays["down"] = child[by_parent].astype(np.int32)
    arrays |= lay_out(arrays["down_at"], arrays["down"])
    arrays["up_at"] = _starts(child, size)
    arrays["up_parent"] = parent[by_child].astype(np.int32)
    for number, name in enumerate(LINK_FIELDS[2:], 2):
        arrays |= _coded(f"up_{name}", links[by_child, number])
    return {"size": size, "texts": texts}, arrays


def smallest(values: Array) -> Array:
    """Give whole numbers in the smallest type that holds them all."""
    if not len(values):
        return values.astype(np.uint8)
    low, high = int(values.min()), int(values.max())
    names = ("u1", "u2", "u4") if low >= 0 else ("i1", "i2", "i4")
    for name in names:
        if np.iinfo(name).min <= low and high <= np.iinfo(name).max:
            return values.astype(name)
    return values.astype("i8")


def _coded(name: str, values: Array) -> dict[str, Array]:
    """Keep values as they are, or as numbers of the few that there are."""
    plain = smallest(values)
    if plain.itemsize > 2:
        few, numbers = np.unique(values, return_inverse=True)
        if len(few) < 60_000:
            return {name: smallest(numbers), f"{name}_of": few.astype(np.int64)}
    return {name: plain}


def _starts(near: Array, size: int) -> Array:
    at = np.zeros(size + 1, np.int32)
    np.cumsum(np.bincount(near, minlength=size), out=at[1:])
    return at


def _ints_of(rows: Iterable[Sequence[int]], width: int) -> Array:
    """Make a table of whole numbers of rows."""
    flat = np.fromiter(chain.from_iterable(rows), np.int64)
    return flat.reshape(-1, width)


def _links(database: Database) -> Array:
    blocks = [
        _ints_of(rows, len(LINK_FIELDS)) for rows in Ask(LINK_NUMBERS).blocks(database, BLOCK)
    ]
    return np.concatenate(blocks) if blocks else np.empty((0, len(LINK_FIELDS)), np.int64)


def _items(database: Database, size: int) -> tuple[dict[str, Array], dict[str, list[str]]]:
    texts: dict[str, dict[str, int]] = {name: {"": 0} for name in NODE_TEXTS}
    columns = {name: np.zeros(size, np.int64) for name in (*NODE_TEXTS, "quantity")}
    codes: list[str] = [""] * size
    for rows in Ask(f"{ITEM_NUMBERS} ORDER BY id").blocks(database, BLOCK):
        numbers, names, *fields_of, quantities = zip(*rows, strict=True)
        at = np.array(numbers)
        for number, code in zip(numbers, names, strict=True):
            codes[number] = code
        for name, values in zip(NODE_TEXTS, fields_of, strict=True):
            known = texts[name]
            columns[name][at] = [known.setdefault(value, len(known)) for value in values]
        columns["quantity"][at] = quantities
    arrays: dict[str, Array] = {}
    for name in NODE_TEXTS:
        arrays[f"item_{name}"] = smallest(columns[name])
    arrays |= _coded("item_quantity", columns["quantity"])
    arrays["code"], arrays["code_at"] = _letters(codes)
    serials = list(texts["serial"])
    arrays["serial"], arrays["serial_at"] = _letters(serials)
    return arrays, {name: list(texts[name]) for name in NODE_TEXTS if name != "serial"}


def _letters(texts: list[str]) -> tuple[Array, Array]:
    """Write texts one after the other in UTF-8, and where each begins, in letters."""
    at = np.zeros(len(texts) + 1, np.int64)
    np.cumsum([len(text) for text in texts], out=at[1:])
    return np.frombuffer("".join(texts).encode(), np.uint8), smallest(at)
