"""Opening and making stores."""

from __future__ import annotations

import time
from contextlib import contextmanager
from typing import TYPE_CHECKING

from lotkin.core.errors import NoStore, StoreExists, StoreUnreadable
from lotkin.store.engine import MEMORY, open_engine, sqlite_path
from lotkin.store.graph.graphs import Graphs
from lotkin.store.migrate import check_tables, has_tables, upgrade
from lotkin.store.store import Store

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from sqlalchemy import Engine

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
    engine = open_engine(url)
    with _let_go_on_failure(engine):
        check_tables(engine)
    return Store(engine, _graphs(path))


@contextmanager
def _let_go_on_failure(engine: Engine) -> Iterator[None]:
    """Close the connections of an engine that nobody will get."""
    try:
        yield
    except BaseException:
        engine.dispose()
        raise


def _graphs(path: Path | None) -> Graphs | None:
    """Name the copy of the graph: beside the store."""
    return Graphs(path.with_name(f"{path.name}.graph")) if path is not None else None


def _check_file(path: Path, url: str) -> None:
    if path.is_dir():
        raise StoreUnreadable(url, "it is a folder")
    try:
        if not path.exists():
            raise NoStore(str(path))
    except OSError as error:
        raise StoreUnreadable(url[:200], error.strerror or "no such file") from error
    try:
        with path.open("rb") as file:
            start = file.read(len(SQLITE_MARK))
    except OSError as error:
        raise StoreUnreadable(url, error.strerror or "it cannot be read") from error
    if start != SQLITE_MARK:
        raise StoreUnreadable(url, "it is an empty file" if not start else "it is no SQLite file")


def create_store(url: str) -> Store:
    """Make a new store and open it.

    Raises:
        StoreExists: Something is there already.
        StoreUnreadable: It cannot be made there.
    """
    path = sqlite_path(url)
    if path is not None:
        try:
            if path.exists():
                raise StoreExists(str(path))
        except OSError as error:
            raise StoreUnreadable(url[:200], error.strerror or "bad name") from error
        if not path.parent.is_dir():
            raise StoreUnreadable(str(path), f"there is no folder {path.parent}")
    engine = open_engine(url)
    with _let_go_on_failure(engine):
        if path is None and url != MEMORY and has_tables(engine):
            raise StoreExists(engine.url.database or "the database")
        upgrade(engine)
    return Store(engine, _graphs(path))


def upgrade_store(url: str) -> Store:
    """Bring the tables of a store to those that this lotkin uses.

    Raises:
        NoStore: There is none.
    """
    path = sqlite_path(url)
    if path is not None:
        _check_file(path, url)
    engine = open_engine(url)
    upgrade(engine)
    return Store(engine, _graphs(path))
