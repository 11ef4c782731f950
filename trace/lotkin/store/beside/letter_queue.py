"""Reading and writing what other programs are told."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING

from sqlalchemy import case, func, insert, select, update

from lotkin.core.cases.letters import Attempt, HookState, Notice
from lotkin.store.beside.letter_tables import DeliveryRow, NoticeRow, ToldMemberRow
from lotkin.store.tables.rows import table_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from sqlalchemy import Connection

__all__ = ["NoticeNotes"]

NOTICE, DELIVERY, TOLD = map(table_of, (NoticeRow, DeliveryRow, ToldMemberRow))


class NoticeNotes:
    """One transaction on what other programs are told."""

    def __init__(self, connection: Connection) -> None:
        self.connection = connection

    def cases_told(self, kind: str) -> set[str]:
        """List the cases of which there is a notice of a kind."""
        wanted = select(NOTICE.c.about).where(NOTICE.c.kind == kind).distinct()
        return {str(row[0]) for row in self.connection.execute(wanted)}

    def members_told(self, code: str) -> set[tuple[str, str]]:
        """List (customer, item) of the members of a case that were told."""
        wanted = select(TOLD.c.customer, TOLD.c.item).where(TOLD.c.about == code)
        return {(str(row[0]), str(row[1])) for row in self.connection.execute(wanted)}

    def keep_notice(
        self,
        notice: Notice,
        hooks: Iterable[str],
        members: Sequence[tuple[str, str]] = (),
    ) -> None:
        """Keep a notice for some hooks, and which (customer, item) it tells."""
        row = asdict(notice)
        self.connection.execute(insert(NOTICE).values(about=row.pop("case"), **row))
        for hook in hooks:
            values = {"notice": notice.id, "hook": hook, "tries": 0, "answer": ""}
            self.connection.execute(insert(DELIVERY).values(next_at=notice.made_at, **values))
        if members:
            rows = [{"about": notice.case, "customer": c, "item": i} for c, i in members]
            self.connection.execute(insert(TOLD), rows)

    def due(self, hooks: Sequence[str], now: int, most: int = 50) -> list[Attempt]:
        """List what is to be told to some hooks by now, the oldest first."""
        wanted = (
            select(NOTICE, DELIVERY.c.hook, DELIVERY.c.tries)
            .join_from(DELIVERY, NOTICE, NOTICE.c.id == DELIVERY.c.notice)
            .where(DELIVERY.c.next_at <= now, DELIVERY.c.hook.in_(hooks))
            .order_by(DELIVERY.c.next_at, NOTICE.c.id)
            .limit(most)
        )
        return [
            Attempt(Notice(r.id, r.kind, r.about, r.body, r.made_at), r.hook, r.tries)
            for r in self.connection.execute(wanted)
        ]

    def note(
        self, attempt: Attempt, now: int, answer: str, *, arrived: bool, next_at: int | None
    ) -> None:
        """Note what became of a try."""
        self.connection.execute(
            update(DELIVERY)
            .where(DELIVERY.c.notice == attempt.notice.id, DELIVERY.c.hook == attempt.hook)
            .values(
                tries=attempt.tries + 1,
                tried_at=now,
                answer=answer,
                arrived_at=now if arrived else None,
                next_at=next_at,
            )
        )

    def states(self) -> list[HookState]:
        """Tell how it goes with each hook, in order of name."""

        def count(condition: object) -> object:
            return func.sum(case((condition, 1), else_=0))  # type: ignore[arg-type]

        arrived, waits = DELIVERY.c.arrived_at.is_not(None), DELIVERY.c.next_at.is_not(None)
        counted = select(
            DELIVERY.c.hook,
            count(arrived),  # type: ignore[call-overload]
            count(waits),
            count(~arrived & ~waits),
        ).group_by(DELIVERY.c.hook)
        return [
            HookState(str(hook), int(told), int(waiting), int(lost), self._last(str(hook)))
            for hook, told, waiting, lost in self.connection.execute(
                counted.order_by(DELIVERY.c.hook)
            )
        ]

    def _last(self, hook: str) -> str:
        wanted = (
            select(DELIVERY.c.answer)
            .where(DELIVERY.c.hook == hook, DELIVERY.c.tried_at.is_not(None))
            .order_by(DELIVERY.c.tried_at.desc())
            .limit(1)
        )
        return str(self.connection.execute(wanted).scalar() or "")
