"""Coming in to the service: people by password or PIN, machines and stations by tokens."""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import replace
from typing import TYPE_CHECKING

from lotkin.core.access.rights import Right, Who, rights_of
from lotkin.core.access.sign_in import (
    ADMIN,
    Credential,
    Secret,
    SignedIn,
    Token,
    TokenKind,
    check_password,
    check_pin,
    is_over,
)
from lotkin.core.errors import NotFound, WrongSecret
from lotkin.core.rules.known_otherwise import not_in_plan

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from lotkin.core.plan import ShopPlan
    from lotkin.uses.access.ports import Hashes, KeepsAccess
    from lotkin.uses.ports import Clock

__all__ = ["SignIn"]

SEEN_AGAIN_US = 60_000_000
"""A session is noted as seen once a minute at most."""

ADMIN_RIGHTS = frozenset({Right.ASK, Right.KEEP})


def _digest(token: str) -> str:
    """Hash a random token: it has 256 bits, so a plain hash is enough."""
    return hashlib.sha256(token.encode()).hexdigest()


class SignIn:
    """Lets people, machines and stations in.

    Args:
        store: Remembers who may.
        hashes: Hashes passwords and PINs.
        plan: Gives the plan in force, for roles and places.
        clock: Tells the time.
    """

    def __init__(
        self,
        store: KeepsAccess,
        hashes: Hashes,
        plan: Callable[[], ShopPlan | None],
        clock: Clock,
    ) -> None:
        self.store, self.hashes, self.plan, self.clock = store, hashes, plan, clock

    # --- people

    def person(self, code: str, place: str = "") -> Who | None:
        """Give somebody as the plan has them now; None for nobody of the plan."""
        if code == ADMIN:
            return Who(ADMIN, "Administrator", ADMIN_RIGHTS, place)
        plan = self.plan()
        found = plan.person(code) if plan is not None else None
        if found is None:
            return None
        return Who(found.code, found.name, rights_of(found.roles), place)

    def by_secret(self, code: str, secret: str, *, place: str = "") -> tuple[str, SignedIn]:
        """Let somebody in by password, or at a station by PIN.

        Args:
            code: Of the person.
            secret: Password; PIN where a place is given.
            place: Of an enrolled station.

        Returns:
            The token for the browser, and the session; `must_change` tells of what was given once.

        Raises:
            WrongSecret: Person or secret is wrong; it is not said which.
        """
        kind = Secret.PIN if place else Secret.PASSWORD
        with self.store.access_notes(only_look=True) as notes:
            known = notes.credential(code, kind)
        # hashed whether the person is known or not: the time tells nothing
        fits = self.hashes.fits(known.hash if known is not None else "", secret)
        if known is None or not fits or self.person(code, place) is None:
            raise WrongSecret
        return self._begin(code, place)

    def _begin(self, person: str, place: str) -> tuple[str, SignedIn]:
        token, now = secrets.token_urlsafe(32), self.clock()
        session = SignedIn(_digest(token), person, place, secrets.token_urlsafe(24), now, now)
        with self.store.access_notes() as notes:
            notes.end_sessions_before(now - 31 * 24 * 3_600_000_000)
            notes.keep_session(session)
        return token, session

    def session(self, token: str) -> tuple[Who, SignedIn] | None:
        """Tell who a browser's token stands for; None for nobody any more."""
        now = self.clock()
        with self.store.access_notes(only_look=True) as notes:
            session = notes.session(_digest(token))
        if session is None:
            return None
        who = self.person(session.person, session.place)
        if who is None or is_over(session, now):
            self.leave(token)
            return None
        if now - session.seen_at > SEEN_AGAIN_US:
            with self.store.access_notes() as notes:
                notes.keep_session(replace(session, seen_at=now))
        return who, session

    def leave(self, token: str) -> None:
        """End a session."""
        with self.store.access_notes() as notes:
            notes.end_session(_digest(token))

    def must_change(self, person: str) -> bool:
        """Tell whether somebody's password was given to them for one sign-in."""
        with self.store.access_notes(only_look=True) as notes:
            known = notes.credential(person, Secret.PASSWORD)
        return known is not None and known.once

    def change_password(self, person: str, old: str, new: str) -> None:
        """Let somebody change their password; all their sessions end.

        Raises:
            WrongSecret: The old one is wrong.
            WeakSecret: The new one is too easy.
        """
        with self.store.access_notes(only_look=True) as notes:
            known = notes.credential(person, Secret.PASSWORD)
        if not self.hashes.fits(known.hash if known is not None else "", old):
            raise WrongSecret
        check_password(new, person)
        self._keep(person, Secret.PASSWORD, new, once=False)

    def give_password(self, person: str) -> str:
        """Give somebody a password for one sign-in, at which it must be changed.

        Raises:
            UnknownCode: The plan has no such person.
        """
        self._known(person)
        password = "-".join(secrets.token_hex(3) for _ in range(4))
        self._keep(person, Secret.PASSWORD, password, once=True)
        return password

    def give_pin(self, person: str, pin: str) -> None:
        """Give somebody a PIN for stations.

        Raises:
            UnknownCode: The plan has no such person.
            WeakSecret: It is none, or too easy.
        """
        self._known(person)
        check_pin(pin)
        self._keep(person, Secret.PIN, pin, once=False)

    def _known(self, person: str) -> None:
        if self.person(person) is None:
            plan = self.plan()
            people = [each.code for each in plan.people] if plan is not None else []
            raise not_in_plan(person, "person", people, plan)

    def _keep(self, person: str, kind: Secret, secret: str, *, once: bool) -> None:
        kept = Credential(person, kind, self.hashes.hash(secret), once, self.clock())
        with self.store.access_notes() as notes:
            notes.keep_credential(kept)
            notes.end_sessions_of(person)

    def first_password(self) -> str:
        """Make the admin with a password for one sign-in; "" if there is one already."""
        with self.store.access_notes(only_look=True) as notes:
            if notes.credential(ADMIN, Secret.PASSWORD) is not None:
                return ""
        return self.give_password(ADMIN)

    def ways_in(self) -> dict[str, set[str]]:
        """Map people to the kinds of secrets that they have."""
        found: dict[str, set[str]] = {}
        with self.store.access_notes(only_look=True) as notes:
            for each in notes.credentials():
                found.setdefault(each.person, set()).add(each.kind)
        return found

    # --- machines and stations

    def let_machine_in(self, name: str, rights: Iterable[Right], by: str) -> str:
        """Make a token for a machine; it is shown once."""
        return self._let_in(TokenKind.MACHINE, name, " ".join(sorted(rights)), by)

    def enrol_station(self, name: str, place: str, by: str) -> str:
        """Enrol a device for a place; give what it shows from then on.

        Raises:
            UnknownCode: The plan has no such place.
        """
        plan = self.plan()
        if plan is None or plan.place(place) is None:
            raise not_in_plan(place, "place", plan.places() if plan is not None else (), plan)
        return self._let_in(TokenKind.STATION, name, place, by)

    def _let_in(self, kind: TokenKind, name: str, about: str, by: str) -> str:
        token = secrets.token_urlsafe(32)
        with self.store.access_notes() as notes:
            notes.end_token(kind, name)
            notes.keep_token(Token(_digest(token), kind, name, about, by, self.clock()))
        return token

    def machine(self, token: str) -> Who | None:
        """Tell which machine a token stands for."""
        found = self._token(TokenKind.MACHINE, token)
        if found is None:
            return None
        rights = frozenset(Right(each) for each in found.about.split())
        return Who(found.name, found.name, rights, machine=True)

    def station(self, token: str) -> str:
        """Tell at which place an enrolled device stands; "" for none."""
        found = self._token(TokenKind.STATION, token)
        plan = self.plan()
        if found is None or plan is None or plan.place(found.about) is None:
            return ""
        return found.about

    def _token(self, kind: TokenKind, token: str) -> Token | None:
        now = self.clock()
        with self.store.access_notes(only_look=True) as notes:
            found = notes.token(_digest(token))
        if found is None or found.kind != kind:
            return None
        if now - found.used_at > SEEN_AGAIN_US:
            with self.store.access_notes() as notes:
                notes.keep_token(replace(found, used_at=now))
        return found

    def tokens(self, kind: TokenKind) -> Sequence[Token]:
        """List machines or stations by name."""
        with self.store.access_notes(only_look=True) as notes:
            return notes.tokens(kind)

    def shut_out(self, kind: TokenKind, name: str) -> None:
        """Let a machine or a station in no more.

        Raises:
            NotFound: There is none of that name.
        """
        with self.store.access_notes() as notes:
            if notes.end_token(kind, name):
                return
        raise NotFound(f"there is no {kind} {name}", record=name, hint="look at the list")
