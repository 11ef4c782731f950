"""Common cause: what units that failed share, compared with those that did not."""

from __future__ import annotations

from lotkin.core.quality.cause.false_discovery import adjusted
from lotkin.core.quality.cause.fisher import fisher_greater
from lotkin.core.quality.cause.shared import holders
from lotkin.core.quality.cause.suspects import FEWEST_COMPLAINTS, LEVEL, Compared, Suspect, compare

__all__ = [
    "FEWEST_COMPLAINTS",
    "LEVEL",
    "Compared",
    "Suspect",
    "adjusted",
    "compare",
    "fisher_greater",
    "holders",
]
