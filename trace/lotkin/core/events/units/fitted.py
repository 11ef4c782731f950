"""Components that are taken for one unit by themselves: how they are told, taken and linked."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.events.base import Text
from lotkin.core.events.parts.inputs import Taken, take
from lotkin.core.values.kinds import Mixing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Fitted", "fit", "link_fitted"]


class Fitted(Taken):
    """A component taken for this unit by itself: a motor with a serial, say."""

    position: Text = ""


def fit(shop: Shop, inputs: Sequence[Fitted], unit: str) -> tuple[Fitted, ...]:
    """Complete components taken for one unit; a quantity left out is one piece."""
    done = []
    for fitted in inputs:
        one = fitted if fitted.quantity is not None else fitted.but(quantity=Decimal(1))
        done.append(take(shop, one, doing=f"built into {unit}"))
    return tuple(done)


def link_fitted(draft: Draft, unit: str, inputs: Sequence[Fitted]) -> None:
    """Link components to a unit: those of one part at one position are one group."""
    groups: dict[tuple[str, str], dict[str, int]] = {}
    for fitted in inputs:
        members = groups.setdefault((fitted.position, fitted.group), {})
        members[fitted.item] = members.get(fitted.item, 0) + fitted.micro
    for (position, _), members in groups.items():
        number = draft.group(unit)
        mixing = Mixing.EACH if len(members) == 1 else Mixing.ONE_OF
        for item, quantity in members.items():
            draft.link(
                item,
                unit,
                mixing,
                group=number,
                quantity=quantity,
                per=sum(members.values()),
                position=position,
            )
