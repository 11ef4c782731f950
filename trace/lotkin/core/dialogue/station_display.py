"""What a station has in hand, for a page that shows more than the last reply."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

__all__ = ["Hand", "Want"]


class Want(StrEnum):
    """What a station waits for."""

    BADGE = "badge"
    SCAN = "scan"
    NUMBER = "number"
    CHOICE = "choice"
    CONFIRM = "confirm"


@dataclass(frozen=True, slots=True)
class Hand:
    """Who is at a station, with which work, waiting for what.

    Attributes:
        person: Code of who works here; "" for nobody.
        title: What kind of work is in hand; "" for none.
        about: What it is about, as its first scan says.
        scans: What was taken for it, in order.
        wants: What comes next.
        ask: The same in words.
        choices: Cards that answer the question, or that may be scanned as well.
        proposal: A number that an empty line accepts.
        cautions: What the plan warns of in this work.
        reported: It has happened already, whatever rule it broke.
        can_undo: Something was recorded here last that can be taken back.
        claim: Code of whose badge was scanned and whose PIN is wanted; "" for nobody.
        claim_name: The same as people know them.
        counter: Of what is written down of the station; it counts up with every change.
    """

    person: str
    title: str
    about: str
    scans: tuple[str, ...]
    wants: Want
    ask: str
    choices: tuple[str, ...] = ()
    proposal: Decimal | None = None
    cautions: tuple[str, ...] = ()
    reported: bool = False
    can_undo: bool = False
    claim: str = ""
    claim_name: str = ""
    counter: int = 0
