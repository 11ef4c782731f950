"""Who may do what: the rights that the roles of the plan give."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.plan import Role

__all__ = ["FREEING", "RIGHTS_OF", "Right", "Who", "right_to_record", "rights_of"]


class Right(StrEnum):
    """One thing that somebody may do."""

    ASK = "ask"
    """Ask any question, see any page of answers, print."""
    WORK = "work"
    """Record what is done at the stations."""
    RECEIVE = "receive"
    """Receive material and keep its certificates."""
    JUDGE = "judge"
    """Open, decide and close cases; correct and void; audits and drills."""
    SPEAK = "speak"
    """Record in the name of people of the plan; for machines at which they show who they are."""
    KEEP = "keep"
    """Load plans, import, enrol stations, give people their ways in, make tokens and webhooks."""


RIGHTS_OF: dict[Role, frozenset[Right]] = {
    "operator": frozenset({Right.ASK, Right.WORK}),
    "receiving": frozenset({Right.ASK, Right.WORK, Right.RECEIVE}),
    "quality": frozenset({Right.ASK, Right.WORK, Right.RECEIVE, Right.JUDGE}),
    "admin": frozenset({Right.ASK, Right.KEEP}),
}
"""An admin keeps the service and judges nothing, unless the plan names both roles."""

_JUDGED = frozenset(
    {"amend", "void", "open-case", "decide", "close-case", "drill", "identify", "seal"}
)
FREEING = frozenset({"amend", "void", "decide", "close-case"})
"""Kinds that can free what is held; reported without the right of quality they change nothing."""
_KEPT = frozenset({"plan", "import", "adopt"})


@dataclass(frozen=True, slots=True)
class Who:
    """Who asks or records, and by which way in.

    Attributes:
        person: Code of the person; of a machine's token, its name.
        name: As shown.
        rights: What they may do.
        station: Code of the place, if it comes from an enrolled station; "" else.
        machine: Whether it is a machine with a token.
    """

    person: str
    name: str
    rights: frozenset[Right]
    station: str = ""
    machine: bool = False

    def may(self, right: Right) -> bool:
        """Tell whether they may."""
        return right in self.rights

    def may_speak_for(self, by: str) -> bool:
        """Tell whether they may record what somebody did: themselves, or others by a right."""
        if by == self.person:
            return True
        return self.may(Right.SPEAK if self.machine else Right.JUDGE)


def rights_of(roles: Iterable[Role]) -> frozenset[Right]:
    """Give the rights of somebody with some roles; none for no role.

    Example:
        >>> sorted(rights_of(["admin"]))
        [<Right.ASK: 'ask'>, <Right.KEEP: 'keep'>]
    """
    found: frozenset[Right] = frozenset()
    for role in roles:
        found |= RIGHTS_OF[role]
    return found


def right_to_record(kind: str) -> Right:
    """Give the right that recording an event of a kind takes.

    Example:
        >>> right_to_record("receive")
        <Right.RECEIVE: 'receive'>
    """
    if kind in _JUDGED:
        return Right.JUDGE
    if kind in _KEPT:
        return Right.KEEP
    return Right.RECEIVE if kind == "receive" else Right.WORK
