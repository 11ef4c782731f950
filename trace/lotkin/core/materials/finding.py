"""What is found when a delivery is looked at: a note, a warning, or a reason to hold it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Finding", "Severity"]


class Severity(StrEnum):
    """How serious a finding is.

    `NOTE` is only told. `WARNING` is to be confirmed by whoever receives. `HOLD` lets the delivery
    in, but on hold, with the finding as the reason.
    """

    NOTE = "note"
    WARNING = "warning"
    HOLD = "hold"


@dataclass(frozen=True, slots=True)
class Finding:
    """Something about a delivery.

    Attributes:
        rule: Stable kebab-case name of what was looked at, e.g. `composition-limit`.
        severity: What follows from it.
        record: What it is about: an element, a property, a document, a code.
        message: What was found, in one line, with the value and the limit.
    """

    rule: str
    severity: Severity
    record: str
    message: str
