"""Pieces taken by an event, what becomes of them, and how they are divided over what is made."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

from pydantic import Field

from lotkin.core.errors import BadQuantity
from lotkin.core.events.base import Amount, Code, PartOfEvent, Text
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import MICRO, allocate, from_micro, show_quantity, to_micro

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.genealogy.items import Item
    from lotkin.core.rules.checking import Shop

__all__ = ["Share", "Taken", "contents_of", "divide", "gather", "take"]


class Taken(PartOfEvent):
    """Pieces taken from an item.

    `place` may be left out when they all lie at one place, `quantity` to take all that lie there.
    `loss` is what of it was lost in the process (swarf, kerf, sieve overflow), in the same unit.
    `per` says how many of it are in one piece of what is made, where that is not one.
    `group` puts parents together in one group; without it, parents of the same part are.
    """

    item: Code
    quantity: Amount | None = None
    place: Code | None = None
    within: Code | None = None
    loss: Amount | None = None
    per: Amount | None = None
    group: Text = ""

    @property
    def spot(self) -> Spot:
        """Where the pieces were taken (after completion)."""
        return Spot(self.place or "", self.within or "")

    @property
    def micro(self) -> int:
        """Millionths taken (after completion)."""
        return to_micro(self.quantity) if self.quantity is not None else 0

    @property
    def loss_micro(self) -> int:
        """Millionths of these that were lost in the process."""
        return to_micro(self.loss) if self.loss is not None else 0


AnyTaken = TypeVar("AnyTaken", bound=Taken)


def take(shop: Shop, taken: AnyTaken, *, doing: str) -> AnyTaken:
    """Complete what is taken: the item meant, the spot, the quantity; speak for it.

    Raises:
        BadQuantity: Nothing is taken, part of a piece, or less than was lost of it.
    """
    item = shop.lot_of(taken.item)
    spot = shop.spot_of(item, taken.place or "", taken.within or "")
    wanted = None if taken.quantity is None else to_micro(taken.quantity, record=item.code)
    amount = shop.take(item, wanted, spot, doing=doing)
    if taken.loss_micro > amount:
        raise BadQuantity(
            show_quantity(taken.loss_micro), "lost is more than was taken", record=item.code
        )
    return taken.but(
        item=item.code,
        quantity=from_micro(amount),
        place=spot.place,
        within=spot.within or None,
        group=taken.group or item.part or item.code,
    )


def contents_of(shop: Shop, item: Item, place: str) -> tuple[Taken, ...]:
    """List what a carton at a place holds, cartons in it and what they hold included."""
    if item.kind != "carton":
        return ()
    found: list[Taken] = []
    for code, spot, quantity in shop.view.within(item.code):
        if spot.place == place and quantity > 0:
            amount = from_micro(quantity)
            found.append(Taken(item=code, quantity=amount, place=place, within=spot.within))
            found += contents_of(shop, shop.exact(code), place)
    return tuple(found)


class Share(PartOfEvent):
    """A destination of divided pieces: an output by its code, or an end."""

    to: str
    weight: Amount = Field(description="Relative weight, usually a mass in grams")
    of: tuple[Code, ...] = ()

    @property
    def micro(self) -> int:
        """The weight in millionths."""
        return to_micro(self.weight)


def divide(
    draft: Draft, inputs: Sequence[Taken], shares: Sequence[Share]
) -> dict[tuple[str, str], int]:
    """Divide each input over outputs and ends, and post where it went.

    Args:
        draft: Receives the movements.
        inputs: n completed inputs.
        shares: m destinations; one with `of` takes from those inputs only.

    Returns:
        (input code, output code) -> millionths of the input; ends are posted and left out.
        For every input the parts, the ends and the process loss sum to what was taken.
    """
    into: dict[tuple[str, str], int] = {}
    for taken in inputs:
        if taken.loss_micro:
            draft.move(taken.item, taken.loss_micro, taken.spot, Spot(End.PROCESS_LOSS))
        rest = taken.micro - taken.loss_micro
        takers = [share for share in shares if not share.of or taken.item in share.of]
        if not takers:
            draft.move(taken.item, rest, taken.spot, Spot(End.PROCESS_LOSS))
            continue
        used = 0
        for share, part in zip(
            takers, allocate(rest, [share.micro for share in takers]), strict=True
        ):
            if share.to in (End.SCRAP, End.SAMPLE, End.LOST):
                draft.move(taken.item, part, taken.spot, Spot(share.to))
            else:
                key = (taken.item, share.to)
                into[key] = into.get(key, 0) + part
                used += part
        draft.move(taken.item, used, taken.spot, Spot(End.USED_IN))
    return into


def gather(
    draft: Draft,
    child: str,
    inputs: Sequence[Taken],
    into: Mapping[tuple[str, str], int],
    mixing: Mixing,
) -> None:
    """Link inputs to a child, one group for each name of a group.

    A group of one parent is `each`, whatever `mixing` says: there is nothing to mix.
    """
    groups: dict[str, dict[str, int]] = {}
    per: dict[str, int] = {}
    for taken in inputs:
        key = (taken.item, child)
        if key in into:
            groups.setdefault(taken.group, {})[taken.item] = into[key]
            per[taken.group] = MICRO if taken.per is None else to_micro(taken.per)
    for name, members in groups.items():
        number = draft.group(child)
        kind = mixing if len(members) > 1 else Mixing.EACH
        for parent, quantity in members.items():
            draft.link(parent, child, kind, group=number, quantity=quantity, per=per[name])
