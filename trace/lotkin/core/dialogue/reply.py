"""What a station is told after each scan."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Reply", "Tone"]


class Tone(StrEnum):
    """How a reply is meant; colour and sound follow it, but never say more than the words."""

    OK = "ok"
    ASK = "ask"
    REFUSED = "refused"
    DONE = "done"


@dataclass(frozen=True, slots=True)
class Reply:
    """An answer to a scan.

    Attributes:
        tone: How it is meant.
        say: What was understood, recorded or refused.
        ask: What is wanted next; "" when nothing is.
    """

    tone: Tone
    say: str
    ask: str = ""

    @classmethod
    def refused(cls, why: str, ask: str = "") -> Reply:
        """Refuse a scan, with the reason."""
        return cls(Tone.REFUSED, why, ask)
