"""What a receipt says of its papers, and that receipts from before say what they said."""

from __future__ import annotations

import pytest

from lotkin.core.errors import BadEvent
from lotkin.core.events.reading import parse_event
from lotkin.core.values.canonical import canonical, digest

BEFORE = {
    "kind": "receive",
    "id": "10000000-0000-4000-8000-000000000001",
    "at": "2026-03-02T07:10:00Z",
    "by": "ida",
    "code": "BAR-001",
    "item_kind": "bar-lot",
    "part": "BAR-8",
    "quantity": "30",
    "unit": "m",
    "place": "STORE",
    "supplier": "NORD",
    "source": {"kind": "heat", "number": "H4711", "code": "NORD:H4711"},
    "certificate": "came by post",
}
DOCUMENT = {"sha256": "0" * 64, "name": "c.pdf", "media_type": "application/pdf", "size": 9}


def test_a_receipt_from_before_reads_and_hashes_as_it_did() -> None:
    data = parse_event(BEFORE, "journal").to_data()
    assert data == BEFORE
    # computed when receipts had no papers; what was sent is known again by it
    assert digest(canonical(data)) == (
        "0bc86dd2c20bcb688bc05afd3d95c8a9f5412b92133549fb189b5746db8787b3"
    )


def test_papers_are_written_as_they_were_read() -> None:
    said = {
        **BEFORE,
        "documents": [DOCUMENT],
        "grade": "1.0718",
        "composition": {"Pb": "0.27", "C": "0.08"},
        "mechanical": {"Rm": ["560", "571"], "A": ["9.5"]},
        "delivered": {"mass_kg": "11.8", "bars": 10, "bar_length_mm": "3000", "diameter_mm": "8"},
        "confirmed": ["is it?"],
    }
    assert parse_event(said, "test").to_data() == said


def test_one_result_stands_for_a_list_of_one() -> None:
    data = parse_event({**BEFORE, "mechanical": {"Rm": 560}}, "test").to_data()
    assert data["mechanical"] == {"Rm": ["560"]}


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"composition": {"Xx": 1}}, "is no chemical element"),
        ({"composition": {"C": "100.1"}}, "less than or equal to 100"),
        ({"composition": {"C": "-1"}}, "greater than or equal to 0"),
        ({"mechanical": {"Rq": 1}}, "mechanical.Rq"),
        ({"mechanical": {"Rm": []}}, "at least 1 item"),
        ({"mechanical": {"Rm": "NaN"}}, "finite number"),
        ({"documents": [{**DOCUMENT, "sha256": "x"}]}, "documents.0.sha256"),
        ({"documents": [{**DOCUMENT, "name": "a\x1bb"}]}, "documents.0.name"),
        ({"documents": [{**DOCUMENT, "media_type": "text"}]}, "documents.0.media_type"),
        ({"documents": [{**DOCUMENT, "size": 0}]}, "documents.0.size"),
        ({"documents": [DOCUMENT] * 51}, "at most 50"),
        ({"delivered": {"bars": 0}}, "delivered.bars"),
    ],
)
def test_nonsense_on_papers_is_refused(said: dict[str, object], why: str) -> None:
    with pytest.raises(BadEvent, match=why):
        parse_event({**BEFORE, **said}, "test")
