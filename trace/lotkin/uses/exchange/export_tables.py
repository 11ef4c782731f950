"""Exporting all items and links as the two plain tables that can be imported again."""

from __future__ import annotations

import csv
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from lotkin.core.plain_tables import ITEM_COLUMNS, LINK_COLUMNS
from lotkin.core.values.instants import show_instant
from lotkin.core.values.kinds import Family
from lotkin.core.values.quantities import from_micro
from lotkin.uses.exchange.files import writing_text

if TYPE_CHECKING:
    from pathlib import Path

    from lotkin.core.genealogy.items import Item, Link
    from lotkin.uses.exchange.import_ports import Listing

__all__ = ["ExportReport", "export_tables"]


@dataclass(frozen=True, slots=True)
class ExportReport:
    """What was exported.

    Attributes:
        items, links: How many rows each table has.
        quantities_left_out: Links that have a quantity which the table does not tell.
    """

    items: int
    links: int
    quantities_left_out: int


def export_tables(view: Listing, items_path: Path, links_path: Path) -> ExportReport:
    """Write all living items and links: runs, resources, bench setups and packs included.

    The tables say what was made of what, not where pieces are: scrap, places, holds, serials and
    positions stay behind. An import refuses tables in which more is taken from an item than there
    was. Where that would be so, because later states of a repaired unit repeat what the first one
    took, or more was used than was known to be there, the latest links keep no quantity; nor do
    links out of a bench setup, which has no pieces of its own.

    Codes are written as they are, even where one begins with `=`, `+`, `-` or `@`, which a
    spreadsheet may take for a formula: the tables are for programs, and a code that was changed
    on its way out would come back as another item. Whoever opens them in a spreadsheet imports
    the columns as text. Groups are named like `e12-g1` after event and number, which no
    spreadsheet takes for a date.

    Args:
        view: One state of the store.
        items_path, links_path: Files to write; each appears as a whole or not at all.

    Raises:
        BadFile: A file cannot be written.
    """
    book = _Book()
    items = links = left_out = 0
    with writing_text(items_path) as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(ITEM_COLUMNS)
        for item in view.all_items():
            book.note(item)
            writer.writerow(_item_row(item))
            items += 1
    untold = book.untold(view)
    with writing_text(links_path) as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(LINK_COLUMNS)
        for link in view.all_links():
            is_told = link not in untold and link.parent not in book.setups
            left_out += not is_told and link.quantity is not None
            writer.writerow(_link_row(link, link.quantity if is_told else None))
            links += 1
    return ExportReport(items, links, left_out)


@dataclass(slots=True)
class _Book:
    """What there is of each item, to find out where links take more than that.

    Attributes:
        made: Millionths by code, of material whose quantity is known.
        packs, setups: Codes of cartons and shipments, and of bench setups.
    """

    made: dict[str, int] = field(default_factory=dict)
    packs: set[str] = field(default_factory=set)
    setups: set[str] = field(default_factory=set)

    def note(self, item: Item) -> None:
        """Take down an item."""
        if item.family is Family.PACK:
            self.packs.add(item.code)
        elif item.kind == "bench-setup":
            self.setups.add(item.code)
        elif item.family is Family.MATERIAL and item.quantity is not None:
            self.made[item.code] = item.quantity

    def untold(self, view: Listing) -> set[Link]:
        """Find the links whose quantity cannot be told, since with it too much would be taken."""
        left = dict(self.made)
        for link in view.all_links():
            if self._draws(link):
                left[link.parent] -= link.quantity or 0
        found: set[Link] = set()
        for code in [code for code, quantity in left.items() if quantity < 0]:
            rest = self.made[code]
            for link in view.children(code):
                if self._draws(link) and (link.quantity or 0) > rest:
                    found.add(link)
                elif self._draws(link):
                    rest -= link.quantity or 0
        return found

    def _draws(self, link: Link) -> bool:
        return link.parent in self.made and link.child not in self.packs


def _item_row(item: Item) -> tuple[str, ...]:
    part = item.part if item.part.isprintable() else " ".join(item.part.split())
    quantity, made_at = _number(item.quantity), show_instant(item.made_at)
    return item.code, item.kind, part, quantity, item.unit, made_at


def _link_row(link: Link, quantity: int | None) -> tuple[str, ...]:
    per = _number(link.per) if link.per > 0 else ""
    group = f"e{link.event}-g{link.group}"
    return link.parent, link.child, _number(quantity), group, str(link.mixing), per


def _number(micro: int | None) -> str:
    return "" if micro is None else format(from_micro(micro), "f")
