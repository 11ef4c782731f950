"""What the audit found: worked out beside the answering, kept with the record that it is of."""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.audit import Limits
from lotkin.uses.asking.audit import audit

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin.uses.asking.audit import Audit
    from lotkin.uses.evidence.named_documents import GivesDocuments
    from lotkin.uses.ports import CanRead

__all__ = ["Findings", "Kept"]

EVERY_S = 15.0
RESTS = 10
"""It rests ten times as long as it worked: stations come first."""

OLDEST_US = 3_600_000_000
"""Days pass without a record: what is overdue is looked at anew once an hour."""


@dataclass(frozen=True, slots=True)
class Kept:
    """What was found, and when.

    Attributes:
        found: The audit; `found.as_of` is the number of the last record that it has seen.
        made_at: Microseconds UTC, from before it began.
    """

    found: Audit
    made_at: int


class Findings:
    """The audit's findings as they were last worked out.

    Attributes:
        kept: None before they were worked out for the first time.
        failed: Whether the last attempt did; `kept` is then of the one before.
        is_asked: Whether somebody waits for them to be worked out anew.
        is_working: Whether they are being worked out.
        hurry: Has the work begin at once.
    """

    def __init__(self, store: CanRead, documents: GivesDocuments, clock: Callable[[], int]) -> None:
        self._store, self._documents, self._clock = store, documents, clock
        self.kept: Kept | None = None
        self.failed = self.is_asked = self.is_working = False
        self.hurry: Callable[[], None] = lambda: None

    def ask_anew(self) -> None:
        """Have them worked out anew."""
        self.is_asked = True
        self.hurry()

    def head(self) -> int:
        """Give the number of the last record there is."""
        with self._store.reading() as view:
            return view.journal_head()[0]

    def round(self) -> float:
        """Work them out if anything may have changed; gives the seconds to rest."""
        began, now, kept = time.monotonic(), self._clock(), self.kept
        is_new = kept is not None and kept.found.as_of == self.head()
        if kept is None or not is_new or self.is_asked or now - kept.made_at > OLDEST_US:
            self.is_asked, self.is_working, self.failed = False, True, True
            try:
                self.kept = Kept(audit(self._store, self._documents, now, Limits()), now)
                self.failed = False
            finally:
                self.is_working = False
        return max(EVERY_S, RESTS * (time.monotonic() - began))
