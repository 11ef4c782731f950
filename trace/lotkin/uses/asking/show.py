"""Showing one item: what it is, what it came from and went into, where it is, what happened."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.cases.membership import cases_with
from lotkin.core.exposure.exposure import expose
from lotkin.core.goods_in.keeping import counted_from
from lotkin.uses.asking.where import row_maker
from lotkin.uses.lookup.resolve import check_position, resolve

if TYPE_CHECKING:
    from lotkin.core.answers.rows import Row
    from lotkin.core.cases.membership import InCase
    from lotkin.core.genealogy.items import Item, Link
    from lotkin.core.genealogy.view import Entry
    from lotkin.uses.ports import CanRead

__all__ = ["Neighbour", "Shown", "show"]


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A direct parent or child, and the link to it."""

    item: Item
    link: Link


@dataclass(frozen=True, slots=True)
class Shown:
    """All that is known of one item.

    Attributes:
        item: The item.
        row: Where it is, and whether it is held.
        due_by_plan: What of the plan its due date was counted from, like `shelf-life`; "" if the
            date was given, or there is none.
        hold: Reason why it is held; "" if it is free.
        made_from, used_in: Direct neighbours.
        cases: Cases, open and closed, that hold it or decided on it, newest first.
        states: All states of its serial, the first one first; empty if it has none.
        history: Events it had a part in, in order of the journal.
        as_of: Journal position.
    """

    item: Item
    row: Row
    due_by_plan: str
    hold: str
    cases: tuple[InCase, ...]
    made_from: tuple[Neighbour, ...]
    used_in: tuple[Neighbour, ...]
    states: tuple[Item, ...]
    history: tuple[Entry, ...]
    as_of: int


def show(store: CanRead, text: str) -> Shown:
    """Show what a code, serial, label or supplier's number leads to.

    Raises:
        NotFound, Ambiguous: The text leads nowhere, or to several items.
    """
    with store.reading() as view:
        as_of = check_position(view, None)
        item = resolve(view, text)
        reach = view.reach([item.code], "down", first=[])
        maker = row_maker(view, reach, expose(reach, reach.starts), None)
        made_from = [
            Neighbour(parent, link)
            for link in view.parents(item.code)
            if (parent := view.item(link.parent)) is not None
        ]
        used_in = [
            Neighbour(child, link)
            for link in view.children(item.code)
            if (child := view.item(link.child)) is not None
        ]
        states = tuple(view.states_of(item.serial)) if item.serial else ()
        return Shown(
            item=item,
            row=maker.row(reach.starts[0]),
            due_by_plan=counted_from(view, item.code),
            hold=maker.holds.get(item.code, ""),
            cases=tuple(cases_with(view, [state.code for state in states] or [item.code])),
            made_from=tuple(made_from),
            used_in=tuple(used_in),
            states=states,
            history=tuple(view.entry(seq) for seq in view.events_of(item.code)),
            as_of=as_of,
        )
