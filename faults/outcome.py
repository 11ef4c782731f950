"""What came of a number of faults of one kind."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Outcome"]


@dataclass(frozen=True, slots=True)
class Outcome:
    """A row of the page of faults.

    Attributes:
        fault: What was done.
        times: How often.
        noticed: How often it was told with an error, or by verifying.
        harmless: How often everything was as before all the same.
        failures: What must never happen: something lost, doubled, or wrong without being told.
        note: What else is worth knowing.
    """

    fault: str
    times: int
    noticed: int
    harmless: int
    failures: int
    note: str = ""
