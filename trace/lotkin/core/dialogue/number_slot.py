"""A number that is asked for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decimal import Decimal

__all__ = ["NumberSlot"]


@dataclass(frozen=True, slots=True)
class NumberSlot:
    """A number that a work needs.

    Attributes:
        key: Its name.
        prompt: The question.
        proposal: What an empty line accepts.
        most: More than that is asked about once; None if nothing is known.
        why: What is said then.
        low, high: Limits of a reading; far outside of them is asked about once.
    """

    key: str
    prompt: str
    proposal: Decimal | None = None
    most: Decimal | None = None
    why: str = ""
    low: Decimal | None = None
    high: Decimal | None = None
