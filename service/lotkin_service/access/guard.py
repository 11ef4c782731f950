"""The guard before each route: who asks, and whether they may."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

from fastapi import Depends, Request

from lotkin.core.access.rights import Right, Who
from lotkin.core.errors import NotAllowed, NotSignedIn

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["Asker", "Judge", "Keeper", "Receiver", "Worker", "needs", "who_if_any", "who_is"]


def who_is(request: Request) -> Who:
    """Tell who sent a request, as the sign-in found it.

    Raises:
        NotSignedIn: Nobody did.
    """
    who: Who | None = getattr(request.state, "who", None)
    if who is None:
        raise NotSignedIn
    return who


def who_if_any(request: Request) -> Who | None:
    """Tell who sent a request; None for nobody."""
    who: Who | None = getattr(request.state, "who", None)
    return who


def needs(right: Right) -> Callable[..., Any]:
    """Make a dependency that lets only those through who have a right, and says who they are."""

    def check(who: Annotated[Who, Depends(who_is)]) -> Who:
        if not who.may(right):
            raise NotAllowed(who.name, right.value)
        return who

    check.__doc__ = f"needs the right to {right.value}"
    return check


Asker = Annotated[Who, Depends(needs(Right.ASK))]
Worker = Annotated[Who, Depends(needs(Right.WORK))]
Receiver = Annotated[Who, Depends(needs(Right.RECEIVE))]
Judge = Annotated[Who, Depends(needs(Right.JUDGE))]
Keeper = Annotated[Who, Depends(needs(Right.KEEP))]
