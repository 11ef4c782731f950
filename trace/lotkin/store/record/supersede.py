"""Replacing what earlier events brought forth: old rows go to the past, stock is counted anew."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

from lotkin.core.errors import StillInUse
from lotkin.core.genealogy.items import Fact, Item, Link, Movement
from lotkin.store.connection.bulk import put_rows
from lotkin.store.connection.statements import Ask, Change, Lookup, columns
from lotkin.store.reading.rule_statements import ITEMS
from lotkin.store.schema import COLUMNS, KEYS, graph_change_row
from lotkin.store.stock.stock_sums import stock_sums
from lotkin.store.tables.records import (
    FACT_COLUMNS,
    LINK_COLUMNS,
    MOVEMENT_COLUMNS,
    fact_of,
    item_of,
    item_row,
    link_of,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin.core.genealogy.draft import Draft
    from lotkin.store.record.writer import Writer

__all__ = ["supersede"]

PARENT, CHILD = map(KEYS["link"].index, ("parent", "child"))
"""Where the ends of a link stand in its key."""

CHANGED = ", ".join(f'"{name}" = :{name}' for name in COLUMNS["item"] if name != "id")
CHANGE_ITEM = Change(f"UPDATE item SET {CHANGED} WHERE id = :id")
DELETE_STOCK = Change("DELETE FROM stock WHERE item = :number")
DELETE_ITEM = Change("DELETE FROM item WHERE id = :number")
LINKS_DOWN = Ask("SELECT child, event FROM link WHERE parent = :number")
EVENTS_BEHIND = (
    (Ask("SELECT event FROM movement WHERE item = :number"), "number"),
    (Ask("SELECT event FROM fact WHERE subject = :code"), "code"),
    (Ask("SELECT event FROM link WHERE child = :number"), "number"),
)
"""What may rest on an item besides what was made from it, and what finds it."""


def supersede(writer: Writer, draft: Draft, again: frozenset[int], seq: int) -> list[Link]:
    """Write a draft that holds the rows of earlier events anew.

    Rows that read as before stay; others are closed at `seq` and new ones opened. Stock of all
    that is concerned is summed from scratch.

    Returns:
        The links that are new, to be checked for circles.

    Raises:
        StillInUse: An item would vanish that other events rest on.
    """
    writer.flush()
    old = _Old(writer, sorted(again))
    concerned = {m.item for m in old.movements.values()} | {m.item for m in draft.movements}
    concerned |= _mounted_lots(writer, [*old.links.values(), *draft.links])
    new_links = _replace(writer, draft, old, seq)
    writer.flush()
    writer.forget()
    concerned |= _mounted_lots(writer, draft.links)
    _recount(writer, concerned)
    return new_links


class _Old:
    """The living rows of some events, by their key in the tables (`KEYS`)."""

    def __init__(self, writer: Writer, again: list[int]) -> None:
        def of(query: str) -> list[Any]:
            return Lookup(writer.database, f"{query} WHERE event IN ({{numbers}})").rows(again)

        self.items = {row[0]: item_of(row) for row in of(ITEMS)}

        def keyed(table: str, names: Sequence[str]) -> Iterator[tuple[Any, Any]]:
            """Yield the key and the named columns of each row."""
            key = KEYS[table]
            for row in of(f"SELECT {columns((*key, *names))} FROM {table}"):
                yield tuple(row[: len(key)]), row[len(key) :]

        self.links: dict[Any, Link] = {}
        for key, row in keyed("link", LINK_COLUMNS):
            ends = writer.code_of(key[PARENT]), writer.code_of(key[CHILD])
            self.links[key] = link_of(row, *ends)
        self.movements: dict[Any, Movement] = {}
        for key, (item, quantity, origin, destination, event) in keyed(
            "movement", MOVEMENT_COLUMNS
        ):
            self.movements[key] = Movement(
                writer.code_of(item),
                quantity,
                None if origin is None else writer.spot(origin),
                writer.spot(destination),
                event,
            )
        self.facts: dict[Any, Fact] = {}
        for key, row in keyed("fact", FACT_COLUMNS):
            self.facts[key] = fact_of(row)


def _mounted_lots(writer: Writer, links: list[Link]) -> set[str]:
    """Name the lots behind all setups that links begin or end at."""
    lots: set[str] = set()
    for code in {link.parent for link in links} | {link.child for link in links}:
        item = writer.item(code)
        if item is not None and item.kind == "bench-setup":
            lots |= {link.parent for link in writer.parents(code)}
            lots |= {link.parent for link in links if link.child == code}
    return lots


def _replace(writer: Writer, draft: Draft, old: _Old, seq: int) -> list[Link]:
    numbers = {item.code: number for number, item in old.items.items()}
    changed: list[Item] = []
    fresh: list[Item] = []
    for item in draft.items.values():
        if item.code not in numbers:
            fresh.append(item)
        elif old.items[numbers[item.code]] != item:
            changed.append(item)
    gone = [item for item in old.items.values() if item.code not in draft.items]
    opened_links, closed_links = _differ(old.links, draft.links)
    opened_moves, closed_moves = _differ(old.movements, draft.movements)
    opened_facts, closed_facts = _differ(old.facts, draft.facts_made)
    _close(writer, LINK, closed_links, seq)
    _close(writer, MOVEMENT, closed_moves, seq)
    _close(writer, FACT, closed_facts, seq)
    _check_unused(writer, gone, numbers)
    for item in changed:
        _keep_past(writer, numbers[item.code], seq)
        row = item_row(numbers[item.code], item, seq)
        values: dict[str, Any] = dict(zip(COLUMNS["item"], row, strict=True))
        CHANGE_ITEM.rows(writer.database, **values)
    for item in gone:
        _keep_past(writer, numbers[item.code], seq)
        DELETE_STOCK.rows(writer.database, number=numbers[item.code])
        DELETE_ITEM.rows(writer.database, number=numbers[item.code])
    writer.forget()
    for item in fresh:
        writer.add_item(item, seq)
    for link in opened_links:
        writer.add_link(link, seq)
    for movement in opened_moves:
        writer.add_movement(movement, seq)
    for fact in opened_facts:
        writer.add_fact(fact, seq)
    touched = {key[CHILD] for key in closed_links}
    touched |= {writer.number(link.child) for link in opened_links}
    touched |= {numbers[item.code] for item in (*changed, *gone)}
    _note_changes(writer, touched, seq)
    return opened_links


def _note_changes(writer: Writer, touched: set[int], seq: int) -> None:
    """Note where copies of the graph are old from now on."""
    if touched:
        rows = [graph_change_row(seq=seq, item=number) for number in sorted(touched)]
        put_rows(writer.database, "graph_change", rows)


def _differ(old: dict[Any, Any], new: list[Any]) -> tuple[list[Any], list[Any]]:
    """Tell which new rows are to be opened, and the keys of the old ones to be closed."""
    wanted = Counter(_frozen(row) for row in new)
    closed = []
    for key, row in old.items():
        mark = _frozen(row)
        if wanted[mark] > 0:
            wanted[mark] -= 1
        else:
            closed.append(key)
    opened = []
    for row in new:
        mark = _frozen(row)
        if wanted[mark] > 0:
            wanted[mark] -= 1
            opened.append(row)
    return opened, closed


def _frozen(row: Any) -> Any:
    if isinstance(row, Fact):
        return (
            row.topic,
            row.subject,
            row.at,
            repr(sorted(row.value.items())),
            row.event,
            row.ordinal,
        )
    return row


class _Closing:
    """Moves living rows of a table to the past, ended by an event.

    Args:
        table: The living table; that of the past has the same columns and `until`.
    """

    def __init__(self, table: str) -> None:
        self.key = KEYS[table]
        where = " AND ".join(f'"{name}" = :{name}' for name in self.key)
        listed = columns(COLUMNS[table])
        self.keep = Change(
            f"INSERT INTO {table}_past ({listed}, until) "
            f"SELECT {listed}, :until FROM {table} WHERE {where}"
        )
        self.delete = Change(f"DELETE FROM {table} WHERE {where}")


LINK, MOVEMENT, FACT = map(_Closing, ("link", "movement", "fact"))

ITEM = columns(COLUMNS["item"])
KEEP_ITEM = Change(
    f"INSERT INTO item_past ({ITEM}, until) SELECT {ITEM}, :until FROM item "
    "WHERE id = :id AND since <> :until"
)


def _close(writer: Writer, closing: _Closing, keys: list[Any], seq: int) -> None:
    """Move living rows to the past table, ended by `seq`."""
    for key in keys:
        named = dict(zip(closing.key, key, strict=True))
        closing.keep.rows(writer.database, **named, until=seq)
        closing.delete.rows(writer.database, **named)


def _keep_past(writer: Writer, number: int, seq: int) -> None:
    """Keep an item as it was, unless it came about by this very event."""
    KEEP_ITEM.rows(writer.database, id=number, until=seq)


def _check_unused(writer: Writer, gone: list[Item], numbers: dict[str, int]) -> None:
    """Check that nothing rests on items that are to vanish.

    Raises:
        StillInUse: A link, a movement or a fact of another event does.
    """
    for item in gone:
        number = numbers[item.code]
        users = {
            f"{writer.code_of(child)} (event {event})"
            for child, event in LINKS_DOWN.rows(writer.database, number=number)
        }
        for query, name in EVENTS_BEHIND:
            found = {"number": number} if name == "number" else {"code": item.code}
            for (event,) in query.rows(writer.database, **found):
                users.add(f"event {event} ({writer.entry(event).kind})")
        if users:
            raise StillInUse(writer.entry(item.event).id, sorted(users))


def _recount(writer: Writer, codes: set[str]) -> None:
    """Sum the stock of items from their movements and from what setups took."""
    numbers = {writer.number(code): code for code in sorted(codes) if writer.item(code) is not None}
    sums = stock_sums(writer.database, sorted(numbers))
    for number, code in numbers.items():
        wanted = {writer.spot(spot): q for spot, q in sums.get(number, {}).items() if q}
        for spot in {*writer.stock(code), *wanted}:
            writer.set_stock(code, spot, wanted.get(spot, 0))
