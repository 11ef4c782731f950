"""How often somebody may try to come in."""

from __future__ import annotations

import math
import time

from limits import RateLimitItem, parse
from limits.storage import MemoryStorage
from limits.strategies import MovingWindowRateLimiter

from lotkin.core.errors import TooManyTries

__all__ = ["Tries"]

PER_ADDRESS = parse("30 per 5 minutes")
"""A works shares one address, so it must bear a shift that signs in."""

PER_PERSON = parse("8 per 5 minutes")


class Tries:
    """Counts tries that failed, by address and by person."""

    def __init__(self) -> None:
        self._counted = MovingWindowRateLimiter(MemoryStorage())

    def check(self, address: str, person: str) -> None:
        """Refuse a try where too many have failed.

        Raises:
            TooManyTries: They have.
        """
        for limit, key in ((PER_ADDRESS, address), (PER_PERSON, f"person {person}")):
            if not self._counted.test(limit, key):
                raise TooManyTries(self._wait(limit, key))

    def count(self, address: str, person: str) -> None:
        """Count a try that failed.

        Raises:
            TooManyTries: It was one too many.
        """
        self.check(address, person)
        self._counted.hit(PER_ADDRESS, address)
        self._counted.hit(PER_PERSON, f"person {person}")

    def _wait(self, limit: RateLimitItem, key: str) -> int:
        free_at = self._counted.get_window_stats(limit, key).reset_time
        return max(1, math.ceil(free_at - time.time()))
