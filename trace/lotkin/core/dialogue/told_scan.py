"""A scan and what was said to it, as it is kept."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["ToldScan"]


@dataclass(frozen=True, slots=True)
class ToldScan:
    """A scan with what was said to it.

    Attributes:
        id: Chosen by the device; the same scan sent twice is taken once.
        station: Which station; a place can have several.
        place: Code of the place.
        person: Code of who scanned.
        text: What was scanned or typed.
        at: When, microseconds UTC.
        received_at: When it arrived here.
        late: It waited on the device while this service could not be reached.
        tone, say, ask: The reply.
        needs_look: A late scan that led nowhere; somebody is to look at it.
        seen_by: Who did.
    """

    id: str
    station: str
    place: str
    person: str
    text: str
    at: int
    received_at: int
    late: bool
    tone: str
    say: str
    ask: str
    needs_look: bool = False
    seen_by: str = ""
