"""Containment: everything a suspicion takes in, where it is now, and who has it."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from lotkin.core.account.account import Piece, account_of
from lotkin.core.answers.containment import Answer, Containment
from lotkin.core.answers.rows import Row, RowMaker, Rows
from lotkin.core.answers.unit_counts import expect, units_by_place
from lotkin.core.exposure.exposure import expose
from lotkin.core.exposure.upper_bound import at_most_units
from lotkin.core.values.gc_paused import paused_collector
from lotkin.uses.asking.where import NOTHING_SAID, Question, row_maker, split
from lotkin.uses.asking.window import narrow, refuse_nothing
from lotkin.uses.lookup.resolve import check_position, resolve

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.exposure.exposure import Exposure
    from lotkin.core.genealogy.items import Item
    from lotkin.core.values.places import Spot
    from lotkin.uses.ports import CanRead, Reading

__all__ = ["account", "contain"]


def contain(
    store: CanRead,
    texts: Sequence[str],
    question: Question = NOTHING_SAID,
    *,
    takes_nothing: bool = False,
) -> Containment:
    """Find all that contains, or was exposed to, any of some items.

    Args:
        store: Where to look.
        texts: Codes, serials, labels or supplier's numbers; at least one.
        question: What narrows the answer.
        takes_nothing: Whether to answer also where the time asked about leaves out everything
            named: the scope of a case stands, whatever was corrected since.

    Raises:
        NotFound, Ambiguous: A text leads nowhere, or to several items.
        NothingOverlaps: The time asked about leaves out everything named.
    """
    with store.reading() as view, paused_collector():
        as_of = check_position(view, question.as_of)
        subjects = _subjects(view, texts, question)
        narrowing = narrow(view, subjects, question.window, as_of=question.as_of)
        if not takes_nothing:
            refuse_nothing(view, narrowing, len(subjects), question.window, question.as_of)
        codes = [subject.code for subject in subjects]
        reach = view.reach(codes, "down", as_of=question.as_of, first=narrowing.first)
        exposure = expose(reach, reach.starts)
        maker = row_maker(view, reach, exposure, question.as_of, narrowing.not_recorded)
        maker.is_downwards = True
        kept, left_out = split(maker, question)
        answer = Answer(
            tuple(subjects), "where-used", kept, left_out, as_of, outside=narrowing.outside
        )
        remainder = _remainder(view, subjects, question.as_of)
        extra = [
            Piece(item.code, spot, item.unit, item.part, quantity)
            for item, spot, quantity in remainder
        ]
        accounts = account_of(
            reach, maker.stock, exposure.certain, _possible(exposure), extra=extra
        )
        own = [*Rows(maker, reach.starts), *_inside_rows(maker, remainder)]
        everything = [*own, *kept]
        affected = [row for row in everything if row.kind == "unit"]
        places, customers, unknown = _by_place(everything)
        now, before = _serials(affected)
        at_most = min(len(now), at_most_units(reach, exposure, maker.stock))
        return Containment(
            answer=answer,
            subject_rows=tuple(own),
            accounts=tuple(accounts),
            units=len(now),
            removed_units=len(before - now),
            expected=expect(affected, at_most),
            at_most_units=at_most,
            by_place=units_by_place(affected),
            places=places,
            customers=customers,
            unknown_places=unknown,
        )


def _possible(exposure: Exposure) -> list[bool]:
    """Tell for each item whether some of it may contain a subject, though not certainly."""
    return [one.reached and not one.removed and not one.certain for one in exposure.items]


def account(store: CanRead, text: str, as_of: int | None = None) -> Containment:
    """Account for the quantity of one item; the containment that it belongs to."""
    return contain(store, [text], Question(as_of=as_of))


def _subjects(view: Reading, texts: Sequence[str], question: Question) -> list[Item]:
    subjects: dict[str, Item] = {}
    for text in texts:
        item = resolve(view, text, question.as_of)
        subjects[item.code] = item
    return list(subjects.values())


def _remainder(
    view: Reading, subjects: Sequence[Item], as_of: int | None
) -> list[tuple[Item, Spot, int]]:
    """List what outside batches had that did not become a treated lot."""
    found = []
    for subject in subjects:
        if subject.kind == "outside-batch":
            for code, spot, quantity in view.batch_remainder(subject.code, as_of):
                item = view.item_as_of(code, as_of)
                if item is not None:
                    found.append((item, spot, quantity))
    return found


def _inside_rows(maker: RowMaker, remainder: Sequence[tuple[Item, Spot, int]]) -> list[Row]:
    """Make rows of lots of which pieces are still at the supplier in a batch asked about.

    What came back and went out again with the same batch has a row already.
    """
    found = []
    reached = set(maker.reach.nodes.code)
    for item, spot, quantity in remainder:
        if spot.is_end or quantity <= 0 or item.code in reached:
            continue
        found.append(maker.row_of_subject(item, spot, quantity))
    return found


def _serials(units: Sequence[Row]) -> tuple[set[str], set[str]]:
    """Divide serials into those that contain a subject now, and those that once did.

    What counts is the latest state that is reached.
    """
    now = {row.serial or row.code for row in units if not row.removed}
    removed = {row.serial or row.code for row in units if row.removed}
    return now - removed, removed


ByPlace: TypeAlias = "dict[str, tuple[Row, ...]]"


def _by_place(rows: Sequence[Row]) -> tuple[ByPlace, ByPlace, ByPlace]:
    """Gather what there is to act on by place: known ones, customers, and of a kind not known.

    Ends and removed items are left out.
    """
    places: dict[str, list[Row]] = {}
    customers: dict[str, list[Row]] = {}
    unknown: dict[str, list[Row]] = {}
    for row in rows:
        if row.removed:
            continue
        for here in row.at:
            if here.place_kind == "end" or here.quantity <= 0:
                continue
            into = {"customer": customers, "": unknown}.get(here.place_kind, places)
            alone = row if len(row.at) == 1 else row._replace(at=(here,))
            into.setdefault(here.place, []).append(alone)
    return _sorted(places), _sorted(customers), _sorted(unknown)


def _sorted(found: dict[str, list[Row]]) -> ByPlace:
    return {place: tuple(found[place]) for place in sorted(found)}
