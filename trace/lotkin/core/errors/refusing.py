"""Errors of rules that forbid something."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.errors.root import LotkinError

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = [
    "BadReading",
    "ChildBeforeParent",
    "Circle",
    "CodeTaken",
    "CountNotConfirmed",
    "EventIdReused",
    "NotConfirmed",
    "Refused",
    "RuleBroken",
    "StillInUse",
]


class Refused(LotkinError):
    """A rule forbids it; nothing was recorded."""

    kind = "refused"
    exit_status = 3


class RuleBroken(Refused):
    """An event asked for beforehand breaks a hold, stock or route rule."""

    kind = "rule-broken"

    def __init__(self, rule: str, record: str, message: str, hint: str = "") -> None:
        self.rule = rule
        super().__init__(
            message,
            record=record,
            hint=hint or 'if it has already happened, record it with "reported": true',
        )


class EventIdReused(Refused):
    """The id was used before for an event with other content."""

    kind = "event-id-reused"

    def __init__(self, event_id: str, seq: int) -> None:
        super().__init__(
            f"event id {event_id} was recorded at {seq} with other content",
            record=event_id,
            hint="send a new event with a new id; to correct the old one, send an amend",
        )


class NotConfirmed(Refused):
    """A delivery that raises questions, and nobody has confirmed it."""

    kind = "not-confirmed"

    def __init__(self, record: str, questions: Sequence[str]) -> None:
        self.problems = tuple(questions)
        count = len(questions)
        super().__init__(
            f"{record}: {count} question{'s' if count != 1 else ''} to confirm first",
            record=record,
            hint="correct what was mistyped; `--yes` records it as it is",
        )


class CountNotConfirmed(Refused):
    """A decision on many members, and nobody has confirmed how many they are."""

    kind = "count-not-confirmed"

    def __init__(
        self, case: str, decision: str, codes: Sequence[str], where: Sequence[tuple[str, int]]
    ) -> None:
        self.codes, self.where, self.count = tuple(codes), tuple(where), len(codes)
        at = ", ".join(f"{place} ({count})" for place, count in where[:8])
        super().__init__(
            f"this decides {decision} on {len(codes)} members of {case}"
            + (f", at {at}" if at else "")
            + (" and others" if len(where) > 8 else ""),
            record=case,
            hint=f"confirm the count: {len(codes)}",
        )


class CodeTaken(Refused):
    """The code given to a new item is already in use."""

    kind = "code-taken"

    def __init__(self, code: str) -> None:
        super().__init__(
            f"{code} is already recorded",
            record=code,
            hint="give the new item another code; codes are never used twice",
        )


class Circle(Refused):
    """The links would make an item its own ancestor."""

    kind = "circle"

    def __init__(self, path: Sequence[str]) -> None:
        self.path = tuple(path)
        shown = list(path) if len(path) <= 12 else [*path[:6], "…", *path[-5:]]
        super().__init__(
            f"this would make a circle: {' -> '.join(shown)}",
            record=path[0] if path else "",
            hint="one of these links points the wrong way",
        )


class ChildBeforeParent(Refused):
    """The child would be older than something it is made from."""

    kind = "child-before-parent"

    def __init__(self, child: str, parent: str, child_at: str, parent_at: str) -> None:
        super().__init__(
            f"{child} ({child_at}) would be older than {parent} ({parent_at}) that it is made from",
            record=child,
            hint="correct the time of the event, or the code",
        )


class StillInUse(Refused):
    """An event cannot be voided while something rests on it."""

    kind = "still-in-use"

    def __init__(self, event: str, users: Sequence[str]) -> None:
        super().__init__(
            f"event {event} cannot be voided: in use by {', '.join(users[:8])}"
            + (" …" if len(users) > 8 else ""),
            record=event,
            hint="correct it with an amend instead, or void what uses it first",
        )


class BadReading(Refused):
    """An amendment would leave an event that means nothing."""

    kind = "bad-amendment"

    def __init__(self, event: str, why: str) -> None:
        super().__init__(
            f"event {event} cannot be amended so: {why}",
            record=event,
            hint="`lotkin schema` shows what an event of this kind may say",
        )
