"""What stops somebody at the door."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from lotkin.core.errors import LotkinError

if TYPE_CHECKING:
    from lotkin.core.access import Right, Who

__all__ = ["Forbidden", "NotAllowed", "NotSignedIn"]


class NotSignedIn(LotkinError):
    """A request that nobody stands behind."""

    kind: ClassVar[str] = "not-signed-in"

    def __init__(self) -> None:
        super().__init__("nobody is signed in", hint="sign in, or send a token")


class Forbidden(LotkinError):
    """Somebody is known and may not do this."""

    kind: ClassVar[str] = "forbidden"


class NotAllowed(Forbidden):
    """Somebody lacks a right."""

    kind: ClassVar[str] = "not-allowed"

    def __init__(self, who: Who, right: Right) -> None:
        super().__init__(
            f"{who.name} may not {right.value} here",
            record=who.person,
            hint="ask somebody whose role in the plan gives that right",
        )
