"""Where-from and where-used: what is behind an item, and what it went into."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.answers.containment import Answer
from lotkin.core.answers.rows import RowMaker, Rows
from lotkin.core.errors import BadQuestion, did_you_mean
from lotkin.core.exposure.exposure import Exposure, expose
from lotkin.core.values.gc_paused import paused_collector
from lotkin.core.values.kinds import FAMILY_OF, KINDS
from lotkin.core.values.places import END_NAMES, IMPORTED
from lotkin.uses.asking.window import Window, narrow, refuse_nothing
from lotkin.uses.lookup.resolve import check_position, resolve

if TYPE_CHECKING:
    from collections.abc import Collection

    from lotkin.core.exposure.reach import Reach
    from lotkin.core.values.planned_places import PlannedPlaces
    from lotkin.uses.ports import CanRead, Reading

__all__ = ["NOTHING_SAID", "Question", "row_maker", "split", "where_from", "where_used"]


@dataclass(frozen=True, slots=True)
class Question:
    """What narrows an answer.

    Attributes:
        families, kinds: Only items of these; empty for all.
        window: Only what was done with the subjects in this time.
        as_of: Journal position; None for now.
        min_content: Items with a lower content are listed apart; a share from 0 to 1.

    Raises:
        BadQuestion: A name is no kind or family, the share is none, or the window ends before it
            begins. Nothing would fit, and nothing must not be the answer to a slip of the pen.
    """

    families: frozenset[str] = frozenset()
    kinds: frozenset[str] = frozenset()
    window: Window | None = None
    as_of: int | None = None
    min_content: float | None = None

    def __post_init__(self) -> None:
        _check_named(self.families, KINDS, "family")
        _check_named(self.kinds, FAMILY_OF, "kind of item")
        # "not between" also holds for what is not a number
        if self.min_content is not None and not 0 <= self.min_content <= 1:
            raise BadQuestion(f"least content {self.min_content}", "is no share from 0 to 1")
        if self.window is not None and self.window.is_backwards:
            raise BadQuestion("the time asked about", "ends before it begins")

    def wants(self, kind: str) -> bool:
        """Tell whether items of a kind are asked for."""
        if self.kinds and kind not in self.kinds:
            return False
        return not self.families or FAMILY_OF[kind] in self.families


def _check_named(names: Collection[str], known: Collection[str], what: str) -> None:
    for name in sorted(names):
        if name not in known:
            near = did_you_mean(name[:40], known) or f"choose from {', '.join(known)}"
            raise BadQuestion(repr(name[:40]), f"is no {what}", hint=near)


NOTHING_SAID = Question()

MANY, MANY_COLD = 40, 250
"""Ancestors from which all are computed at once: when arrays are loaded already, and before."""


def row_maker(
    view: Reading,
    reach: Reach,
    exposure: Exposure,
    as_of: int | None,
    not_recorded: frozenset[str] = frozenset(),
) -> RowMaker:
    """Put together what rows are made from.

    All of it is read now: rows are looked at when others may have recorded more.
    """
    places = view.planned_places(view.plan_number(as_of))
    return RowMaker(
        reach,
        exposure,
        view.reached_stock(as_of),
        view.holds(as_of),
        places,
        _shipped_to(view, places),
        not_recorded,
    )


def _shipped_to(view: Reading, places: PlannedPlaces) -> Collection[str]:
    """Give the places that shipments went to; none where the plan tells what all places are."""
    silent = view.places_named() - END_NAMES - {IMPORTED}
    if all(places.place(place) is not None for place in silent):
        return frozenset()
    return view.places_shipped_to()


def where_used(store: CanRead, text: str, question: Question = NOTHING_SAID) -> Answer:
    """Find everything that an item went into, or that was exposed to it.

    Args:
        store: Where to look.
        text: Code, serial, label or supplier's number.
        question: What narrows the answer.

    Raises:
        NotFound, Ambiguous: The text leads nowhere, or to several items.
        NothingOverlaps: Nothing that was done with it may have been in the time asked about.
    """
    with store.reading() as view, paused_collector():
        as_of = check_position(view, question.as_of)
        subject = resolve(view, text, question.as_of)
        narrowing = narrow(view, [subject], question.window, as_of=question.as_of)
        refuse_nothing(view, narrowing, 1, question.window, question.as_of)
        reach = view.reach([subject.code], "down", as_of=question.as_of, first=narrowing.first)
        exposure = expose(reach, reach.starts)
        maker = row_maker(view, reach, exposure, question.as_of, narrowing.not_recorded)
        maker.is_downwards = True
        return Answer((subject,), "where-used", *split(maker, question), as_of)


def split(maker: RowMaker, question: Question) -> tuple[Rows, Rows]:
    """Divide what is reached into what is kept and what a threshold leaves out."""
    kinds = maker.reach.nodes.kind
    starts = set(maker.reach.starts)
    wanted_kinds = {kind for kind in set(kinds) if question.wants(kind)}
    wanted = [i for i, kind in enumerate(kinds) if kind in wanted_kinds and i not in starts]
    least = question.min_content
    if least is None:
        return Rows(maker, wanted), Rows(maker, [])
    exposed = maker.exposure.items
    out = {i for i in wanted if (content := exposed[i].content) is not None and content < least}
    maker.left_out = out
    return Rows(maker, [i for i in wanted if i not in out]), Rows(maker, sorted(out))


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
        maker = row_maker(view, reach, exposure, question.as_of)
        return Answer((subject,), "where-from", *split(maker, question), as_of)


def _of_each_ancestor(reach: Reach) -> Exposure:
    """Compute for each ancestor how the subject is exposed to it."""
    subject = reach.starts[0]
    if len(reach) >= (MANY if "numpy" in sys.modules else MANY_COLD):
        # loaded only where there is much to compute
        from lotkin.core.exposure.exposure_to_each import expose_to_each  # noqa: PLC0415

        return Exposure(lambda: expose_to_each(reach, subject))
    return Exposure(lambda: [expose(reach, [i])[subject] for i in range(len(reach))])
