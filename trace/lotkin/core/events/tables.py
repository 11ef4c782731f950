"""`import`: items and links that a works has kept before, taken over as they are."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from lotkin.core.errors import UnknownCode
from lotkin.core.events.base import Event
from lotkin.core.items import Item, Link
from lotkin.core.kinds import FAMILY_OF, Family, Mixing
from lotkin.core.places import End, Spot

if TYPE_CHECKING:
    from lotkin.core.draft import Draft

__all__ = ["IMPORTED", "Import"]

IMPORTED = "imported"
"""Place where imported material lies until it is counted."""

ItemRow = tuple[str, str, str, int | None, str, int | None]
LinkRow = tuple[str, str, int | None, int, str, int]


class Import(Event):
    """A chunk of checked rows.

    Rows are compact, quantities and `per` in millionths, times in microseconds UTC:
    items are [code, kind, part, quantity, unit, made_at] and links are
    [parent, child, quantity, group, mixing, per].
    """

    kind: Literal["import"] = "import"
    items: tuple[ItemRow, ...] = ()
    links: tuple[LinkRow, ...] = ()

    def derive(self, draft: Draft) -> None:
        """Make the items at the place `imported`, link them, and post what was used."""
        spot = Spot(IMPORTED)
        for code, kind, part, quantity, unit, made_at in self.items:
            item = Item(
                code=code,
                kind=kind,
                part=part,
                quantity=quantity,
                unit=unit,
                made_at=made_at,
                event=draft.seq,
                plan=draft.plan,
            )
            holds_stock = FAMILY_OF[kind] in (Family.MATERIAL, Family.PACK)
            draft.make(item, spot if holds_stock else None)
        for parent, child, quantity, group, mixing, per in self.links:
            if not draft.has(child):
                raise UnknownCode(child)
            draft.links.append(
                Link(parent, child, group, Mixing(mixing), quantity, per, "", draft.seq)
            )
            kept = draft.item(parent).family is Family.MATERIAL
            if quantity and kept and draft.item(child).family is not Family.PACK:
                draft.move(parent, quantity, spot, Spot(End.USED_IN))
