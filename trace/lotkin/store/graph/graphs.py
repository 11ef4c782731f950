"""Keeping the copy of the graph: whether it may be believed, and what is newer than it."""

from __future__ import annotations

import logging
import sys
from collections.abc import Iterator, Sequence
from threading import Lock
from typing import TYPE_CHECKING, Any

from lotkin.core.errors import StoreUnreadable
from lotkin.core.paused_collector import paused_collector
from lotkin.store.numbering import numbering_of
from lotkin.store.quick import Ask, Lookup
from lotkin.store.walk import Direction, Reached, stock_of

if TYPE_CHECKING:
    from pathlib import Path

    from lotkin.store.database import Database
    from lotkin.store.graph.array_file import ArrayFile
    from lotkin.store.graph.graph import Graph, Newer

__all__ = ["Graphs"]

LOG = logging.getLogger("lotkin.graph")

FEW_COLD, FEW_WARM = 30_000, 2_000
"""Links that the tables give sooner than the arrays: before and after libraries are loaded."""

OLD_AFTER = 0.05
"""Share of links that may be newer before it is better to make the copy anew."""

WORTH_IT = 20_000
"""Links of a store of which a copy is worth it."""


HASH_OF = Ask("SELECT hash FROM journal WHERE seq = :seq")
NOTED_HEAD = Ask("SELECT value FROM meta WHERE key = 'head'")
LINK_COUNT = Ask("SELECT count(*) FROM link")
CHANGED = Ask("SELECT DISTINCT item FROM graph_change WHERE seq > :seq")
NEW_CHILDREN = Ask("SELECT DISTINCT child FROM link WHERE event > :seq")


class Graphs:
    """The copy of one store's graph."""

    def __init__(self, path: Path) -> None:
        """Name the file; there may be none."""
        self._path = path
        self._lock = Lock()
        self._file: ArrayFile | None = None
        self._graph: tuple[tuple[int, str], Graph] | None = None
        self._stamp: tuple[int, int] | None = None

    def few(self) -> int | None:
        """Give how many links are better fetched from the tables; None if there is no copy."""
        if not self._path.exists():
            return None
        return FEW_WARM if "scipy.sparse.csgraph" in sys.modules else FEW_COLD

    def reach(
        self,
        database: Database,
        starts: Sequence[int],
        direction: Direction,
        first: Sequence[int] | None,
    ) -> Reached | None:
        """Walk in the copy; None if it cannot be believed."""
        from lotkin.store.graph.array_file import BadArrayFileError  # noqa: PLC0415 - numpy
        from lotkin.store.graph.reaching import reach_in  # noqa: PLC0415 - numpy

        try:
            graph = self.graph(database)
            if graph is None:
                return None
            with paused_collector():
                numbers, reach = reach_in(graph, starts, direction, first)
                listed = numbers.tolist()
                position = dict(zip(listed, range(len(listed)), strict=True))
        except (BadArrayFileError, IndexError, ValueError, UnicodeDecodeError) as error:
            LOG.warning("the copy of the graph in %s is not used: %s", self._path.name, error)
            self.discard()
            return None
        is_much = len(listed) * 4 > graph.size
        stock = _LaterStock(database, listed, is_much=is_much)
        return Reached(reach, position, stock)

    def graph(self, database: Database) -> Graph | None:
        """Give the graph as a transaction sees it; None if there is no copy to believe.

        Raises:
            BadArrayFileError: The copy is damaged.
        """
        from lotkin.store.graph.graph import Graph  # noqa: PLC0415 - numpy

        with self._lock:
            head = _head(database)
            key = (head, numbering_of(database))
            if self._graph is not None and self._graph[0] == key and not self._was_replaced():
                return self._graph[1]
            file = self._open(database)
            if file is None or file.about["seq"] > head:
                return None
            newer = _newer(database, file)
            if len(newer.links) > OLD_AFTER * (len(file["down"]) + WORTH_IT):
                return None
            graph = Graph(file, newer)
            self._graph = (key, graph)
            return graph

    def _was_replaced(self) -> bool:
        return self._stamp != _stamp(self._path)

    def _open(self, database: Database) -> ArrayFile | None:
        """Open the file and compare it with the journal: it is of this store, and not ahead."""
        from lotkin.store.graph.array_file import ArrayFile  # noqa: PLC0415 - numpy

        stamp = _stamp(self._path)
        if self._file is None or stamp != self._stamp:
            if stamp is None:
                return None
            self._file, self._stamp, self._graph = ArrayFile(self._path), stamp, None
        about = self._file.about
        seq = about.get("seq")
        digest = HASH_OF.first(database, seq=seq) if isinstance(seq, int) else None
        if digest is None or digest != about.get("hash"):
            return None
        return self._file if about.get("numbering") == numbering_of(database) else None

    def is_due(self, database: Database) -> bool:
        """Tell whether the copy should be made anew."""
        from lotkin.store.graph.array_file import BadArrayFileError  # noqa: PLC0415 - numpy

        links = int(LINK_COUNT.first(database))
        if links < WORTH_IT:
            return False
        try:
            with self._lock:
                file = self._open(database)
                if file is None or file.about["seq"] > _head(database):
                    return True
                return len(_newer(database, file).links) * 4 > OLD_AFTER * links
        except BadArrayFileError:
            return True

    def renew(self, database: Database) -> int:
        """Make the copy anew; gives the number of the event that it is of."""
        from lotkin.store.graph.array_file import write_arrays  # noqa: PLC0415 - numpy
        from lotkin.store.graph.build import gather  # noqa: PLC0415 - numpy

        seq = _head(database)
        digest = HASH_OF.first(database, seq=seq)
        with paused_collector():
            about, arrays = gather(database)
        about |= {"seq": seq, "hash": digest or "", "numbering": numbering_of(database)}
        try:
            write_arrays(self._path, about, arrays)
        except OSError as error:
            raise StoreUnreadable(str(self._path), error.strerror or str(error)) from error
        return seq

    def discard(self) -> None:
        """Take a copy away that is damaged."""
        with self._lock:
            self._file = self._graph = self._stamp = None
            self._path.unlink(missing_ok=True)


class _LaterStock(Sequence[tuple[int, int, int]]):
    """Rows of what lies where, fetched when they are first looked at."""

    def __init__(self, database: Database, numbers: list[int], *, is_much: bool) -> None:
        self._database, self._numbers, self._is_much = database, numbers, is_much
        self._rows: list[Any] | None = None

    @property
    def rows(self) -> list[Any]:
        if self._rows is None:
            self._rows = stock_of(self._database, self._numbers, is_much=self._is_much)
        return self._rows

    def __getitem__(self, index: Any) -> Any:
        return self.rows[index]

    def __iter__(self) -> Iterator[Any]:
        return iter(self.rows)

    def __len__(self) -> int:
        return len(self.rows)


def _stamp(path: Path) -> tuple[int, int] | None:
    try:
        said = path.stat()
    except OSError:
        return None
    return said.st_ino, said.st_mtime_ns


def _head(database: Database) -> int:
    value = NOTED_HEAD.first(database)
    return int(str(value).partition(" ")[0]) if value else 0


def _newer(database: Database, file: ArrayFile) -> Newer:
    """Read what the tables say otherwise than the file: new links and items, and corrections."""
    import numpy as np  # noqa: PLC0415 - slow to load

    from lotkin.store.graph.build import (  # noqa: PLC0415 - numpy
        ITEM_NUMBERS,
        LINK_FIELDS,
        LINK_NUMBERS,
        NONE,
        ints_of,
    )
    from lotkin.store.graph.graph import Newer  # noqa: PLC0415 - numpy

    seq, size = file.about["seq"], file.about["size"]
    changed = [int(row[0]) for row in CHANGED.rows(database, seq=seq)]
    new_children = NEW_CHILDREN.rows(database, seq=seq)
    children = sorted({*changed, *(int(row[0]) for row in new_children)})
    rows = Lookup(database, f"{LINK_NUMBERS} WHERE child IN ({{numbers}})").rows(children)
    links = ints_of(rows, len(LINK_FIELDS))
    links = links[np.lexsort((links[:, 0], links[:, 3], links[:, 2], links[:, 1]))]
    found = Ask(f"{ITEM_NUMBERS} WHERE id >= :size").rows(database, size=size)
    beneath = [n for n in changed if n < size]
    found += Lookup(database, f"{ITEM_NUMBERS} WHERE id IN ({{numbers}})").rows(beneath)
    items = {row[0]: tuple(row[1:]) for row in found}
    gone = [n for n in changed if n < size and n not in items]
    items |= dict.fromkeys(gone, ("", "", "", "", "", NONE))
    top = max([size, *(n + 1 for n in items), *(n + 1 for n in children)])
    return Newer(top, np.array(children, np.int64), links, items)
