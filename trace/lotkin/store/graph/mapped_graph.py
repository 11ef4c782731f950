"""The graph at one position of the journal: arrays of a file, and over them what is newer."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from lotkin.store.graph.breadth_first import reached
from lotkin.store.graph.changes_since import LINK_FIELDS, NODE_TEXTS
from lotkin.store.graph.interval_search import reached_below
from lotkin.store.graph.texts import Texts

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from lotkin.store.graph.array_file import ArrayFile
    from lotkin.store.graph.changes_since import Newer
    from lotkin.store.graph.walk import Direction

    Array = NDArray[Any]

__all__ = ["Graph"]


class Graph:
    """Links in both directions, and items, all by number."""

    def __init__(self, file: ArrayFile, newer: Newer) -> None:
        self._file, self._newer = file, newer
        self.size: int = max(newer.size, file.about["size"])
        self._is_plain = not newer.children and self.size == file.about["size"]
        self._new_links = np.array(newer.links, np.int64).reshape(-1, len(LINK_FIELDS))
        self._columns: dict[str, Array] = {}
        self._arrays: dict[str, Array] = {}

    def _array(self, name: str) -> Array:
        """Give an array of the file."""
        known = self._arrays.get(name)
        if known is None:
            known = self._arrays[name] = np.asarray(self._file[name])
        return known

    # --- who is linked to whom

    @cached_property
    def down(self) -> tuple[Array, Array]:
        """Where the children of each item begin, and all children."""
        at, far = self._array("down_at"), self._array("down")
        if self._is_plain:
            return at, far
        near = np.repeat(np.arange(len(at) - 1, dtype=np.int32), np.diff(at))
        keep = ~self._is_touched[far]
        new = self._new_links[np.lexsort((self._new_links[:, 1], self._new_links[:, 0]))]
        return self._joined(near[keep], far[keep], new[:, 0], new[:, 1])

    @cached_property
    def up(self) -> tuple[Array, Array]:
        """Where the links into each item begin, and the parents at their other ends."""
        if self._is_plain:
            return self._array("up_at"), self._array("up_parent")
        links = self._new_links
        near, far = self._near_up[self._kept_up], self._array("up_parent")[self._kept_up]
        return self._joined(near, far, links[:, 1], links[:, 0])

    def _joined(
        self, near: Array, far: Array, new_near: Array, new_far: Array
    ) -> tuple[Array, Array]:
        counts = np.bincount(near, minlength=self.size)
        counts += np.bincount(new_near, minlength=self.size)
        at = np.zeros(self.size + 1, np.int32)
        np.cumsum(counts, out=at[1:])
        places = np.searchsorted(near, new_near, side="right")
        return at, np.insert(far, places, new_far).astype(np.int32, copy=False)

    @cached_property
    def _is_touched(self) -> Array:
        touched = np.zeros(self.size, bool)
        touched[self._newer.children] = True
        return touched

    @cached_property
    def _near_up(self) -> Array:
        at = self._array("up_at")
        return np.repeat(np.arange(len(at) - 1, dtype=np.int32), np.diff(at))

    @cached_property
    def _kept_up(self) -> Array:
        return ~self._is_touched[self._near_up]

    def reached(
        self, starts: Sequence[int], direction: Direction, first: Sequence[int] | None = None
    ) -> Array:
        """Give the numbers of all that is reached from some items, themselves included.

        Args:
            starts: Numbers of the items to begin with.
            direction: `down` to what was made of them, `up` to what they were made from.
            first: Numbers to go on from instead of all direct neighbours of the starts.
        """
        if direction == "down" and first is None:
            below = reached_below(self._file, self._newer, starts)
            if below is not None:
                parts = [np.asarray(part, np.int32) for part in below]
                return np.concatenate(parts) if parts else np.empty(0, np.int32)
        at, far = self.down if direction == "down" else self.up
        return reached(at, far, starts, first)

    # --- what links and items say

    def of_links(self, name: str, at: Array) -> Array:
        """Give a field of links by their places in `up`."""
        if self._is_plain:
            return self._decoded(f"up_{name}", at)
        known = self._columns.get(name)
        if known is None:
            links = self._new_links
            near = self._near_up[self._kept_up]
            old = self._decoded(f"up_{name}", np.flatnonzero(self._kept_up))
            places = np.searchsorted(near, links[:, 1], side="right")
            known = np.insert(old, places, links[:, LINK_FIELDS.index(name)])
            self._columns[name] = known
        return known[at]

    def _decoded(self, name: str, at: Array) -> Array:
        values = self._array(name)[at]
        if self._file.has(f"{name}_of"):
            values = self._array(f"{name}_of")[values]
        return values.astype(np.int64)

    def quantities(self, numbers: Array) -> Array:
        """Give the quantities of items; `NONE` where it is not known."""
        return self._patched(numbers, lambda at: self._decoded("item_quantity", at), 5)

    def texts(self, name: str, numbers: Array) -> Array:
        """Give the texts of items, one of `NODE_TEXTS` but the serial, as an array of objects."""
        table = np.array(self._file.about["texts"][name], object)
        field = 1 + NODE_TEXTS.index(name)
        return self._patched(numbers, lambda at: table[self._array(f"item_{name}")[at]], field)

    def kind_numbers(self, numbers: Array, number_of: Mapping[str, int]) -> Array:
        """Give the kinds of items as numbers."""
        named = [number_of[name] for name in self._file.about["texts"]["kind"]]
        inside = np.where(numbers < self._file.about["size"], numbers, 0)
        found: Array = np.array(named, np.int64)[self._array("item_kind")[inside]]
        for place in self._places_of_newer(numbers):
            found[place] = number_of[self._newer.items[int(numbers[place])][1]]
        return found

    def codes(self, numbers: Array) -> list[str]:
        """List the codes of items."""
        return self._texts_of(numbers, "code", numbers, 0)

    def serials(self, numbers: Array) -> list[str]:
        """List the serials of items; "" for none."""
        inside = numbers < self._file.about["size"]
        at = self._array("item_serial")[np.where(inside, numbers, 0)]
        return self._texts_of(numbers, "serial", at, 4)

    def _texts_of(self, numbers: Array, name: str, at: Array, field: int) -> list[str]:
        texts = self._texts(name)
        size = self._file.about["size"]
        inside = at if name != "code" else np.where(at < size, at, 0)
        found = texts.of(inside)
        for place in self._places_of_newer(numbers):
            found[place] = self._newer.items[int(numbers[place])][field]
        return found

    def _texts(self, name: str) -> Texts:
        known: Texts | None = self.__dict__.get(f"_{name}_texts")
        if known is None:
            known = Texts(self._array(name), self._array(f"{name}_at"))
            self.__dict__[f"_{name}_texts"] = known
        return known

    def _patched(self, numbers: Array, of_file: Any, field: int) -> Array:
        if not self._newer.items:
            found: Array = of_file(numbers)
            return found
        inside = np.where(numbers < self._file.about["size"], numbers, 0)
        found = of_file(inside)
        for place in self._places_of_newer(numbers):
            found[place] = self._newer.items[int(numbers[place])][field]
        return found

    def _places_of_newer(self, numbers: Array) -> list[int]:
        if not self._newer.items:
            return []
        return np.flatnonzero(np.isin(numbers, self._newer_numbers)).tolist()

    @cached_property
    def _newer_numbers(self) -> Array:
        return np.fromiter(self._newer.items, np.int64)
