"""Import events that were not made by lotkin's own reader of tables."""

from __future__ import annotations

import pytest

from lotkin.core.errors import LotkinError
from tests.laws import check_conserved, check_records
from tests.small_works import Works, dump

A, B = ["A", "bar-lot", "", 10, "pcs", 5], ["B", "bar-lot", "", 10, "pcs", 7]
LINK = ["A", "B", 5, 1, "each", 1_000_000]


def changed(row: list[object], at: int, value: object) -> list[object]:
    return [*row[:at], value, *row[at + 1 :]]


@pytest.mark.parametrize(
    ("items", "links", "error"),
    [
        ([changed(A, 1, "nonsense")], [], "bad-event"),
        ([changed(A, 3, -1)], [], "bad-event"),
        ([changed(A, 4, "stone")], [], "bad-event"),
        ([changed(A, 0, "A B")], [], "bad-event"),
        ([changed(A, 3, 10**20)], [], "bad-event"),
        ([changed(A, 5, 10**30)], [], "bad-event"),
        ([A[:4]], [], "bad-event"),
        ([A, A], [], "code-taken"),
        ([A, B], [changed(LINK, 2, -5)], "bad-event"),
        ([A, B], [changed(LINK, 4, "stirred")], "bad-event"),
        ([A, B], [changed(LINK, 0, "X")], "unknown-code"),
        ([A, B], [changed(LINK, 1, "X")], "unknown-code"),
        ([A, B], [LINK, LINK], "bad-event"),
        ([A], [changed(LINK, 1, "A")], "circle"),
        ([A, changed(B, 5, None)], [LINK, ["B", "A", *LINK[2:]]], "circle"),
        ([A, changed(B, 5, 3)], [LINK], "child-before-parent"),
    ],
)
def test_rows_that_cannot_be_are_refused_without_a_trace(
    items: object, links: object, error: str
) -> None:
    works = Works()
    before = dump(works.store)
    with pytest.raises(LotkinError) as refused:
        works.do("import", items=items, links=links)

    assert refused.value.kind == error
    assert dump(works.store) == before


def test_rows_that_can_be_are_taken_and_conserved() -> None:
    works = Works()
    works.do("import", items=[A, B], links=[LINK, changed(LINK, 3, 2)])

    assert works.used("A").keys() == {"B"}
    check_conserved(works)
    check_records(works)
