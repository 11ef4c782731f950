"""Telling other programs of cases: that one was opened, and what of it customers have.

What is to be told is written down first and sent afterwards, so that neither a stop nor a receiver
who is away loses it; it arrives at least once.
"""

from __future__ import annotations

import json
import uuid
from typing import TYPE_CHECKING, Protocol

from lotkin.core.cases.letters import CASE_OPENED, SHIPPED_MEMBER_FOUND, HookState, Notice, next_try
from lotkin.core.cases.membership import all_cases
from lotkin.core.values.instants import show_instant
from lotkin.uses.cases.case_work import show_case

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence
    from contextlib import AbstractContextManager

    from lotkin.core.answers.rows import Row
    from lotkin.core.cases.letters import Attempt
    from lotkin.core.cases.membership import Case
    from lotkin.core.values.canonical import Json
    from lotkin.uses.ports import CanRead, Clock

    class NoticeNotes(Protocol):
        """One transaction on what other programs are told."""

        def cases_told(self, kind: str) -> set[str]:
            """List the cases of which there is a notice of a kind."""

        def members_told(self, code: str) -> set[tuple[str, str]]:
            """List (customer, item) of the members of a case that were told."""

        def keep_notice(
            self,
            notice: Notice,
            hooks: Iterable[str],
            members: Sequence[tuple[str, str]] = (),
        ) -> None:
            """Keep a notice for some hooks, and which (customer, item) it tells."""

        def due(self, hooks: Sequence[str], now: int, most: int = 50) -> list[Attempt]:
            """List what is to be told to some hooks by now, the oldest first."""

        def note(
            self, attempt: Attempt, now: int, answer: str, *, arrived: bool, next_at: int | None
        ) -> None:
            """Note what became of a try."""

        def states(self) -> list[HookState]:
            """Tell how it goes with each hook."""

    class KeepsNotices(Protocol):
        """A store that remembers what was told."""

        def notice_notes(self, *, only_look: bool = False) -> AbstractContextManager[NoticeNotes]:
            """Give a transaction; all of it is kept if the block ends well, else none."""

    class Store(CanRead, KeepsNotices, Protocol):
        """A store whose cases are told of."""


__all__ = ["Outcome", "find_notices", "hook_states", "send_due"]

NAMED_AT_MOST = 500
"""Members that a notice names one by one for each customer; all are counted."""


def find_notices(store: Store, wishes: Mapping[str, Sequence[str]], clock: Clock) -> int:
    """Write down what has not been told yet.

    Args:
        store: Whose cases.
        wishes: Name of each hook -> the kinds of notices that it wants.
        clock: For when it was found.

    Returns:
        How many notices were made.
    """
    finder = _Finder(store, wishes, clock)
    with store.reading() as view:
        open_now = [case for case in all_cases(view) if not case.closed_by]
    with store.notice_notes(only_look=True) as notes:
        opened = notes.cases_told(CASE_OPENED)
    made = 0
    for case in open_now:
        if case.code not in opened:
            finder.keep(CASE_OPENED, case, _opened(case))
            made += 1
        made += finder.look_for_shipped(case)
    return made


class _Finder:
    """Writes down what has not been told yet."""

    def __init__(self, store: Store, wishes: Mapping[str, Sequence[str]], clock: Clock) -> None:
        self.store, self.wishes, self.clock = store, wishes, clock

    def look_for_shipped(self, case: Case) -> int:
        """Look for members at customers; gives how many notices were made."""
        shown = show_case(self.store, case.code)
        members = set(shown.members)
        with self.store.notice_notes(only_look=True) as notes:
            known = notes.members_told(case.code)
        found = {
            customer: [
                row for row in rows if row.code in members and (customer, row.code) not in known
            ]
            for customer, rows in shown.containment.customers.items()
        }
        told = {(customer, row.code) for customer, rows in found.items() for row in rows}
        if not told:
            return 0
        customers: list[Json] = [_customer(*each) for each in found.items() if each[1]]
        data: dict[str, Json] = {**_short(case), "customers": customers}
        self.keep(SHIPPED_MEMBER_FOUND, case, data, sorted(told))
        return 1

    def keep(
        self, kind: str, case: Case, data: dict[str, Json], members: Sequence[tuple[str, str]] = ()
    ) -> None:
        """Write a notice down for those who want its kind."""
        now = self.clock()
        body = json.dumps({"type": kind, "timestamp": show_instant(now), "data": data})
        notice = Notice(str(uuid.uuid4()), kind, case.code, body, now)
        hooks = [hook for hook, kinds in self.wishes.items() if kind in kinds]
        with self.store.notice_notes() as notes:
            notes.keep_notice(notice, hooks, members)


def _short(case: Case) -> dict[str, Json]:
    return {"case": case.code, "reason": case.reason, "subjects": list(case.subjects)}


def _opened(case: Case) -> dict[str, Json]:
    return {**_short(case), "opened": show_instant(case.at), "by": case.by}


def _customer(customer: str, rows: Sequence[Row]) -> Json:
    items: list[Json] = [
        {"item": row.code, "kind": row.kind, "part": row.part, "certain": row.certain}
        for row in rows[:NAMED_AT_MOST]
    ]
    things = {row.serial or row.code for row in rows if row.kind != "carton"}
    return {"customer": customer, "count": len(things or rows), "items": items}


class Outcome(Protocol):
    """What became of sending a notice."""

    @property
    def arrived(self) -> bool:
        """Whether the receiver has it."""

    @property
    def answer(self) -> str:
        """In a few words; no secret in it."""


def send_due(
    store: KeepsNotices,
    hooks: Sequence[str],
    send: Callable[[Attempt], Outcome],
    clock: Clock,
) -> int:
    """Send what is due, and note what became of it; nothing is locked while it is sent.

    Args:
        store: Where it is written down.
        hooks: Names of those who are told.
        send: Sends one; does not raise.
        clock: For when it was tried.

    Returns:
        How many were tried.
    """
    with store.notice_notes(only_look=True) as notes:
        due = notes.due(hooks, clock())
    for attempt in due:
        outcome = send(attempt)
        now = clock()
        again = next_try(attempt.notice.made_at, attempt.tries + 1, now)
        with store.notice_notes() as notes:
            notes.note(
                attempt,
                now,
                outcome.answer,
                arrived=outcome.arrived,
                next_at=None if outcome.arrived else again,
            )
    return len(due)


def hook_states(store: KeepsNotices) -> list[HookState]:
    """Tell how it goes with each hook that was ever told something, in order of name."""
    with store.notice_notes(only_look=True) as notes:
        return notes.states()
