"""How often somebody may try to come in."""

from __future__ import annotations

import math
import time
from collections import Counter
from contextlib import contextmanager
from threading import Lock
from typing import TYPE_CHECKING

from limits import RateLimitItem, parse
from limits.storage import MemoryStorage
from limits.strategies import MovingWindowRateLimiter

from lotkin.core.errors import TooManyTries, WrongSecret

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["Tries"]

PER_ADDRESS = parse("30 per 5 minutes")
"""A works shares one address, so it must bear a shift that signs in."""

PER_PERSON = parse("8 per 5 minutes")

AT_ONCE = 60
"""Tries that wait for their turn, from wherever they come; looking at one takes a while."""


class Tries:
    """Counts tries that failed, by address and by person, and those that are being looked at.

    A try counts from before its secret is looked at: many at once are no way past a limit.
    """

    def __init__(self) -> None:
        self._counted = MovingWindowRateLimiter(MemoryStorage())
        self._lock = Lock()
        self._open: Counter[str] = Counter()

    @contextmanager
    def trying(self, address: str, person: str) -> Iterator[None]:
        """Count a try while it is looked at, and for good if the secret is wrong.

        Raises:
            TooManyTries: Too many have failed, or may yet.
        """
        keys = ((PER_ADDRESS, address), (PER_PERSON, f"person {person}"))
        with self._lock:
            for limit, key in keys:
                self._check(limit, key)
            if self._open.total() >= AT_ONCE * len(keys):
                raise TooManyTries(1)
            self._open.update(key for _, key in keys)
        try:
            yield
        except WrongSecret:
            for limit, key in keys:
                self._counted.hit(limit, key)
            raise
        finally:
            with self._lock:
                self._open.subtract(key for _, key in keys)
                self._open += Counter()

    def count_token(self, address: str) -> None:
        """Count a wrong token; it stands in the way of nobody at another address.

        Raises:
            TooManyTries: It was one too many.
        """
        key = f"token {address}"
        if not self._counted.hit(PER_ADDRESS, key):
            raise TooManyTries(self._wait(PER_ADDRESS, key))

    def _check(self, limit: RateLimitItem, key: str) -> None:
        left = self._counted.get_window_stats(limit, key).remaining
        if left <= 0:
            raise TooManyTries(self._wait(limit, key))
        if left <= self._open[key]:
            raise TooManyTries(1)

    def _wait(self, limit: RateLimitItem, key: str) -> int:
        free_at = self._counted.get_window_stats(limit, key).reset_time
        return max(1, math.ceil(free_at - time.time()))
