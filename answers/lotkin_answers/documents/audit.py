"""Gaps in the record as a document and as rows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.instants import show_instant

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.audit import Gap
    from lotkin.uses.asking.audit import Audit
    from lotkin_answers.json_document import Value
    from lotkin_answers.spreadsheet import Cell

__all__ = ["GAP_COLUMNS", "audit_document", "gap_row"]

GAP_COLUMNS = ("kind", "record", "at", "event", "message", "mend")


def gap_row(gap: Gap) -> tuple[Cell, ...]:
    """Write a gap as a row."""
    at = None if gap.at is None else show_instant(gap.at)
    return gap.kind, gap.record, at, gap.event or None, gap.message, gap.mend


def audit_document(found: Audit) -> dict[str, Value | Iterable[Value]]:
    """Describe what an audit found."""
    return {
        "gaps": (dict(zip(GAP_COLUMNS, gap_row(gap), strict=True)) for gap in found.gaps),
        "counts": dict(found.counts),
        "items": found.items,
        "units": found.units,
        "as_of": found.as_of,
    }
