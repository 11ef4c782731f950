"""What reports say: answers together with the journal's head, all of one state of the store."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import NOTHING_SAID, Question, where_from
from lotkin.uses.cases.case_work import show_case
from lotkin.uses.complaints.complaint import complaint

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin.core.answers.containment import Containment
    from lotkin.core.genealogy.items import Item
    from lotkin.core.journal.seals import SealOf
    from lotkin.core.plan import ShopPlan
    from lotkin.uses.cases.case_work import CaseShown
    from lotkin.uses.complaints.complaint import Complaint
    from lotkin.uses.ports import CanRead, Reading

__all__ = [
    "CaseData",
    "ContainmentData",
    "Origin",
    "UnitData",
    "case_data",
    "containment_data",
    "one_state",
    "unit_data",
]


@dataclass(frozen=True, slots=True)
class ContainmentData:
    """A containment as a report shows it.

    Attributes:
        found: The answer.
        plan: The plan in force; None for none.
        head_number, head_hash: Last row of the journal that it was answered from.
        seal: The newest seal; None for none.
    """

    found: Containment
    plan: ShopPlan | None
    head_number: int
    head_hash: str
    seal: SealOf | None = None


@dataclass(frozen=True, slots=True)
class CaseData:
    """A case as it stands, and what its scope takes in."""

    shown: CaseShown
    containment: ContainmentData


@dataclass(frozen=True, slots=True)
class Origin:
    """A heat or supplier's lot behind a component, and whether every piece of that is of it."""

    item: Item
    is_certain: bool


@dataclass(frozen=True, slots=True)
class UnitData:
    """All that is on record of a unit, for a report.

    Attributes:
        origins: Heats, suppliers' lots and outside batches by the code of a lot in the unit.
        plan: The plan in force; None for none.
        head_number, head_hash: Last row of the journal that it was read from.
        seal: The newest seal; None for none.
    """

    unit: Complaint
    origins: dict[str, tuple[Origin, ...]]
    plan: ShopPlan | None
    head_number: int
    head_hash: str
    seal: SealOf | None = None


def _seal(view: Reading) -> SealOf | None:
    if not view.entries_of(["seal"]):
        return None
    # what knows signatures is slow to load, and most works seal nothing
    from lotkin.uses.evidence.seal import last_seal  # noqa: PLC0415

    return last_seal(view)


@dataclass(frozen=True, slots=True)
class _OneState:
    """A store that is one state of another one: all that is asked of it fits together."""

    view: Reading

    @contextmanager
    def reading(self) -> Iterator[Reading]:
        """Give the one view there is."""
        yield self.view


def one_state(view: Reading) -> CanRead:
    """Make a store of one state of another one, so that all that is asked of it fits together."""
    return _OneState(view)


def containment_data(
    store: CanRead, texts: Sequence[str], question: Question = NOTHING_SAID
) -> ContainmentData:
    """Find all that some items take in, for a report.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
    """
    with store.reading() as view:
        return _containment(view, texts, question)


def case_data(store: CanRead, code: str) -> CaseData:
    """Show a case as it stands now, for a report.

    Raises:
        UnknownCode: There is no such case.
    """
    with store.reading() as view:
        shown = show_case(one_state(view), code)
        number = view.plan_number()
        plan = view.plan(number) if number else None
        return CaseData(
            shown, ContainmentData(shown.containment, plan, *view.journal_head(), _seal(view))
        )


def unit_data(store: CanRead, text: str) -> UnitData:
    """Put together all that is on record of a unit, and what its components come from.

    Raises:
        NotFound, Ambiguous: The text leads nowhere, to several items, or to no unit.
    """
    with store.reading() as view:
        unit = complaint(one_state(view), text)
        lots = {one.lot.code: one.lot for one in unit.components}
        lots |= {other.code: other for one in unit.components for other in one.alternatives}
        number = view.plan_number()
        return UnitData(
            unit,
            {code: tuple(_origins(view, lots[code])) for code in sorted(lots)},
            view.plan(number) if number else None,
            *view.journal_head(),
            _seal(view),
        )


def _origins(view: Reading, lot: Item) -> Iterator[Origin]:
    """Find the heats, suppliers' lots and outside batches behind a lot, or itself if it was bought.

    A lot that was bought without a number of its source stands for its own origin.
    """
    sources = frozenset({"heat", "source-lot", "outside-batch"})
    rows = list(where_from(one_state(view), lot.code, Question(kinds=sources)).items)
    if lot.supplier and all(row.kind == "outside-batch" for row in rows):
        yield Origin(lot, True)
    for row in rows:
        item = view.item(row.code)
        if item is not None:
            yield Origin(item, row.certain)


def _containment(view: Reading, texts: Sequence[str], question: Question) -> ContainmentData:
    found = contain(one_state(view), texts, question)
    number = view.plan_number(question.as_of)
    plan = view.plan(number) if number else None
    return ContainmentData(found, plan, *view.journal_head(), _seal(view))
