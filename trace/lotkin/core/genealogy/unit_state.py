"""States of a serial: a used unit that is changed becomes `SERIAL/2` with all that remains."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from lotkin.core.genealogy.draft import grouped
from lotkin.core.values.kinds import Family, Mixing
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.genealogy.items import Item, Link

__all__ = ["Component", "components", "new_state"]


@dataclass(frozen=True, slots=True)
class Component:
    """A component of a unit, setups taken apart.

    Attributes:
        lots: The lot it was posted from first, then others that it may have come from instead.
        position: Where in the unit; "" if not said.
        per: Millionths of it in the unit.
        direct: Link by which the unit holds it; None if through a setup.
    """

    lots: tuple[str, ...]
    position: str
    per: int
    direct: Link | None = None


def components(draft: Draft, unit: str) -> list[Component]:
    """List the components of a unit in order of its links."""
    found: list[Component] = []
    for group in grouped(draft.parents(unit)):
        if draft.item(group[0].parent).kind == "bench-setup":
            found += _mounted(draft, group)
            continue
        for link in group:
            if draft.item(link.parent).family is Family.MATERIAL and link.mixing is not (
                Mixing.FORMER
            ):
                per = link.per if link.quantity is None else min(link.per, link.quantity)
                found.append(Component((link.parent,), link.position, per, link))
    return found


def _mounted(draft: Draft, setups: Sequence[Link]) -> list[Component]:
    """List the components that a unit has from its setups, the last of which gave the pieces."""
    ordered = sorted(setups, key=lambda link: link.quantity is None)
    lots: dict[str, dict[str, int]] = {}
    for setup in ordered:
        for link in draft.parents(setup.parent):
            lots.setdefault(link.position, {}).setdefault(link.parent, link.per)
    return [
        Component(tuple(members), position, next(iter(members.values())))
        for position, members in lots.items()
    ]


def new_state(
    draft: Draft,
    old: Item,
    code: str,
    *,
    spots: tuple[Spot, Spot],
    out: Mapping[tuple[str, str], int] | None = None,
) -> Item:
    """Make the next state of a unit.

    Args:
        draft: Receives the rows.
        old: The state so far.
        code: Code of the new state.
        spots: Where the old one was taken from, and where the new one is.
        out: (lot, position) -> millionths of a component taken out.

    Returns:
        The new state, linked from all that remains and from the old state by `former`.
    """
    serial = old.serial or old.code
    new = replace(old, code=code, serial=serial, made_at=draft.at, started_at=None, event=draft.seq)
    draft.make(new, spots[1])
    draft.link(old.code, code, Mixing.FORMER, quantity=old.quantity)
    draft.move(old.code, old.quantity or MICRO, spots[0], Spot(End.USED_IN))
    left = dict(out or {})
    for group in grouped(draft.parents(old.code)):
        if group[0].mixing is not Mixing.FORMER:
            _carry(draft, group, code, left)
    draft.fact("label", serial, item=code)
    return new


def _take_out(out: dict[tuple[str, str], int], lot: str, position: str, most: int) -> int:
    """Take what was taken out of a unit from one of its components; it is not taken twice."""
    part = min(out.get((lot, position), 0), most)
    if part:
        out[lot, position] -= part
    return part


def _carry(draft: Draft, group: Sequence[Link], code: str, out: dict[tuple[str, str], int]) -> None:
    """Link a group of the old state to the new one, less what was taken out."""
    if draft.item(group[0].parent).kind == "bench-setup":
        mounted = _mounted(draft, group)
        if any((lot, one.position) in out for one in mounted for lot in one.lots):
            _carry_apart(draft, mounted, code, out)
            return
    gone = {
        link.parent: _take_out(
            out,
            link.parent,
            link.position,
            link.per if link.quantity is None else min(link.per, link.quantity),
        )
        for link in group
    }
    total = sum(gone.values())
    left = [
        link._replace(
            per=link.per - total,
            quantity=None if link.quantity is None else link.quantity - gone[link.parent],
        )
        for link in group
    ]
    left = [link for link in left if link.per > 0 and (link.quantity is None or link.quantity > 0)]
    number = draft.group(code) if left else 0
    for link in left:
        draft.link(
            link.parent,
            code,
            link.mixing if len(left) > 1 else Mixing.EACH,
            group=number,
            quantity=link.quantity,
            per=link.per,
            position=link.position,
        )


def _carry_apart(
    draft: Draft,
    mounted: Sequence[Component],
    code: str,
    out: dict[tuple[str, str], int],
) -> None:
    """Link the lots of a setup one by one, less what was taken out.

    Where the unit was begun under one setup and finished under another, the lots of a position
    are alternatives; the pieces were posted from the first.
    """
    for one in mounted:
        per = one.per
        for lot in one.lots:
            per -= _take_out(out, lot, one.position, per)
        if per <= 0:
            continue
        number = draft.group(code)
        mixing = Mixing.EACH if len(one.lots) == 1 else Mixing.EITHER
        for i, lot in enumerate(one.lots):
            draft.link(
                lot,
                code,
                mixing,
                group=number,
                quantity=per if i == 0 else None,
                per=per,
                position=one.position,
            )
