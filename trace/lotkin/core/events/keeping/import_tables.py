"""`import`: items and links that a works has kept before, taken over as they are."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import AfterValidator, Field

from lotkin.core.events.base import Code, Event
from lotkin.core.events.parts.rows import Kind, OptionalCode, check_age, check_links, check_unused
from lotkin.core.genealogy.items import Item, Link
from lotkin.core.rules.serialised import note_lots
from lotkin.core.values.kinds import FAMILY_OF, UNITS, Family, Mixing
from lotkin.core.values.places import IMPORTED, End, Spot
from lotkin.core.values.quantities import LARGEST, MICRO

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Import"]

LONG_AGO_US = 2_208_988_800_000_000
"""1900-01-01, counted back from 1970, in microseconds."""

FAR_AHEAD_US = 221_845_392_000_000_000
"""9000-01-01 in microseconds."""


def _known_unit(unit: str) -> str:
    if unit not in ("", *UNITS):
        msg = f"{unit} is no unit"
        raise ValueError(msg)
    return unit


Micro = Annotated[int, Field(ge=0, le=LARGEST * MICRO)]
Moment = Annotated[int, Field(ge=-LONG_AGO_US, le=FAR_AHEAD_US)]

ItemRow = tuple[
    Code,
    Kind,
    OptionalCode,
    Micro | None,
    Annotated[str, AfterValidator(_known_unit)],
    Moment | None,
]
LinkRow = tuple[Code, Code, Micro | None, Annotated[int, Field(ge=1)], Mixing, Micro]


class Import(Event):
    """A chunk of checked rows.

    Rows are compact, quantities and `per` in millionths, times in microseconds UTC:
    items are [code, kind, part, quantity, unit, made_at] and links are
    [parent, child, quantity, group, mixing, per].
    """

    kind: Literal["import"] = "import"
    items: tuple[ItemRow, ...] = ()
    links: tuple[LinkRow, ...] = ()

    def complete(self, shop: Shop) -> Self:
        """Check that no link goes into something that other things were made from already.

        Then no circle can come about but within the rows themselves.

        Raises:
            BadEvent: A link does, or stands twice.
            Circle: The rows go in a circle.
        """
        new = {row[0] for row in self.items}
        children = {row[1] for row in self.links} - new
        shop.view.look_up({row[0] for row in self.links} - new | children)
        check_unused(shop, children)
        check_links([(row[0], row[1], row[3]) for row in self.links])
        note_lots(shop, [(row[0], row[2], row[3], "") for row in self.items])
        return self

    def derive(self, draft: Draft) -> None:
        """Make the items at the place `imported`, link them, and post what was used."""
        spot = Spot(IMPORTED)
        draft.view.look_up(row[0] for row in self.items)
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
        used, seq = Spot(End.USED_IN), draft.seq
        ends: dict[str, Item] = {}
        for parent, child, quantity, group, mixing, per in self.links:
            above = ends.get(parent) or ends.setdefault(parent, draft.item(parent))
            below = ends.get(child) or ends.setdefault(child, draft.item(child))
            if above.made_at is not None and below.made_at is not None:
                check_age(above, below)
            draft.links.append(Link(parent, child, group, mixing, quantity, per, "", seq))
            if quantity and above.family is Family.MATERIAL and below.family is not Family.PACK:
                draft.move(parent, quantity, spot, used)
