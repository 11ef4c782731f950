"""A common cause as a document and as rows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.instants import show_instant

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.uses.asking.common_cause import Cause, CommonCause
    from lotkin_answers.json_document import Data, Value
    from lotkin_answers.spreadsheet import Cell

__all__ = ["CAUSE_COLUMNS", "cause_document", "cause_rows"]

CAUSE_COLUMNS = (
    "rank", "code", "kind", "part", "failed_with", "failed", "sound_with", "sound", "p",
    "p_adjusted", "finding",
)  # fmt: skip


def cause_document(found: CommonCause) -> dict[str, Value]:
    """Describe a comparison and what it found."""
    compared = found.compared
    return {
        "complaints": [unit.code for unit in found.complaints],
        "parts": list(found.parts),
        "built_from": show_instant(found.built[0]) if found.built else None,
        "built_to": show_instant(found.built[1]) if found.built else None,
        "margin_days": found.margin_days,
        "enough": compared is not None,
        "failed": len(found.complaints),
        "sound": compared.sound if compared else None,
        "tested": compared.tested if compared else 0,
        "not_tested": compared.untested if compared else 0,
        "finding": bool(found.findings),
        "causes": [_cause_data(cause) for cause in found.causes],
        "as_of": found.as_of,
    }


def _cause_data(cause: Cause) -> Data:
    suspect = cause.suspect
    return {
        "items": [{"code": code, "kind": kind, "part": part} for code, kind, part in cause.items],
        "failed_with": suspect.failed,
        "sound_with": suspect.sound,
        "p": suspect.p,
        "p_adjusted": suspect.adjusted,
        "finding": suspect.is_finding,
    }


def cause_rows(found: CommonCause) -> Iterator[tuple[Cell, ...]]:
    """Write an item a row; those that cannot be told apart have the same rank."""
    compared = found.compared
    if compared is None:
        return
    for rank, cause in enumerate(found.causes, start=1):
        suspect = cause.suspect
        for code, kind, part in cause.items:
            yield (
                *(rank, code, kind, part),
                *(suspect.failed, compared.failed, suspect.sound, compared.sound),
                *(suspect.p, suspect.adjusted, suspect.is_finding),
            )
