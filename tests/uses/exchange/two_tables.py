"""Two small tables in a folder, taken over into a store."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from lotkin.uses.exchange.import_tables import ImportReport, import_tables

if TYPE_CHECKING:
    from pathlib import Path

    from tests.small_works import Works

__all__ = ["AT", "Tables", "group_structure", "items_in"]

ITEMS = "code,kind,part,quantity,unit,made_at\n"
LINKS = "parent,child,quantity,group,mixing,per\n"
AT = datetime(2026, 3, 2, 6, tzinfo=UTC)
"""When the clock of the small works begins: an import is not of the future."""


class Tables:
    """Writes rows below the usual headers and imports them."""

    def __init__(self, folder: Path) -> None:
        self.items_path = folder / "items.csv"
        self.links_path = folder / "links.csv"

    def write(self, items: str | bytes, links: str | bytes = "") -> None:
        """Write both files: rows as a text, or a whole file as bytes."""
        for path, header, rows in (
            (self.items_path, ITEMS, items),
            (self.links_path, LINKS, links),
        ):
            path.write_bytes(rows if isinstance(rows, bytes) else (header + rows).encode())

    def take_over(
        self, works: Works, *, dry_run: bool = False, by: str = "ANN", at: datetime = AT
    ) -> ImportReport:
        """Import what was written; a file that was not written is not named."""
        items = self.items_path if self.items_path.exists() else None
        links = self.links_path if self.links_path.exists() else None
        return import_tables(
            works.store, items, links, by=by, at=at, dry_run=dry_run, clock=works.clock
        )


def items_in(works: Works) -> dict[str, tuple[object, ...]]:
    """Give what the tables tell of items, by code."""
    with works.store.reading() as view:
        return {
            item.code: (item.kind, item.part, item.quantity, item.unit, item.made_at)
            for item in view.all_items()
        }


def group_structure(works: Works, *, quantities: bool = True) -> list[tuple[object, ...]]:
    """Give all groups of links without their numbers: (child, members), in order."""
    groups: dict[tuple[str, int, int], list[tuple[object, ...]]] = {}
    with works.store.reading() as view:
        for link in view.all_links():
            member = (link.parent, link.mixing, link.per, link.quantity if quantities else 0)
            groups.setdefault((link.child, link.event, link.group), []).append(member)
    return sorted(((child, sorted(g, key=repr)) for (child, _, _), g in groups.items()), key=repr)
