"""Progress on standard error: only where somebody watches, and only of what takes long."""

from __future__ import annotations

import sys
import time
from typing import TYPE_CHECKING, Self

if TYPE_CHECKING:
    from types import TracebackType

__all__ = ["Progress"]

QUIET_SECONDS = 1.0
BETWEEN_SECONDS = 0.1
ERASE_LINE = "\r\x1b[K"


class Progress:
    """A line that counts up and is gone at the end.

    Attributes:
        doing: What is being done, e.g. `events replayed`.
    """

    def __init__(self, doing: str) -> None:
        self.doing = doing
        self._is_watched = sys.stderr.isatty()
        self._next = time.monotonic() + QUIET_SECONDS
        self._shown = False

    def __call__(self, count: int, total: int = 0) -> None:
        """Show how much is done; `total` is 0 where nobody knows it."""
        now = time.monotonic()
        if not self._is_watched or now < self._next:
            return
        self._next = now + BETWEEN_SECONDS
        self._shown = True
        of = f" of {total}" if total else ""
        sys.stderr.write(f"{ERASE_LINE}{count}{of} {self.doing}")
        sys.stderr.flush()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        where: TracebackType | None,
    ) -> None:
        if self._shown:
            sys.stderr.write(ERASE_LINE)
            sys.stderr.flush()
