"""Where to hold first: the few things to go to, of all that a suspicion takes in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.exposure import expose
from lotkin.core.holding_points import HoldingPoint, holding_points
from lotkin.uses.resolve import check_position, resolve
from lotkin.uses.where import NOTHING_SAID, Question, row_maker
from lotkin.uses.window import first_within

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.uses.ports import CanRead

__all__ = ["hold_first"]

GONE = frozenset({"customer", "end"})
"""Kinds of places where nothing can be held any more; a customer is asked, not held."""


def hold_first(
    store: CanRead, texts: Sequence[str], question: Question = NOTHING_SAID
) -> list[HoldingPoint]:
    """List where to hold, most pieces first, so that every suspect on hand is held.

    Args:
        store: Where to look.
        texts: Codes, serials, labels or supplier's numbers; at least one.
        question: A window and a journal position narrow it; families and kinds do not.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
    """
    with store.reading() as view:
        check_position(view, question.as_of)
        items = {item.code: item for item in (resolve(view, t, question.as_of) for t in texts)}
        first = first_within(view, list(items.values()), question.window, as_of=question.as_of)
        reach = view.reach(list(items), "down", as_of=question.as_of, first=first)
        maker = row_maker(view, reach, expose(reach, reach.starts), question.as_of)
        on_hand = {}
        for i in range(len(reach)):
            here = tuple(
                each
                for each in maker.here(i)
                if each.quantity > 0 and each.place_kind not in GONE and reach.is_material(i)
            )
            if here:
                on_hand[i] = here
        return holding_points(reach, on_hand)
