"""What recording an event brings forth, including what must be derived anew because of it."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.errors import ChildBeforeParent, StillInUse, UnknownCode
from lotkin.core.events import Void
from lotkin.core.events.reading import is_void, read
from lotkin.core.genealogy.draft import Draft
from lotkin.core.genealogy.mixtures import adjust
from lotkin.core.values.instants import show_instant
from lotkin.core.values.kinds import Mixing

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.events import Event
    from lotkin.core.genealogy.view import View

__all__ = ["Effects", "effects_of"]


@dataclass(frozen=True, slots=True)
class Effects:
    """The rows of an event, and the earlier events whose rows they replace.

    Attributes:
        draft: All new rows, of this event and of those in `again`.
        again: Numbers of earlier events that `draft` holds anew; their old rows are superseded.
    """

    draft: Draft
    again: frozenset[int]


def effects_of(view: View, event: Event, seq: int, plan: int) -> Effects:
    """Derive the rows of a completed event.

    A late mount, an amendment, a void, an unpacking or an identification changes what earlier
    events bring forth: these are derived anew, together with what rests on them (the states of
    units), until nothing more changes.

    Args:
        view: What is stored.
        event: The completed event.
        seq: Its number in the journal.
        plan: Number of the plan revision in force.

    Raises:
        Refused: A code is taken, a child would be older than its parent.
        NotFound: Something that the event names does not exist.
    """
    draft = Draft(view)
    draft.begin(seq, event.at_us, plan)
    if event.lacks_right:
        return Effects(draft, frozenset())
    event.establish(draft)
    event.bring_forth(draft)
    again = event.touches(draft)
    if not again:
        return Effects(draft, frozenset())
    done: set[int] = set()
    while not again <= done:
        done |= again
        again, draft = _anew(view, event, (seq, plan), frozenset(done))
    _check_ages(view, draft, done)
    return Effects(draft, frozenset(done))


def _check_ages(view: View, draft: Draft, done: set[int]) -> None:
    """Check that nothing is older than an item whose time was corrected.

    Raises:
        ChildBeforeParent: Something made from it, by an event that stays as it is, would be.
    """
    for code, item in draft.items.items():
        before = view.item(code)
        if before is None or item.made_at is None or before.made_at == item.made_at:
            continue
        for link in view.children(code):
            if link.event in done:
                continue
            child = draft.item(link.child)
            # an inspection or a gauge comes after what it was used on, and before the event
            looked_at = child.event != link.event
            at = read(draft, view.entry(link.event)).at_us if looked_at else child.made_at
            if at is not None and at < item.made_at:
                raise ChildBeforeParent(
                    child.code, code, show_instant(at), show_instant(item.made_at)
                )


def _anew(
    view: View, event: Event, where: tuple[int, int], hidden: frozenset[int]
) -> tuple[set[int], Draft]:
    """Derive an event together with the hidden ones, and say which more it takes."""
    draft = Draft(view, hidden)
    draft.begin(where[0], event.at_us, where[1])
    event.establish(draft)
    readings = [(where[0], where[1], event)]
    more: set[int] = set()
    for seq in sorted(hidden):
        entry = view.entry(seq)
        before = Draft(view)
        more |= read(before, entry).touches(_at(before, seq, entry.at)) - {seq}
        if is_void(draft, seq):
            continue
        reading = read(draft, entry)
        if reading.lacks_right:
            continue
        draft.begin(seq, reading.at_us, entry.plan)
        reading.establish(draft)
        readings.append((seq, entry.plan, reading))
    readings.sort(key=lambda r: (r[2].rank, r[2].at_us if r[2].rank == 0 else 0, r[0]))
    for seq, plan, reading in readings:
        draft.begin(seq, reading.at_us, plan)
        known = len(draft.items)
        with _in_use(event, seq, reading):
            reading.bring_forth(draft)
        adjust(draft, list(draft.items)[known:])
    for seq, _, reading in readings:
        if seq != where[0]:
            with _in_use(event, seq, reading):
                more |= reading.touches(_at(draft, seq, reading.at_us)) - {seq}
    more |= _states_that_rest_on(view, hidden)
    return more | set(hidden), draft


@contextmanager
def _in_use(event: Event, seq: int, reading: Event) -> Iterator[None]:
    """Say of what a void would take away that a later event rests on it.

    Raises:
        StillInUse: The event is a void, and what is derived anew lacks an item.
    """
    try:
        yield
    except UnknownCode as error:
        if not isinstance(event, Void):
            raise
        raise StillInUse(str(event.event), [f"event {seq} ({reading.kind})"]) from error


def _at(draft: Draft, seq: int, at: int) -> Draft:
    draft.begin(seq, at, 0)
    return draft


def _states_that_rest_on(view: View, seqs: frozenset[int]) -> set[int]:
    """Name the events that made later states of units, or identified lots, from what changes."""
    found: set[int] = set()
    for seq in seqs:
        for code in view.made_by(seq):
            found |= {link.event for link in view.children(code) if link.mixing is Mixing.FORMER}
            found |= {fact.event for fact in view.facts("identified", code)}
    return found
