"""How many to check, as a document."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_answers.documents.answers import subject_data

if TYPE_CHECKING:
    from lotkin.uses.asking.sample_plan import SampleAnswer
    from lotkin_answers.json_document import Value

__all__ = ["sample_document", "what_passes"]


def what_passes(answer: SampleAnswer) -> list[tuple[int, float]]:
    """List what passes with which chance: a few numbers of bad pieces in the lot."""
    most = answer.on_hand
    counts = sorted({1, 2, 5, 10, 20, 50, answer.plan.bad})
    return [(bad, float(answer.plan.passes_with(bad))) for bad in counts if bad <= most]


def sample_document(answer: SampleAnswer) -> dict[str, Value]:
    """Describe a sample and what it proves."""
    plan, shown = answer.plan, answer.shown
    return {
        "subject": subject_data(answer.item),
        "on_hand": answer.on_hand,
        "places": dict(answer.places),
        "confidence": float(plan.confidence),
        "bad_pieces": plan.bad,
        "allowed": plan.allowed,
        "sample": plan.sample,
        "risk": float(plan.risk),
        "passes": [{"bad_pieces": bad, "chance": chance} for bad, chance in what_passes(answer)],
        "endless_process": answer.endless,
        "shown": None
        if shown is None
        else {
            "checked": shown.checked.pieces,
            "found": shown.checked.bad,
            "bad_pieces_at_most": shown.most_bad,
            "bad_share_at_most": shown.share_at_most,
        },
        "as_of": answer.as_of,
    }
