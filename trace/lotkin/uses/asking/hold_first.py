"""Where to hold first: the list of all that is suspect and on hand, and what feeds it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from lotkin.core.answers.stop_list import StopList, stop_list
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import NOTHING_SAID, Question

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.answers.containment import Containment
    from lotkin.uses.ports import CanRead

__all__ = ["hold_first", "stops_of"]


def hold_first(store: CanRead, texts: Sequence[str], question: Question = NOTHING_SAID) -> StopList:
    """List everything suspect on hand, place by place, nearest to a customer first.

    Args:
        store: Where to look.
        texts: Codes, serials, labels or supplier's numbers; at least one.
        question: A window and a journal position narrow it; families and kinds do not.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
        NothingOverlaps: The time asked about leaves out everything named.
    """
    everything = Question(window=question.window, as_of=question.as_of)
    return stops_of(contain(store, texts, everything))


def stops_of(found: Containment) -> StopList:
    """Make the list of a containment that nothing but a window and a position narrows.

    What lies where no plan says what the place is must be stopped as well; what customers have is
    theirs to be told of. A place where something is below zero on record is in the list, to be
    counted.
    """
    on_hand = {**found.places, **found.unknown_places}
    suspect = (*found.subject_rows, *found.answer.items)
    stops = stop_list(found.answer.items.maker.reach, on_hand, suspect)
    return replace(stops, outside=found.answer.outside)
