"""What coming in asks of whatever remembers who may."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Sequence
    from contextlib import AbstractContextManager

    from lotkin.core.access.sign_in import Credential, SignedIn, Token

__all__ = ["AccessNotes", "Hashes", "KeepsAccess"]


class Hashes(Protocol):
    """Hashes secrets such that guessing them takes long."""

    def hash(self, secret: str) -> str:
        """Give what is kept of a secret."""

    def fits(self, kept: str, secret: str) -> bool:
        """Tell whether a secret is the one; takes as long for a `kept` that is ""."""


class AccessNotes(Protocol):
    """One transaction on who may come in."""

    def credential(self, person: str, kind: str) -> Credential | None:
        """Give the password or PIN of a person."""

    def credentials(self) -> Sequence[Credential]:
        """List all of them."""

    def keep_credential(self, credential: Credential) -> None:
        """Keep one in the place of the one before."""

    def session(self, token: str) -> SignedIn | None:
        """Give a session by the hash of its token."""

    def keep_session(self, session: SignedIn) -> None:
        """Keep a session, or that it was seen."""

    def end_session(self, token: str) -> None:
        """Forget a session."""

    def end_sessions_of(self, person: str) -> None:
        """Forget all sessions of a person."""

    def end_sessions_before(self, began: int) -> None:
        """Forget sessions that began before a moment."""

    def token(self, token: str) -> Token | None:
        """Give a machine or station by the hash of what it sends."""

    def tokens(self, kind: str) -> Sequence[Token]:
        """List machines or stations by name."""

    def keep_token(self, token: Token) -> None:
        """Let a machine or station in, or note that it came."""

    def end_token(self, kind: str, name: str) -> bool:
        """Let it in no more; False if there is none of that name."""


class KeepsAccess(Protocol):
    """A store that remembers who may come in."""

    def access_notes(self, *, only_look: bool = False) -> AbstractContextManager[AccessNotes]:
        """Give a transaction; all of it is kept if the block ends well, else none.

        One that only looks waits for nobody and keeps nothing.
        """
