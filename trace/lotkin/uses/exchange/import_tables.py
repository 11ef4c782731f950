"""Importing the items and links that a works has kept in two plain tables."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING
from uuid import NAMESPACE_OID, UUID, uuid5

from lotkin.core.errors import BadTables, Circle
from lotkin.core.events.reading import parse_event
from lotkin.core.plain_tables import (
    LONGEST_LINE,
    ItemTable,
    LinkTable,
    Problem,
    check_tables,
    chunks,
    circle_in,
    read_items,
    read_links,
)
from lotkin.core.values.gc_paused import paused_collector
from lotkin.core.values.places import IMPORTED, Spot
from lotkin.uses.exchange.files import read_lines
from lotkin.uses.recording.record import record_one

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.view import View
    from lotkin.uses.exchange.import_ports import CanImport
    from lotkin.uses.ports import Clock, Recording

__all__ = ["ImportReport", "import_tables"]

NO_FILE = "none"


@dataclass(frozen=True, slots=True)
class ImportReport:
    """What became of an import.

    Attributes:
        items, links: How many the tables hold.
        events: Ids of the events that hold them, in their order; none after a dry run of new
            tables, and none for empty ones.
        repeated: The same files were imported before, and nothing was added now.
    """

    items: int
    links: int
    events: tuple[str, ...]
    repeated: bool = False


def import_tables(  # noqa: PLR0913 - two files, and who did what when
    store: CanImport,
    items_path: Path | None,
    links_path: Path | None,
    *,
    by: str,
    at: datetime,
    dry_run: bool,
    clock: Clock,
) -> ImportReport:
    """Take over items and links, all of them or none.

    Files with the same content are imported once, whoever imports them and when; after their
    events were voided they can be imported again.

    Args:
        store: Where to, and what they are checked against.
        items_path: Table of items; None if only links to recorded items come.
        links_path: Table of links; None if there is none.
        by: Code of the person.
        at: When the import happens; the items keep their own times.
        dry_run: Check only.
        clock: Tells when the events are recorded.

    Raises:
        BadTables: Rows are bad or do not fit; all of them are listed.
        Circle: The links go in a circle, and nothing else is wrong.
        BadFile: A file cannot be read.
    """
    with paused_collector():
        tables = _Tables.read(items_path, links_path)
        if dry_run:
            with store.reading() as view:
                return _check(tables, view)
        with store.recording() as recording:
            report = _check(tables, recording)
            if report.repeated:
                return report
            events = _record(tables, recording, by=by, at=at, clock=clock)
        return ImportReport(report.items, report.links, events)


@dataclass(slots=True)
class _Tables:
    """Tables as read, the problems found so far, and the hash of the files."""

    items: ItemTable
    links: LinkTable
    problems: list[Problem]
    content: str
    round: int = 0

    @classmethod
    def read(cls, items_path: Path | None, links_path: Path | None) -> _Tables:
        """Read both files, once and line by line."""
        items_name, links_name = _names(items_path, links_path)
        problems: list[Problem] = []
        hashes = [NO_FILE, NO_FILE]
        items, links = ItemTable(items_name), LinkTable(links_name)
        if items_path is not None:
            digest = hashlib.sha256()
            lines = read_lines(items_path, LONGEST_LINE, digest)
            items = read_items(items_name, lines, problems)
            hashes[0] = digest.hexdigest()
        if links_path is not None:
            digest = hashlib.sha256()
            lines = read_lines(links_path, LONGEST_LINE, digest)
            links = read_links(links_name, lines, items, problems)
            hashes[1] = digest.hexdigest()
        return cls(items, links, problems, " ".join(hashes))

    def event_id(self, chunk: int) -> UUID:
        """Give the id of the event that holds a chunk; it follows from the files."""
        return uuid5(NAMESPACE_OID, f"lotkin import {self.content} {self.round} {chunk}")

    def recorded_before(self, view: View) -> tuple[str, ...]:
        """Give the ids of the events by which these files are recorded already.

        Events that were voided do not count: a new round of ids begins.
        """
        while True:
            ids: list[str] = []
            is_void = False
            while (entry := view.entry_by_id(str(self.event_id(len(ids))))) is not None:
                ids.append(entry.id)
                is_void = is_void or bool(view.facts("void", str(entry.seq)))
            if not is_void:
                return tuple(ids)
            self.round += 1


def _names(items_path: Path | None, links_path: Path | None) -> tuple[str, str]:
    """Name the files for messages, by their last part where that tells them apart; "" for none."""
    items = items_path.name if items_path else ""
    links = links_path.name if links_path else ""
    if items_path and links_path and items == links:
        return str(items_path), str(links_path)
    return items, links


def _check(tables: _Tables, view: View) -> ImportReport:
    """Check tables against what is recorded.

    Raises:
        BadTables: Something does not fit.
        Circle: The links go in a circle.
    """
    items, links = tables.items, tables.links
    report = ImportReport(len(items.rows), len(links.rows), ())
    if not tables.problems and (ids := tables.recorded_before(view)):
        return ImportReport(report.items, report.links, ids, repeated=True)
    view.look_up(items.rows)
    view.look_up(code for link in links.rows for code in link[1:3] if code not in items.rows)
    problems = tables.problems + check_tables(items, links, _RecordedItems(view))
    circle = circle_in(links)
    if problems:
        if circle:
            problems.append(Problem(links.name, 0, "", Circle(circle).message))
        problems.sort(key=lambda problem: (problem.table != items.name, problem.line))
        source = _both(items.name, links.name, problems)
        raise BadTables(source, [str(p) for p in problems], problems)
    if circle:
        raise Circle(circle)
    return report


def _both(items_name: str, links_name: str, problems: list[Problem]) -> str:
    bad = {problem.table for problem in problems}
    return ", ".join(name for name in (items_name, links_name) if name in bad)


def _record(
    tables: _Tables, recording: Recording, *, by: str, at: datetime, clock: Clock
) -> tuple[str, ...]:
    """Record checked tables chunk by chunk and give the ids of the events."""
    ids = []
    for number, (items, links) in enumerate(chunks(tables.items, tables.links)):
        data = {
            "kind": "import",
            "id": tables.event_id(number),
            "at": at,
            "by": by,
        }
        # the rows were checked one by one when they were read
        event = parse_event(data, "import").but(items=tuple(items), links=tuple(links))
        ids.append(record_one(recording, event, clock()).id)
    return tuple(ids)


class _RecordedItems:
    """What is recorded already, as the checks ask for it."""

    def __init__(self, view: View) -> None:
        self._view = view
        self._is_import: dict[int, bool] = {}

    def item(self, code: str) -> Item | None:
        """Give the item of exactly this code."""
        return self._view.item(code)

    def left(self, code: str) -> int:
        """Give what lies where imports put it and take it from; other places are counted."""
        return max(0, self._view.stock(code).get(Spot(IMPORTED), 0))

    def takes_parents(self, code: str) -> bool:
        """Tell whether the item was imported without parents in use of its own.

        What an event made is that event's to say, and an item is frozen once something is made
        from it; until then, links may follow their items in a later import.
        """
        item = self._view.item(code)
        if item is None or self._view.is_used(code):
            return False
        if item.event not in self._is_import:
            self._is_import[item.event] = self._view.entry(item.event).kind == "import"
        return self._is_import[item.event]
