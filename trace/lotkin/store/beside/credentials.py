"""Reading and writing who may come in."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING

from sqlalchemy import delete, insert, select

from lotkin.core.access.sign_in import Credential, SignedIn, Token
from lotkin.store.beside.access_tables import CredentialRow, SessionRow, TokenRow
from lotkin.store.tables.rows import table_of

if TYPE_CHECKING:
    from sqlalchemy import Connection

__all__ = ["AccessNotes"]

CREDENTIAL, SESSION, TOKEN = map(table_of, (CredentialRow, SessionRow, TokenRow))


class AccessNotes:
    """One transaction on who may come in."""

    def __init__(self, connection: Connection) -> None:
        self.connection = connection

    def credential(self, person: str, kind: str) -> Credential | None:
        """Give the password or PIN of a person."""
        wanted = select(CREDENTIAL).where(CREDENTIAL.c.person == person, CREDENTIAL.c.kind == kind)
        row = self.connection.execute(wanted).first()
        return Credential(**row._mapping) if row is not None else None

    def credentials(self) -> list[Credential]:
        """List all of them."""
        found = self.connection.execute(select(CREDENTIAL).order_by(CREDENTIAL.c.person))
        return [Credential(**row._mapping) for row in found]

    def keep_credential(self, credential: Credential) -> None:
        """Keep one in the place of the one before."""
        same = (CREDENTIAL.c.person == credential.person, CREDENTIAL.c.kind == credential.kind)
        self.connection.execute(delete(CREDENTIAL).where(*same))
        self.connection.execute(insert(CREDENTIAL).values(**asdict(credential)))

    def session(self, token: str) -> SignedIn | None:
        """Give a session by the hash of its token."""
        row = self.connection.execute(select(SESSION).where(SESSION.c.token == token)).first()
        return SignedIn(**row._mapping) if row is not None else None

    def keep_session(self, session: SignedIn) -> None:
        """Keep a session, or that it was seen."""
        self.end_session(session.token)
        self.connection.execute(insert(SESSION).values(**asdict(session)))

    def end_session(self, token: str) -> None:
        """Forget a session."""
        self.connection.execute(delete(SESSION).where(SESSION.c.token == token))

    def end_sessions_of(self, person: str) -> None:
        """Forget all sessions of a person."""
        self.connection.execute(delete(SESSION).where(SESSION.c.person == person))

    def end_sessions_before(self, began: int) -> None:
        """Forget sessions that began before a moment."""
        self.connection.execute(delete(SESSION).where(SESSION.c.began_at < began))

    def token(self, token: str) -> Token | None:
        """Give a machine or station by the hash of what it sends."""
        row = self.connection.execute(select(TOKEN).where(TOKEN.c.token == token)).first()
        return Token(**row._mapping) if row is not None else None

    def tokens(self, kind: str) -> list[Token]:
        """List machines or stations by name."""
        wanted = select(TOKEN).where(TOKEN.c.kind == kind).order_by(TOKEN.c.name)
        return [Token(**row._mapping) for row in self.connection.execute(wanted)]

    def keep_token(self, token: Token) -> None:
        """Let a machine or station in, or note that it came."""
        self.connection.execute(delete(TOKEN).where(TOKEN.c.token == token.token))
        self.connection.execute(insert(TOKEN).values(**asdict(token)))

    def end_token(self, kind: str, name: str) -> bool:
        """Let it in no more; False if there is none of that name."""
        gone = self.connection.execute(
            delete(TOKEN).where(TOKEN.c.kind == kind, TOKEN.c.name == name)
        )
        return gone.rowcount > 0
