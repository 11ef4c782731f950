"""Of which record the findings of the audit are, and how old."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from lotkin_service.background.findings import Kept
    from lotkin_service.state import Works

__all__ = ["Age", "age_of"]


class Age(NamedTuple):
    """How far findings can be relied on.

    Attributes:
        is_known: Whether there are any; no gaps are shown as none found only then.
        as_of: Number of the last record that they have seen.
        since: Records that came after it.
        past_us: Microseconds since they were worked out.
        is_asked: Whether they are being worked out anew.
        failed: Whether that went wrong the last time.
    """

    is_known: bool
    as_of: int
    since: int
    past_us: int
    is_asked: bool
    failed: bool


def age_of(works: Works, kept: Kept | None) -> Age:
    """Tell it of findings that are kept."""
    findings = works.findings
    is_asked = findings.is_asked or findings.is_working
    if kept is None:
        return Age(False, 0, 0, 0, is_asked=True, failed=findings.failed)
    as_of = kept.found.as_of
    since, past = max(0, findings.head() - as_of), works.clock() - kept.made_at
    return Age(True, as_of, since, past, is_asked, findings.failed)
