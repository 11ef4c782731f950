"""What reports say: answers together with the journal's head, all of one state of the store."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.uses.contain import contain
from lotkin.uses.where import NOTHING_SAID, Question

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin.core.answers import Containment
    from lotkin.core.plan import ShopPlan
    from lotkin.uses.ports import CanRead, Reading

__all__ = ["ContainmentData", "containment_data"]


@dataclass(frozen=True, slots=True)
class ContainmentData:
    """A containment as a report shows it.

    Attributes:
        found: The answer.
        plan: The plan in force; None for none.
        head_number, head_hash: Last row of the journal that it was answered from.
    """

    found: Containment
    plan: ShopPlan | None
    head_number: int
    head_hash: str


@dataclass(frozen=True, slots=True)
class _OneState:
    """A store that is one state of another one: all that is asked of it fits together."""

    view: Reading

    @contextmanager
    def reading(self) -> Iterator[Reading]:
        """Give the one view there is."""
        yield self.view


def containment_data(
    store: CanRead, texts: Sequence[str], question: Question = NOTHING_SAID
) -> ContainmentData:
    """Find all that some items take in, for a report.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
    """
    with store.reading() as view:
        found = contain(_OneState(view), texts, question)
        head_number, head_hash = view.journal_head()
        return ContainmentData(found, plan_of(view), head_number, head_hash)


def plan_of(view: Reading) -> ShopPlan | None:
    """Give the plan in force; None for none."""
    number = view.plan_number()
    return view.plan(number) if number else None
