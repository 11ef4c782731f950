"""Small tables as texts, and what the checks say about them."""

from __future__ import annotations

from lotkin.core.genealogy.items import Item
from lotkin.core.plain_tables import (
    ItemTable,
    LinkTable,
    Problem,
    check_tables,
    read_items,
    read_links,
)

ITEMS = "code,kind,part,quantity,unit,made_at"
LINKS = "parent,child,quantity,group,mixing,per"


class Recorded:
    """A store made of a few items."""

    def __init__(self, *items: Item, left: int = 0, takes_parents: bool = False) -> None:
        self.items = {item.code: item for item in items}
        self.of_each = left
        self.open = takes_parents

    def item(self, code: str) -> Item | None:
        return self.items.get(code)

    def left(self, code: str) -> int:
        return self.of_each

    def takes_parents(self, code: str) -> bool:
        return self.open


NOTHING = Recorded()


def lines_of(text: str | bytes) -> list[bytes]:
    data = text.encode() if isinstance(text, str) else text
    return data.splitlines(keepends=True) if b"\r" not in data else _split_at_lf(data)


def _split_at_lf(data: bytes) -> list[bytes]:
    return [line + b"\n" for line in data.split(b"\n")]


def items_of(text: str | bytes) -> tuple[ItemTable, list[str]]:
    """Read a whole table of items: what it says, and the problems."""
    problems: list[Problem] = []
    table = read_items("items.csv", lines_of(text), problems)
    return table, [str(problem) for problem in problems]


def links_of(text: str | bytes) -> tuple[LinkTable, list[str]]:
    """Read a whole table of links on its own."""
    problems: list[Problem] = []
    table = read_links("links.csv", lines_of(text), ItemTable("items.csv"), problems)
    return table, [str(problem) for problem in problems]


def item(row: str) -> tuple[str, str, str, int | None, str, int | None]:
    """Read one row of items that must be good."""
    table, problems = items_of(f"{ITEMS}\n{row}\n")
    assert problems == []
    (only,) = table.rows.values()
    return only


def bad_item(row: str) -> str:
    """Read one row of items and give the only problem, without the words that place it."""
    _, problems = items_of(f"{ITEMS}\n{row}\n")
    (only,) = problems
    return only.removeprefix("items.csv line 2, column ")


def bad_link(row: str) -> str:
    """Read one row of links and give the only problem, without the words that place it."""
    _, problems = links_of(f"{LINKS}\n{row}\n")
    (only,) = problems
    return only.removeprefix("links.csv line 2, column ")


def complaints(
    items: str, links: str, recorded: Recorded = NOTHING, *, items_name: str = "items.csv"
) -> list[str]:
    """Read two tables whose rows are good by themselves, and check them together."""
    problems: list[Problem] = []
    item_table = read_items(items_name, lines_of(f"{ITEMS}\n{items}"), problems)
    link_table = read_links("links.csv", lines_of(f"{LINKS}\n{links}"), item_table, problems)
    assert problems == []
    return [str(problem) for problem in check_tables(item_table, link_table, recorded)]
