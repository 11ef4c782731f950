"""Errors of those who come in, or may not do something there."""

from __future__ import annotations

from lotkin.core.errors.malformed import Invalid
from lotkin.core.errors.root import LotkinError

__all__ = [
    "Barred",
    "NotAllowed",
    "NotSignedIn",
    "StaleForm",
    "TooManyTries",
    "WeakSecret",
    "WrongSecret",
]


class Barred(LotkinError):
    """Whoever asks is not let in, or may not do this."""

    kind = "barred"
    exit_status = 3


class NotSignedIn(Barred):
    """Nobody stands behind a request."""

    kind = "not-signed-in"

    def __init__(self) -> None:
        super().__init__("nobody is signed in", hint="sign in, or send a token")


class WrongSecret(Barred):
    """A sign-in failed; it is not said whether for the person or for the secret."""

    kind = "wrong-secret"

    def __init__(self) -> None:
        super().__init__("that is not right", hint="try again, or ask who keeps the service")


class TooManyTries(Barred):
    """Too many sign-ins failed, from one address or for one person."""

    kind = "too-many-tries"

    def __init__(self, seconds: int) -> None:
        self.seconds = seconds
        super().__init__("too many tries", hint=f"wait {seconds} s")


class StaleForm(Barred):
    """A form or a script does not send what its session gave it, or comes from elsewhere."""

    kind = "stale-form"

    def __init__(self) -> None:
        super().__init__("this page is out of date", hint="load it again, then repeat")


class NotAllowed(Barred):
    """Somebody lacks a right."""

    kind = "not-allowed"

    def __init__(self, name: str, doing: str, hint: str = "") -> None:
        super().__init__(
            f"{name} may not {doing}",
            record=name,
            hint=hint or "ask somebody whose role in the plan gives that right",
        )


class WeakSecret(Invalid):
    """A password or PIN that others would guess."""

    kind = "weak-secret"

    def __init__(self, why: str, hint: str) -> None:
        super().__init__(why, hint=hint)
