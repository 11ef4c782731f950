"""How much of what a case is about is in an item."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.exposure.exposure import expose
from lotkin.core.exposure.reach import LinkColumns, NodeColumns, Reach

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin.core.genealogy.items import Item, Link
    from lotkin.core.genealogy.view import View

__all__ = ["content_of"]


def content_of(view: View, subjects: Iterable[str], code: str) -> float:
    """Give how much of some subjects is in an item; 1 where that means nothing."""
    reach = reach_up(view, code)
    position = {c: i for i, c in enumerate(reach.nodes.code)}
    sources = [position[c] for c in subjects if c in position]
    content = expose(reach, sources)[position[code]].content if sources else None
    return 1.0 if content is None else content


def reach_up(view: View, code: str) -> Reach:
    """Gather an item and all that is behind it, through a view."""
    codes, links = [code], []
    seen = {code}
    for current in codes:
        for link in view.parents(current):
            links.append(link)
            if link.parent not in seen:
                seen.add(link.parent)
                codes.append(link.parent)
    items = [item for c in codes if (item := view.item(c)) is not None]
    return Reach(_nodes(items), _links(items, links), [0])


def _nodes(items: Sequence[Item]) -> NodeColumns:
    return NodeColumns(
        [i.code for i in items],
        [i.kind for i in items],
        [i.part for i in items],
        [i.quantity for i in items],
        [i.unit for i in items],
        [i.serial for i in items],
    )


def _links(items: Sequence[Item], links: Iterable[Link]) -> LinkColumns:
    position = {item.code: i for i, item in enumerate(items)}
    rows = [link for link in links if link.parent in position and link.child in position]
    return LinkColumns(
        [position[k.parent] for k in rows],
        [position[k.child] for k in rows],
        [k.event for k in rows],
        [k.group for k in rows],
        [k.mixing for k in rows],
        [k.quantity for k in rows],
        [k.per for k in rows],
        [items[position[k.parent]].unit for k in rows],
    )
