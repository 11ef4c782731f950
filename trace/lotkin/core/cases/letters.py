"""What is told to other programs of a case, and when a telling that failed is tried again."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "CASE_OPENED",
    "NOTICE_KINDS",
    "SHIPPED_MEMBER_FOUND",
    "Attempt",
    "HookState",
    "Notice",
    "next_try",
]

CASE_OPENED = "case.opened"
SHIPPED_MEMBER_FOUND = "case.shipped-member-found"
NOTICE_KINDS = (CASE_OPENED, SHIPPED_MEMBER_FOUND)

SECOND = 1_000_000
WAITS_S = (10, 60, 300, 1_800, 7_200)
LATER_S = 21_600
GIVEN_UP_AFTER_S = 7 * 86_400


@dataclass(frozen=True, slots=True)
class Notice:
    """Something that other programs are told.

    Attributes:
        id: A UUID; whoever is told twice knows it by this.
        kind: One of `NOTICE_KINDS`.
        case: Code of the case.
        body: JSON, as it is sent and signed.
        made_at: Microseconds UTC.
    """

    id: str
    kind: str
    case: str
    body: str
    made_at: int


@dataclass(frozen=True, slots=True)
class Attempt:
    """A notice on its way to a hook.

    Attributes:
        notice: What is told.
        hook: Name of who is told.
        tries: How often it was tried before.
    """

    notice: Notice
    hook: str
    tries: int


@dataclass(frozen=True, slots=True)
class HookState:
    """How telling a hook goes.

    Attributes:
        hook: Its name.
        told: Notices that arrived.
        waiting: Notices on their way.
        given_up: Notices that never arrived.
        last_answer: What became of the last try; "" if there was none.
    """

    hook: str
    told: int
    waiting: int
    given_up: int
    last_answer: str


def next_try(made_at: int, tries: int, now: int) -> int | None:
    """Tell when to try again after the try number `tries` failed.

    Soon at first, then every six hours; a receiver that was away over a weekend still hears of it.

    Returns:
        Microseconds UTC; None to give it up, a week after it was made.

    >>> next_try(0, 1, 0), next_try(0, 2, 0), next_try(0, 1, 8 * 86_400 * 1_000_000)
    (10000000, 60000000, None)
    """
    wait = WAITS_S[tries - 1] if tries <= len(WAITS_S) else LATER_S
    then = now + wait * SECOND
    return then if then - made_at <= GIVEN_UP_AFTER_S * SECOND else None
