"""Where-from and where-used: what is behind an item, and what it went into."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.answers import Answer, Here, Row
from lotkin.core.exposure import Exposure, expose
from lotkin.core.kinds import FAMILY_OF
from lotkin.core.places import End, Spot
from lotkin.uses.resolve import check_position, resolve
from lotkin.uses.window import Window, first_within

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.plan import ShopPlan
    from lotkin.core.reach import Reach
    from lotkin.uses.ports import CanRead, Reading

__all__ = ["Question", "Rows", "where_from", "where_used"]


@dataclass(frozen=True, slots=True)
class Question:
    """What narrows an answer.

    Attributes:
        families, kinds: Only items of these; empty for all.
        window: Only what was done with the subjects in this time.
        as_of: Journal position; None for now.
        min_content: Items with a lower content are listed apart.
    """

    families: frozenset[str] = frozenset()
    kinds: frozenset[str] = frozenset()
    window: Window | None = None
    as_of: int | None = None
    min_content: float | None = None

    def wants(self, kind: str) -> bool:
        """Tell whether items of a kind are asked for."""
        if self.kinds and kind not in self.kinds:
            return False
        return not self.families or FAMILY_OF[kind] in self.families


NOTHING_SAID = Question()


class Rows:
    """Makes rows of a reach: exposure, holds and places put together."""

    def __init__(self, view: Reading, reach: Reach, as_of: int | None) -> None:
        self.reach = reach
        self.stock: Mapping[int, Mapping[Spot, int]] = view.reached_stock(as_of)
        self.holds = view.holds(as_of)
        plan = view.plan_number()
        self.plan: ShopPlan | None = view.plan(plan) if plan else None
        self._kinds: dict[str, str] = {}

    def place_kind(self, place: str) -> str:
        """Tell what a place is: a kind of the plan, `end`, or "" if it is not known."""
        kind = self._kinds.get(place)
        if kind is None:
            planned = self.plan.place(place) if self.plan is not None else None
            kind = "end" if Spot(place).is_end else (planned.kind if planned else "")
            self._kinds[place] = kind
        return kind

    def here(self, i: int) -> tuple[Here, ...]:
        """List where the item at a position is, places before ends."""
        spots = self.stock.get(i)
        if not spots:
            return ()
        found = [
            Here(spot.place, self.place_kind(spot.place), spot.within, quantity)
            for spot, quantity in spots.items()
            if spot.place != End.USED_IN
        ]
        if len(found) > 1:
            found.sort(key=lambda here: (here.place_kind == "end", here.place, here.within))
        return tuple(found)

    def rows(self, exposure: Exposure, wanted: Sequence[int]) -> list[Row]:
        """Make the rows of some positions, in order of family, kind and code."""
        nodes, holds = self.reach.nodes, self.holds
        rows = [
            Row(
                nodes.code[i],
                nodes.kind[i],
                FAMILY_OF[nodes.kind[i]].value,
                nodes.part[i],
                nodes.quantity[i],
                nodes.unit[i],
                nodes.serial[i],
                exposure.certain[i],
                exposure.chance[i],
                exposure.low[i],
                exposure.high[i],
                exposure.content[i],
                exposure.removed[i],
                nodes.code[i] in holds,
                self.here(i),
            )
            for i in wanted
        ]
        rows.sort(key=lambda row: (row.family, row.kind, row.code))
        return rows


def where_used(store: CanRead, text: str, question: Question = NOTHING_SAID) -> Answer:
    """Find everything that an item went into, or that was exposed to it.

    Args:
        store: Where to look.
        text: Code, serial, label or supplier's number.
        question: What narrows the answer.

    Raises:
        NotFound, Ambiguous: The text leads nowhere, or to several items.
    """
    with store.reading() as view:
        as_of = check_position(view, question.as_of)
        subject = resolve(view, text, question.as_of)
        first = first_within(view, [subject], question.window)
        reach = view.reach([subject.code], "down", as_of=question.as_of, first=first)
        exposure = expose(reach, reach.starts)
        rows = Rows(view, reach, question.as_of)
        kept, left_out = split(rows, exposure, question)
        return Answer((subject,), "where-used", tuple(kept), tuple(left_out), as_of)


def split(rows: Rows, exposure: Exposure, question: Question) -> tuple[list[Row], list[Row]]:
    """Divide what is reached into what is kept and what a threshold leaves out."""
    reach = rows.reach
    starts = set(reach.starts)
    kinds = reach.nodes.kind
    wanted = [
        i
        for i in range(len(reach))
        if i not in starts and exposure.reached[i] and question.wants(kinds[i])
    ]
    everything = rows.rows(exposure, wanted)
    least = question.min_content
    if least is None:
        return everything, []
    kept = [row for row in everything if row.content is None or row.content >= least]
    out = [row for row in everything if row.content is not None and row.content < least]
    return kept, out


def where_from(store: CanRead, text: str, question: Question = NOTHING_SAID) -> Answer:
    """Find everything behind an item, each with the chance that it is in a piece of it.

    Args:
        store: Where to look.
        text: Code, serial, label or supplier's number.
        question: What narrows the answer; a window has no meaning here.

    Raises:
        NotFound, Ambiguous: The text leads nowhere, or to several items.
    """
    with store.reading() as view:
        as_of = check_position(view, question.as_of)
        subject = resolve(view, text, question.as_of)
        reach = view.reach([subject.code], "up", as_of=question.as_of)
        exposure = _of_each_ancestor(reach)
        rows = Rows(view, reach, question.as_of)
        kept, left_out = split(rows, exposure, question)
        return Answer((subject,), "where-from", tuple(kept), tuple(left_out), as_of)


def _of_each_ancestor(reach: Reach) -> Exposure:
    """Compute for each ancestor how the subject is exposed to it."""
    n = len(reach)
    subject = reach.starts[0]
    result = Exposure(
        [True] * n, [False] * n, [False] * n, [0.0] * n, [0.0] * n, [0.0] * n, [None] * n
    )
    for i in range(n):
        if i == subject:
            continue
        of_one = expose(reach, [i])
        result.reached[i] = of_one.reached[subject]
        result.removed[i] = of_one.removed[subject]
        result.certain[i] = of_one.certain[subject]
        result.chance[i] = of_one.chance[subject]
        result.low[i] = of_one.low[subject]
        result.high[i] = of_one.high[subject]
        result.content[i] = of_one.content[subject]
    return result
