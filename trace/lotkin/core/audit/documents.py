"""Checks of the documents that events name: is each there, as it was kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.audit.gap import Gap

if TYPE_CHECKING:
    from lotkin.core.audit.gap import Limits
    from lotkin.core.audit.survey import Survey
    from lotkin.core.journal.named_documents import LostDocument

__all__ = ["ALTERED", "DOCUMENT_KINDS", "MISSING", "altered_documents", "missing_documents"]

MISSING = "document-missing"
ALTERED = "document-altered"
DOCUMENT_KINDS = frozenset({MISSING, ALTERED})
"""Kinds of gaps for which every document has to be read."""


def missing_documents(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List documents that are not there, or cannot be read."""
    return [_gap(survey, MISSING, one) for one in survey.lost if not one.is_altered]


def altered_documents(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List documents whose content is not what was kept."""
    return [_gap(survey, ALTERED, one) for one in survey.lost if one.is_altered]


def _gap(survey: Survey, kind: str, lost: LostDocument) -> Gap:
    document = lost.document
    return Gap(
        kind,
        document.sha256,
        f"{document.title}, named by event {document.event}, {lost.why}",
        "put its file back from a backup, or ask for the document again",
        survey.times.get(document.event),
        document.event,
    )
