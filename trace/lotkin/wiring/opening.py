"""Opening and making stores."""

from __future__ import annotations

import time
from contextlib import contextmanager
from typing import TYPE_CHECKING

from lotkin.store.connection.revision import check_tables
from lotkin.store.connection.source import BehindEngine, Source, SqliteFile
from lotkin.store.connection.urls import MEMORY, sqlite_path
from lotkin.store.graph.snapshot import Graphs
from lotkin.store.store import Store

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from lotkin.core.errors import Unavailable

__all__ = ["create_store", "now_us", "open_store", "upgrade_store"]


SQLITE_MARK = b"SQLite format 3\x00"
"""How every SQLite file begins (sqlite.org, Database File Format, 1.3)."""


def now_us() -> int:
    """Give the time in microseconds since 1970-01-01 UTC."""
    return time.time_ns() // 1000


def open_store(url: str) -> Store:
    """Open a store that exists.

    Raises:
        NoStore: There is none.
        StoreOutdated: Its tables are of another version.
        StoreUnreadable: It is not a store.
    """
    path = sqlite_path(url)
    if path is not None:
        _check_file(path, url)
    source = _source(url)
    with _let_go_on_failure(source):
        check_tables(source)
    return Store(source, _graphs(path))


def _source(url: str) -> Source:
    """Tell where transactions come from; nothing is opened yet.

    Raises:
        Unavailable: The URL is of a kind that lotkin cannot use.
    """
    path = sqlite_path(url)
    if path is not None:
        return SqliteFile(path, url)
    from lotkin.store.connection.engine import open_engine  # noqa: PLC0415 - a file needs none of it

    return BehindEngine(open_engine(url))


@contextmanager
def _let_go_on_failure(source: Source) -> Iterator[None]:
    """Close the connections of a store that nobody will get."""
    try:
        yield
    except BaseException:
        source.close()
        raise


def _graphs(path: Path | None) -> Graphs | None:
    """Name the copy of the graph: beside the store."""
    return Graphs(path.with_name(f"{path.name}.graph")) if path is not None else None


def _check_file(path: Path, url: str) -> None:
    """Check that there is a SQLite file.

    Raises:
        NoStore: There is nothing.
        StoreUnreadable: It is something else.
    """
    try:
        with path.open("rb") as file:
            start = file.read(len(SQLITE_MARK))
    except OSError as error:
        raise _no_file(path, url, error) from error
    if start != SQLITE_MARK:
        from lotkin.core.errors import StoreUnreadable  # noqa: PLC0415 - only where one is raised

        raise StoreUnreadable(url, "it is an empty file" if not start else "it is no SQLite file")


def _no_file(path: Path, url: str, error: OSError) -> Unavailable:
    from lotkin.core.errors import NoStore, StoreUnreadable  # noqa: PLC0415 - only where one is raised

    if isinstance(error, (FileNotFoundError, NotADirectoryError)):
        return NoStore(str(path))
    if isinstance(error, IsADirectoryError):
        return StoreUnreadable(url, "it is a folder")
    return StoreUnreadable(url[:200], error.strerror or "it cannot be read")


def create_store(url: str) -> Store:
    """Make a new store and open it.

    Raises:
        StoreExists: Something is there already.
        StoreUnreadable: It cannot be made there.
    """
    from lotkin.core.errors import StoreExists, StoreUnreadable  # noqa: PLC0415 - only where one is raised

    path = sqlite_path(url)
    if path is not None:
        try:
            if path.exists():
                raise StoreExists(str(path))
        except OSError as error:
            raise StoreUnreadable(url[:200], error.strerror or "bad name") from error
        if not path.parent.is_dir():
            raise StoreUnreadable(str(path), f"there is no folder {path.parent}")
    from lotkin.store.connection.migrate import has_tables, upgrade  # noqa: PLC0415 - slow to load

    source = _source(url)
    with _let_go_on_failure(source):
        if path is None and url != MEMORY and has_tables(source.engine):
            raise StoreExists(source.engine.url.database or "the database")
        upgrade(source.engine)
    return Store(source, _graphs(path))


def upgrade_store(url: str) -> Store:
    """Bring the tables of a store to those that this lotkin uses.

    Raises:
        NoStore: There is none.
    """
    path = sqlite_path(url)
    if path is not None:
        _check_file(path, url)
    from lotkin.store.connection.migrate import upgrade  # noqa: PLC0415 - slow to load

    source = _source(url)
    upgrade(source.engine)
    return Store(source, _graphs(path))
