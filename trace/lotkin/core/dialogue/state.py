"""What a station's session remembers from one scan to the next."""

from __future__ import annotations

from dataclasses import dataclass, field

__all__ = ["SessionState"]


@dataclass(frozen=True, slots=True)
class SessionState:
    """Everything that a session must remember.

    Attributes:
        number: Identity of the work in hand; the next one's follows from it.
        person: Code of who is at the station; "" for nobody.
        began: Code of who began the work in hand.
        owner: Code of who has it in hand: who began it, or took it over.
        claim: Code of a badge that was shown where signing in needs more than a badge.
        scans: What was taken for the work in hand: (text, microseconds UTC).
        doubted: What was asked about as odd; the same text once more says that it is so.
        doubted_at: When, microseconds UTC.
        reported: Whether the work in hand has already happened, whatever rule it broke.
        remark: What the record is to say of how the work in hand was told; "" for nothing.
        last: Ids of the events recorded last, for UNDO.
        last_said: What they were.
        started: Traveller step -> microseconds UTC when it was started.
        last_rig: Test rig used last.
        resources: "PART/step" -> machines, tools and the like used last for it.
    """

    number: str
    person: str = ""
    began: str = ""
    owner: str = ""
    claim: str = ""
    scans: tuple[tuple[str, int], ...] = ()
    doubted: str = ""
    doubted_at: int = 0
    reported: bool = False
    remark: str = ""
    last: tuple[str, ...] = ()
    last_said: str = ""
    started: dict[str, int] = field(default_factory=dict)
    last_rig: str = ""
    resources: dict[str, tuple[str, ...]] = field(default_factory=dict)
