"""Orders of facts: the newest one, and as they happened."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin.core.genealogy.items import Fact

__all__ = ["in_time", "newest"]


def newest(fact: Fact) -> tuple[int, int]:
    """Give what the newest fact is the highest by."""
    return fact.event, fact.ordinal


def in_time(fact: Fact) -> tuple[int, int, int]:
    """Give what facts are ordered by as they happened."""
    return fact.at, fact.event, fact.ordinal
