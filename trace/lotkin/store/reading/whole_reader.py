"""Reading the whole record, some rows at a time: the journal, and all that follows from it."""

from __future__ import annotations

import sqlite3
from typing import TYPE_CHECKING

from lotkin.core.genealogy.items import Movement
from lotkin.core.journal.chain import ChainRow
from lotkin.store.reading.answer_statements import (
    ALL_ITEMS,
    ALL_LINKS,
    ALL_MOVEMENTS,
    CHAIN,
    SOME_ENTRIES,
)
from lotkin.store.reading.rule_reader import SqlView
from lotkin.store.tables.records import entry_of, item_of, link_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.genealogy.items import Item, Link
    from lotkin.core.genealogy.view import Entry

__all__ = ["WholeReader"]


class WholeReader(SqlView):
    """A view that also gives everything there is, in order."""

    def entries(self) -> Iterator[Entry]:
        """Yield the whole journal in order; other statements may run in between."""
        last = 0
        while rows := SOME_ENTRIES.rows(self.database, last=last):
            yield from map(entry_of, rows)
            last = rows[-1][0]

    def chain_rows(self) -> Iterator[ChainRow]:
        """Yield the whole journal as it is stored, in order, nothing of it parsed."""
        driver = self.database.driver
        if isinstance(driver, sqlite3.Connection):
            # what is no text any more is damage to be named, not an end of the reading
            driver.text_factory = _any_text
        try:
            for rows in CHAIN.blocks(self.database):
                for row in rows:
                    said = ChainRow(*row)
                    if isinstance(said.reported, bool):
                        said = said._replace(reported=int(said.reported))
                    yield said
        finally:
            if isinstance(driver, sqlite3.Connection):
                driver.text_factory = str

    def all_items(self) -> Iterator[Item]:
        """Yield all living items in order of code."""
        for rows in ALL_ITEMS.blocks(self.database):
            yield from map(item_of, rows)

    def all_links(self) -> Iterator[Link]:
        """Yield all living links in order of child, event, group and parent."""
        for rows in ALL_LINKS.blocks(self.database):
            for row in rows:
                yield link_of(row[2:], row[0], row[1])

    def all_movements(self) -> Iterator[Movement]:
        """Yield all living movements in order of event and item."""
        for rows in ALL_MOVEMENTS.blocks(self.database):
            for code, quantity, origin, destination, event in rows:
                before = None if origin is None else self.spot(origin)
                yield Movement(code, quantity, before, self.spot(destination), event)


def _any_text(value: bytes) -> str:
    return value.decode("utf-8", "surrogateescape")
