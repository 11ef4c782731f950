"""Checking tables as a whole: against each other and against what is recorded already."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.errors.problems import Problem
from lotkin.core.genealogy.circles import find_circle
from lotkin.core.plain_tables.ends import Ends
from lotkin.core.values.instants import show_instant
from lotkin.core.values.kinds import Family
from lotkin.core.values.quantities import show_quantity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.plain_tables.ends import End, Recorded
    from lotkin.core.plain_tables.item_table import ItemTable
    from lotkin.core.plain_tables.link_table import LinkLine, LinkTable

__all__ = ["check_tables", "circle_in"]

Complaint = tuple[str, str]
"""(column, reason)"""


def check_tables(items: ItemTable, links: LinkTable, recorded: Recorded) -> list[Problem]:
    """Find rows that do not fit the other rows or what is recorded.

    Args:
        items, links: Tables as read.
        recorded: What is recorded.

    Returns:
        What is wrong: items first, each table in order of its lines.
    """
    problems = [
        Problem(items.name, line, "code", f"{code} is recorded already")
        for code, line in items.lines.items()
        if recorded.item(code) is not None
    ]
    if items.is_readable:
        ends = Ends(items, recorded)
        problems += [
            Problem(links.name, link.line, column, reason)
            for link in _doubtful(links, ends)
            for column, reason in _complaints(link, ends, items.name)
        ]
    return problems


def circle_in(links: LinkTable) -> list[str]:
    """Find a circle in the links; [] if there is none.

    What is recorded already cannot be part of one: an import adds parents to nothing that has
    children, so a circle would have to be closed by links of this table alone.
    """
    return find_circle([(link.parent, link.child) for link in links.rows])


def _doubtful(links: LinkTable, ends: Ends) -> Iterator[LinkLine]:
    """Yield the links with which something may be wrong; with most, nothing is."""
    find = ends.find
    for link in links.rows:
        parent, child = find(link.parent), find(link.child)
        if parent is not None and child is not None and not link.quantity and child.takes_parents:
            made, before = child.made_at, parent.made_at
            if made is None or before is None or made >= before:
                continue
        yield link


def _complaints(link: LinkLine, ends: Ends, items_name: str) -> Iterator[Complaint]:
    parent, child = ends.find(link.parent), ends.find(link.child)
    nowhere = f"is neither in {items_name} nor recorded" if items_name else "is not recorded"
    for column, code, end in (("parent", link.parent, parent), ("child", link.child, child)):
        if end is None:
            yield column, f"{code} {nowhere}"
    if parent is None or child is None:
        return
    if not child.takes_parents:
        yield "child", f"{child.code} is recorded already; amend its event instead"
    if _is_older(child, parent):
        child_at, parent_at = show_instant(child.made_at), show_instant(parent.made_at)
        reason = f"{child.code} ({child_at}) is older than {parent.code} ({parent_at})"
        yield "child", f"{reason} that it is made from"
    if link.quantity and (reason := _draw(parent, child, link.quantity)):
        yield "quantity", reason


def _is_older(child: End, parent: End) -> bool:
    """Tell whether a child came to be before its parent.

    An inspection, and a gauge with which a unit is tested, are used on what is there already, so
    they may be younger.
    """
    if child.made_at is None or parent.made_at is None or child.made_at >= parent.made_at:
        return False
    is_test = parent.family is Family.RESOURCE and child.kind == "unit"
    return parent.kind != "inspection" and not is_test


def _draw(parent: End, child: End, quantity: int) -> str:
    """Take pieces from a parent; say why that cannot be."""
    if parent.family is not Family.MATERIAL or child.family is Family.PACK:
        return ""
    if parent.kind == "bench-setup":
        return f"{parent.code} is a bench-setup and has no pieces of its own; leave this empty"
    if quantity <= parent.left:
        parent.left -= quantity
        return ""
    taken = f"{show_quantity(quantity, parent.unit)} taken from {parent.code}"
    if not parent.is_counted:
        return f"{taken}: with the rows before, more than any works holds"
    imported = "" if parent.is_new else " of what was imported"
    return f"{taken}, {show_quantity(parent.left, parent.unit)} are left{imported}"
