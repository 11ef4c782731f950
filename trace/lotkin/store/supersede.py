"""Replacing what earlier events brought forth: old rows go to the past, stock is counted anew."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

from sqlalchemy import delete, insert, select, update

from lotkin.core.errors import StillInUse
from lotkin.core.items import Fact, Item, Link, Movement
from lotkin.store.rows import (
    FACT,
    FACT_PAST,
    GRAPH_CHANGE,
    ITEM,
    ITEM_PAST,
    LINK,
    LINK_PAST,
    MOVEMENT,
    MOVEMENT_PAST,
    STOCK,
    fact_of,
    item_of,
    item_row,
    link_of,
    select_items,
)
from lotkin.store.stock_sums import stock_sums

if TYPE_CHECKING:
    from sqlalchemy import Table

    from lotkin.core.draft import Draft
    from lotkin.store.writer import Writer

__all__ = ["supersede"]


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
    """The living rows of some events, by their key in the tables."""

    def __init__(self, writer: Writer, again: list[int]) -> None:
        run = writer.connection.execute
        self.items = {
            row[0]: item_of(row) for row in run(select_items().where(ITEM.c.event.in_(again))).all()
        }
        self.links: dict[tuple[int, int, int, int], Link] = {}
        for row in run(select(LINK).where(LINK.c.event.in_(again))).all():
            parts = (row.event, row.grp, row.mixing, row.quantity, row.per, row.position)
            ends = writer.code_of(row.parent), writer.code_of(row.child)
            self.links[row.parent, row.child, row.event, row.grp] = link_of(parts, *ends)
        self.movements: dict[int, Movement] = {}
        for row in run(select(MOVEMENT).where(MOVEMENT.c.event.in_(again))).all():
            self.movements[row.number] = Movement(
                writer.code_of(row.item),
                row.quantity,
                None if row.origin is None else writer.spot(row.origin),
                writer.spot(row.destination),
                row.event,
            )
        self.facts: dict[tuple[str, str, int, int, int], Fact] = {}
        for row in run(select(FACT).where(FACT.c.event.in_(again))).all():
            key = (row.topic, row.subject, row.at, row.event, row.ordinal)
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
    _close(writer, LINK, LINK_PAST, _key(closed_links, ("parent", "child", "event", "grp")), seq)
    _close(writer, MOVEMENT, MOVEMENT_PAST, [{"number": n} for n in closed_moves], seq)
    fact_key = ("topic", "subject", "at", "event", "ordinal")
    _close(writer, FACT, FACT_PAST, _key(closed_facts, fact_key), seq)
    _check_unused(writer, gone, numbers)
    for item in changed:
        _keep_past(writer, numbers[item.code], seq)
        row = item_row(numbers[item.code], item, seq)
        writer.connection.execute(update(ITEM).where(ITEM.c.id == row.pop("id")).values(**row))
    for item in gone:
        _keep_past(writer, numbers[item.code], seq)
        writer.connection.execute(delete(STOCK).where(STOCK.c.item == numbers[item.code]))
        writer.connection.execute(delete(ITEM).where(ITEM.c.id == numbers[item.code]))
    writer.forget()
    for item in fresh:
        writer.add_item(item, seq)
    for link in opened_links:
        writer.add_link(link, seq)
    for movement in opened_moves:
        writer.add_movement(movement, seq)
    for fact in opened_facts:
        writer.add_fact(fact, seq)
    touched = {child for _, child, _, _ in closed_links}
    touched |= {writer.number(link.child) for link in opened_links}
    touched |= {numbers[item.code] for item in (*changed, *gone)}
    _note_changes(writer, touched, seq)
    return opened_links


def _note_changes(writer: Writer, touched: set[int], seq: int) -> None:
    """Note where copies of the graph are old from now on."""
    if touched:
        rows = [{"seq": seq, "item": number} for number in sorted(touched)]
        writer.connection.execute(insert(GRAPH_CHANGE), rows)


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


def _key(keys: list[Any], names: tuple[str, ...]) -> list[dict[str, Any]]:
    return [dict(zip(names, key, strict=True)) for key in keys]


def _close(writer: Writer, table: Table, past: Table, keys: list[dict[str, Any]], seq: int) -> None:
    """Move living rows to the past table, ended by `seq`."""
    for key in keys:
        where = [table.c[name] == value for name, value in key.items()]
        row = writer.connection.execute(select(table).where(*where)).one()._asdict()
        row.pop("number", None)
        writer.connection.execute(insert(past).values(**row, until=seq))
        writer.connection.execute(delete(table).where(*where))


def _keep_past(writer: Writer, number: int, seq: int) -> None:
    row = writer.connection.execute(select(ITEM).where(ITEM.c.id == number)).one()._asdict()
    if row["since"] == seq:
        return
    writer.connection.execute(insert(ITEM_PAST).values(**row, until=seq))


def _check_unused(writer: Writer, gone: list[Item], numbers: dict[str, int]) -> None:
    """Check that nothing rests on items that are to vanish.

    Raises:
        StillInUse: A link, a movement or a fact of another event does.
    """
    run = writer.connection.execute
    for item in gone:
        number = numbers[item.code]
        users = [
            f"{writer.code_of(row.child)} (event {row.event})"
            for row in run(select(LINK).where(LINK.c.parent == number)).all()
        ]
        users += [
            f"event {row.event} ({writer.entry(row.event).kind})"
            for row in run(select(MOVEMENT).where(MOVEMENT.c.item == number)).all()
        ]
        users += [
            f"event {row.event} ({writer.entry(row.event).kind})"
            for row in run(select(FACT).where(FACT.c.subject == item.code)).all()
        ]
        users += [
            f"event {row.event} ({writer.entry(row.event).kind})"
            for row in run(select(LINK).where(LINK.c.child == number)).all()
        ]
        if users:
            raise StillInUse(writer.entry(item.event).id, sorted(set(users)))


def _recount(writer: Writer, codes: set[str]) -> None:
    """Sum the stock of items from their movements and from what setups took."""
    numbers = {writer.number(code): code for code in sorted(codes) if writer.item(code) is not None}
    sums = stock_sums(writer.connection, sorted(numbers))
    for number, code in numbers.items():
        wanted = {writer.spot(spot): q for spot, q in sums.get(number, {}).items() if q}
        for spot in {*writer.stock(code), *wanted}:
            writer.set_stock(code, spot, wanted.get(spot, 0))
