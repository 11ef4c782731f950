"""What a check finds, and from when on something counts as overdue."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["US_PER_DAY", "Gap", "Limits", "days_between"]

US_PER_DAY = 86_400_000_000


@dataclass(frozen=True, slots=True)
class Gap:
    """Something that the record lacks, or that does not hold together.

    Attributes:
        kind: Stable kebab-case name.
        record: Code, or number of an event, that it is about.
        message: What is wrong, in words.
        mend: How to mend it.
        at: Microseconds UTC when it came about; None if that is not known.
        event: Number of the event that it comes from; 0 for none.
    """

    kind: str
    record: str
    message: str
    mend: str
    at: int | None = None
    event: int = 0


@dataclass(frozen=True, slots=True)
class Limits:
    """Days after which something is overdue.

    Common practice, no source: every works sets its own.

    Attributes:
        stale: Stock that nobody touched.
        outside: Pieces at an outside service.
        held: Holds that nobody decided on.
        unfinished: Travellers without a finished lot, and resources without a use.
        due: Days ahead that a due date counts as near.
    """

    stale: int = 180
    outside: int = 30
    held: int = 30
    unfinished: int = 30
    due: int = 14


def days_between(earlier: int, later: int) -> int:
    """Give the whole days between two moments in microseconds."""
    return (later - earlier) // US_PER_DAY
