"""What is kept of those who come in, and the rules on their passwords, PINs and sessions."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from lotkin.core.errors import WeakSecret

__all__ = [
    "ADMIN",
    "Credential",
    "Secret",
    "SignedIn",
    "Token",
    "TokenKind",
    "check_password",
    "check_pin",
    "is_over",
]

ADMIN = "admin"
"""The person who keeps the service before the plan names any; of no plan."""

HOUR_US = 3_600_000_000
DESK_IDLE_US, DESK_US = 8 * HOUR_US, 7 * 24 * HOUR_US
STATION_IDLE_US, STATION_US = HOUR_US, 12 * HOUR_US
"""A shift ends; a tablet left alone does not stay somebody's."""

SHORTEST_PASSWORD, LONGEST_PASSWORD = 15, 256
"""A password that stands alone has at least 15 characters and no rule on which ones.
Source: NIST SP 800-63B-4, 3.1.1.2, from memory."""

SHORTEST_PIN, LONGEST_PIN = 4, 12
"""A PIN works only with a badge at an enrolled station. Four digits: common practice, no source."""

EASY_PINS = frozenset(
    {"1234", "4321", "12345", "54321", "123456", "654321", "12345678", "2580", "1212"}
)


class Secret(StrEnum):
    """What somebody proves with who they are."""

    PASSWORD = "password"
    PIN = "pin"


class TokenKind(StrEnum):
    """What shows a token."""

    MACHINE = "machine"
    STATION = "station"


@dataclass(frozen=True, slots=True)
class Credential:
    """A password or PIN, as Argon2 leaves it; `once`: it must be changed at the next sign-in."""

    person: str
    kind: str
    hash: str
    once: bool
    at: int


@dataclass(frozen=True, slots=True)
class SignedIn:
    """Somebody signed in.

    Attributes:
        token: SHA-256 of what their browser sends.
        person: Code of the person.
        place: Code of the station where they came in; "" at a desk.
        csrf: What forms and scripts of this session must send.
        began_at, seen_at: Microseconds UTC.
    """

    token: str
    person: str
    place: str
    csrf: str
    began_at: int
    seen_at: int


@dataclass(frozen=True, slots=True)
class Token:
    """A machine or a station that may come in.

    Attributes:
        token: SHA-256 of what it sends.
        kind: Of `TokenKind`.
        name: As its keeper called it.
        about: The rights of a machine, with blanks between; the place of a station.
        by: Who let it in.
        at, used_at: Microseconds UTC; 0 for never used.
    """

    token: str
    kind: str
    name: str
    about: str
    by: str
    at: int
    used_at: int = 0


def is_over(session: SignedIn, now: int) -> bool:
    """Tell whether a session has ended by the clock."""
    idle, whole = (STATION_IDLE_US, STATION_US) if session.place else (DESK_IDLE_US, DESK_US)
    return now - session.seen_at > idle or now - session.began_at > whole


def check_password(text: str, person: str) -> None:
    """Refuse a password that is too short, too long, or the person's own code again and again.

    Raises:
        WeakSecret: It is.
    """
    if not SHORTEST_PASSWORD <= len(text) <= LONGEST_PASSWORD:
        raise WeakSecret(
            f"a password has {SHORTEST_PASSWORD} to {LONGEST_PASSWORD} characters",
            "take some words that do not belong together",
        )
    if len(set(text.casefold())) < 5 or text.casefold().replace(person.casefold(), "") == "":
        raise WeakSecret("this password is too easy", "take some words that do not belong together")


def check_pin(text: str) -> None:
    """Refuse what is no PIN, or one that everybody tries first.

    Raises:
        WeakSecret: It is.
    """
    if not (text.isascii() and text.isdigit() and SHORTEST_PIN <= len(text) <= LONGEST_PIN):
        raise WeakSecret(f"a PIN has {SHORTEST_PIN} to {LONGEST_PIN} digits", "take digits only")
    if len(set(text)) == 1 or text in EASY_PINS:
        raise WeakSecret("this PIN is too easy", "take one that nobody would try first")
