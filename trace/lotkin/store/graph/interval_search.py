"""Finding all that is below some items by stretches of places, without looking at each of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin.store.graph.array_file import ArrayFile
    from lotkin.store.graph.changes_since import Newer

__all__ = ["reached_below"]

HERE = b"\1"


def reached_below(
    file: ArrayFile, newer: Newer, starts: Sequence[int]
) -> list[Sequence[int]] | None:
    """Find all that links lead down to from some items, themselves included.

    Args:
        file: A copy of the graph, laid out by `lay_out`.
        newer: What came since.
        starts: Numbers of the items to begin with.

    Returns:
        Numbers of all items reached, each once, in stretches; those of the file are views of it.
        None where links into items of the copy have changed: then its stretches say too much.

    Raises:
        BadArrayFileError: The copy is damaged.

    Complexity: O(stretches + links across + items / 1000); a million items in one chain of
    powders take some milliseconds.
    """
    size: int = file.about["size"]
    if newer.children and newer.children[0] < size:
        return None
    place, order = file.array("place"), file.array("order")
    covered = _Covered(file)
    for start in starts:
        if start < size:
            covered.add(place.at(start))
    found: list[Sequence[int]] = [order[begin:end] for begin, end in covered.stretches()]
    is_new = {start for start in starts if start >= size}
    is_new |= {
        child for parent, child, *_ in newer.links if parent < size and place.at(parent) in covered
    }
    if is_new:
        found.append(sorted(_below_new(is_new, newer)))
    return found


class _Covered:
    """Places that were reached.

    Most of what is below an item is one stretch; a flag for every place is made only beyond that.
    """

    def __init__(self, file: ArrayFile) -> None:
        self._behind = file.array("behind")
        self._lowest, self._highest = file.array("lowest"), file.array("highest")
        self._across_at, self._across = file.array("across_at"), file.array("across")
        self._only: tuple[int, int] = (0, 0)
        self._flags: bytearray | None = None

    def __contains__(self, place: int) -> bool:
        if self._flags is not None:
            return bool(self._flags[place])
        return self._only[0] <= place < self._only[1]

    def add(self, place: int) -> None:
        """Add a place and all that is below it."""
        waiting = [place]
        while waiting:
            begin = waiting.pop()
            if begin in self:
                continue
            end = self._behind.at(begin)
            self._mark(begin, end)
            if begin <= self._lowest.at(begin) and self._highest.at(begin) < end:
                continue  # no link leads out of the stretch
            first, last = self._across_at.at(begin), self._across_at.at(end)
            outside = {goal for goal in self._across[first:last] if goal < begin or goal >= end}
            # the first place comes last and is taken first: what lies within it is then covered
            waiting += sorted(outside, reverse=True)

    def _mark(self, begin: int, end: int) -> None:
        if self._flags is None and self._only == (0, 0):
            self._only = (begin, end)
            return
        if self._flags is None:
            self._flags = bytearray(len(self._behind))
            self._flag(*self._only)
        self._flag(begin, end)

    def _flag(self, begin: int, end: int) -> None:
        assert self._flags is not None
        self._flags[begin:end] = HERE * (end - begin)

    def stretches(self) -> Iterator[tuple[int, int]]:
        """Yield where what was reached begins and ends."""
        if self._flags is None:
            if self._only[1]:
                yield self._only
            return
        end = 0
        while (begin := self._flags.find(1, end)) >= 0:
            end = self._flags.find(0, begin)
            end = len(self._flags) if end < 0 else end
            yield begin, end


def _below_new(begun: set[int], newer: Newer) -> set[int]:
    """Find what is below items that came since, themselves included."""
    below: dict[int, list[int]] = {}
    for link in newer.links:
        below.setdefault(link[0], []).append(link[1])
    found, waiting = set(begun), list(begun)
    while waiting:
        more = [child for child in below.get(waiting.pop(), ()) if child not in found]
        found.update(more)
        waiting += more
    return found
