"""Keeping the copy of the graph: whether it may be believed, and what is newer than it."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from threading import Lock
from typing import TYPE_CHECKING, Any

from lotkin.core.values.gc_paused import paused_collector
from lotkin.store.connection.statements import Ask
from lotkin.store.graph.array_file import ArrayFile, BadArrayFileError, write_arrays
from lotkin.store.graph.changes_since import Newer, newer_than
from lotkin.store.graph.interval_search import reached_below
from lotkin.store.tables.journal_head import hash_of_event, head_of, numbering_of

if TYPE_CHECKING:
    from pathlib import Path

    from lotkin.store.connection.database import Database
    from lotkin.store.graph.mapped_graph import Graph
    from lotkin.store.graph.walk import Direction, Reached

__all__ = ["Graphs"]

FEW_COLD, FEW_WARM = 30_000, 2_000
"""Links that the tables give sooner than the arrays: before and after libraries are loaded."""

OLD_AFTER = 0.05
"""Share of links that may be newer before it is better to make the copy anew."""

WORTH_IT = 20_000
"""Links of a store of which a copy is worth it."""


LINK_COUNT = Ask("SELECT count(*) FROM link")


class Graphs:
    """The copy of one store's graph."""

    def __init__(self, path: Path) -> None:
        """Name the file; there may be none."""
        self._path = path
        self._lock = Lock()
        self._file: ArrayFile | None = None
        self._current: tuple[tuple[int, str], ArrayFile, Newer] | None = None
        self._graph: Graph | None = None
        self._stamp: tuple[int, int] | None = None

    def few(self, direction: Direction) -> int | None:
        """Give how many links are better fetched from the tables; None if there is no copy."""
        if not self._path.exists():
            return None
        # stretches are found without scipy, but they only lead down
        needed = "numpy" if direction == "down" else "scipy.sparse.csgraph"
        return FEW_WARM if needed in sys.modules else FEW_COLD

    def reach(
        self,
        database: Database,
        starts: Sequence[int],
        direction: Direction,
        first: Sequence[int] | None,
    ) -> Reached | None:
        """Walk in the copy; None if it cannot be believed."""
        from lotkin.store.graph.reach_from_arrays import reach_in  # noqa: PLC0415 - numpy
        from lotkin.store.graph.walk import Reached  # noqa: PLC0415 - numbers need none of it

        try:
            graph = self.graph(database)
            if graph is None:
                return None
            with paused_collector():
                numbers, reach = reach_in(graph, starts, direction, first)
                listed = numbers.tolist()
                position = dict(zip(listed, range(len(listed)), strict=True))
        except (BadArrayFileError, IndexError, ValueError, UnicodeDecodeError) as error:
            import logging  # noqa: PLC0415 - seldom needed

            log = logging.getLogger("lotkin.graph")
            log.warning("the copy of the graph in %s is not used: %s", self._path.name, error)
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
        from lotkin.store.graph.mapped_graph import Graph  # noqa: PLC0415 - numpy

        with self._lock:
            current = self._look(database)
            if current is None:
                return None
            if self._graph is None:
                self._graph = Graph(*current)
            return self._graph

    def reached_below(
        self, database: Database, starts: Sequence[int]
    ) -> list[Sequence[int]] | None:
        """Find the numbers of all that links lead down to from some items, in stretches.

        None if there is no copy to believe, or corrections are newer than it.

        Raises:
            BadArrayFileError: The copy is damaged.
        """
        with self._lock:
            current = self._look(database)
        return None if current is None else reached_below(*current, starts)

    def _look(self, database: Database) -> tuple[ArrayFile, Newer] | None:
        """Give the copy, and what is newer, as a transaction sees them."""
        head, _ = head_of(database)
        key = (head, numbering_of(database))
        if self._current is None or self._current[0] != key or self._was_replaced():
            self._current = self._graph = None
            file = self._open(database)
            if file is None or file.about["seq"] > head:
                return None
            newer = newer_than(database, file.about["seq"], file.about["size"])
            if len(newer.links) > OLD_AFTER * (len(file.array("down")) + WORTH_IT):
                return None
            self._current = (key, file, newer)
        return self._current[1:]

    def _was_replaced(self) -> bool:
        return self._stamp != _stamp(self._path)

    def _open(self, database: Database) -> ArrayFile | None:
        """Open the file and compare it with the journal: it is of this store, and not ahead."""
        stamp = _stamp(self._path)
        if self._file is None or stamp != self._stamp:
            if stamp is None:
                return None
            self._file, self._stamp = ArrayFile(self._path), stamp
        about = self._file.about
        seq = about.get("seq")
        digest = hash_of_event(database, seq) if isinstance(seq, int) else ""
        if not digest or digest != about.get("hash"):
            return None
        return self._file if about.get("numbering") == numbering_of(database) else None

    def is_due(self, database: Database) -> bool:
        """Tell whether the copy should be made anew."""
        links = int(LINK_COUNT.first(database))
        if links < WORTH_IT:
            return False
        try:
            with self._lock:
                file = self._open(database)
                if file is None or file.about["seq"] > head_of(database)[0]:
                    return True
                newer = newer_than(database, file.about["seq"], file.about["size"])
                return len(newer.links) * 4 > OLD_AFTER * links
        except BadArrayFileError:
            return True

    def renew(self, database: Database) -> int:
        """Make the copy anew; gives the number of the event that it is of."""
        from lotkin.store.graph.build import gather  # noqa: PLC0415 - numpy

        seq, _ = head_of(database)
        digest = hash_of_event(database, seq)
        with paused_collector():
            about, arrays = gather(database)
        about |= {"seq": seq, "hash": digest, "numbering": numbering_of(database)}
        try:
            write_arrays(self._path, about, arrays)
        except OSError as error:
            from lotkin.core.errors import StoreUnreadable  # noqa: PLC0415 - only where one is raised

            raise StoreUnreadable(str(self._path), error.strerror or str(error)) from error
        return seq

    def discard(self) -> None:
        """Take a copy away that is damaged."""
        with self._lock:
            self._file = self._graph = self._stamp = self._current = None
            self._path.unlink(missing_ok=True)


class _LaterStock(Sequence[tuple[int, int, int]]):
    """Rows of what lies where, fetched when they are first looked at."""

    def __init__(self, database: Database, numbers: list[int], *, is_much: bool) -> None:
        self._database, self._numbers, self._is_much = database, numbers, is_much
        self._rows: list[Any] | None = None

    @property
    def rows(self) -> list[Any]:
        if self._rows is None:
            from lotkin.store.graph.walk import stock_of  # noqa: PLC0415 - numbers need none of it

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
