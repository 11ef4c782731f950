"""The next best question, as a document and as rows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.quantities import MICRO
from lotkin_answers.documents.answers import outside_data
from lotkin_answers.json_document import tidy

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin.uses.asking.next_question import OpenQuestion, OpenQuestions
    from lotkin_answers.json_document import Data, Value
    from lotkin_answers.spreadsheet import Cell

__all__ = ["QUESTION_COLUMNS", "pieces_of", "question_rows", "questions_document"]

QUESTION_COLUMNS = (
    "question", "code", "kind", "candidates", "suspects", "chance_free", "shares_assumed",
    "pieces_hanging", "pieces_freed_expected",
)  # fmt: skip


def questions_document(codes: Sequence[str], found: OpenQuestions) -> dict[str, Value]:
    """Describe the questions, the one that frees most first."""
    return {
        "outside_the_time": [outside_data(one) for one in found.outside],
        "subjects": list(codes),
        "questions": [_question(each) for each in found.questions],
    }


def pieces_of(each: OpenQuestion) -> tuple[float, float]:
    """Give how many pieces hang on the answer, and how many it is expected to free."""
    return each.asked.hanging / MICRO, round(each.asked.expected / MICRO, 6)


def _question(each: OpenQuestion) -> Data:
    hanging, expected = map(tidy, pieces_of(each))
    return {
        "question": each.text,
        "code": each.code,
        "kind": each.kind,
        "candidates": list(each.candidates),
        "suspects": list(each.suspects),
        "chance_free": each.asked.chance_free,
        "shares_assumed": each.asked.is_assumed,
        "pieces_hanging": hanging,
        "pieces_freed_expected": expected,
    }


def question_rows(found: OpenQuestions) -> Iterator[tuple[Cell, ...]]:
    """Write a question a row."""
    for each in found.questions:
        yield (
            *(each.text, each.code, each.kind),
            *("; ".join(each.candidates), "; ".join(each.suspects)),
            *(each.asked.chance_free, each.asked.is_assumed, *pieces_of(each)),
        )
