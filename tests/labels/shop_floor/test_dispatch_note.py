"""Dispatch notes: every tray scans, all lots and what is asked are there, and it can be signed."""

from __future__ import annotations

import pytest

from lotkin.core.genealogy.items import Item
from lotkin.core.plan import parse_plan
from lotkin.core.values.quantities import to_micro
from lotkin_demo import plan_text
from lotkin_labels import (
    DispatchNote,
    DispatchRow,
    Portion,
    make_dispatch_note,
    print_dispatch_note,
)
from lotkin_labels.errors import NothingToPrint
from lotkin_labels.shop_floor.dispatch_note import dispatch_pages
from tests.labels.rendering import codes_on, rasterise, text_of
from tests.labels.sample_labels import HOSTILE_TEXTS
from tests.labels.shop_floor.test_traveller import check

PLAN, _ = parse_plan(plan_text(), "works.toml")
BATCH = Item(
    code="ANO-012", kind="outside-batch", part="HEAD", step="30", supplier="LINDMOOR", made_at=0
)


def heads(number: int, pieces: int, tray: str = "") -> Portion:
    code = f"HEAD-{number:04}-20"
    item = Item(code=code, kind="machined-lot", part="HEAD", unit="pcs", quantity=to_micro(50))
    return Portion(item, to_micro(pieces), tray)


def test_batch_and_trays_are_read_back_a_lot_without_tray_by_its_own_code() -> None:
    portions = [heads(7, 27, "TRAY-12"), heads(8, 26, "TRAY-13"), heads(9, 3)]
    document = print_dispatch_note(make_dispatch_note(BATCH, PLAN, portions=portions))

    for dots_per_inch in (203, 300):
        (page,) = rasterise(document, dots_per_inch)
        assert codes_on(page) == ["ANO-012", "HEAD-0009-20", "TRAY-12", "TRAY-13"]


def test_the_note_says_who_what_how_many_and_what_is_asked() -> None:
    portions = [heads(7, 27, "TRAY-12"), heads(8, 26)]
    note = make_dispatch_note(BATCH, PLAN, portions=portions, service="strip before")
    (text,) = text_of(print_dispatch_note(note))

    for words in (
        "To Lindmoor Anodising",
        "Fernwell Dosing, pump works",
        "1970-01-01",
        "strip before",
        "Step 30: Anodise, natural, 12 micrometres",
        "One lot, one tray: do not tip trays together",
        "HEAD-0007-20",
        "27 pcs",
        "tray TRAY-12",
        "2 lots",
        "53 pcs",
        "handed over by",
        "taken over by",
        "1 of 1",
    ):
        assert words in text


def test_lots_of_several_units_have_no_total() -> None:
    powder = Item(code="PW-1", kind="powder-lot", unit="kg")
    note = make_dispatch_note(BATCH, None, portions=[heads(7, 27), Portion(powder, to_micro(4))])

    assert note.totals == ""
    assert note.supplier == "LINDMOOR"


def test_a_quantity_that_is_not_known_is_left_open() -> None:
    note = make_dispatch_note(BATCH, PLAN, portions=[Portion(heads(7, 1).item, None)])

    assert note.rows[0].quantity == note.totals == ""
    assert print_dispatch_note(note)


def test_many_lots_flow_over_pages_and_the_signatures_stand_under_the_total() -> None:
    rows = tuple(DispatchRow(lot=f"LOT-{n:03}", quantity="12 pcs") for n in range(60))
    pages = text_of(print_dispatch_note(DispatchNote(batch="B-1", supplier="S", rows=rows)))

    assert len(pages) > 3
    assert all(text.startswith("Dispatch note B-1 To S") for text in pages)
    assert "60 lots" in pages[-1]
    assert "signature" in pages[-1]
    assert [sum(f"LOT-{n:03}" in text for text in pages) for n in range(60)] == [1] * 60


@pytest.mark.parametrize("text", HOSTILE_TEXTS, ids=range(len(HOSTILE_TEXTS)))
def test_hostile_texts_print_and_stay_in_their_place(text: str) -> None:
    row = DispatchRow(lot="LOT-1", quantity=text, part=text, name=text)
    note = DispatchNote(
        batch="B-1",
        supplier=text,
        rows=(row, row),
        works=text,
        asked=(text, text),
        cautions=(text,),
        sent_on=text,
        totals=text,
    )

    for page in dispatch_pages(note):
        check(page)
    assert print_dispatch_note(note)


def test_a_note_without_lots_is_refused() -> None:
    with pytest.raises(NothingToPrint, match="ANO-012"):
        print_dispatch_note(make_dispatch_note(BATCH, PLAN, portions=[]))


def test_limits_and_features_of_the_step_are_asked_of_the_service() -> None:
    assert PLAN is not None
    dry = Item(code="OUT-1", kind="outside-batch", part="COVER", step="50", supplier="LINDMOOR")
    mill = Item(code="OUT-2", kind="outside-batch", part="HEAD", step="20", supplier="LINDMOOR")

    asked = [
        make_dispatch_note(batch, PLAN, portions=[heads(7, 27)]).asked for batch in (dry, mill)
    ]

    assert asked == [
        ("Step 50: Dry", "60 to 120 minutes", "55 to 65 °C"),
        ("Step 20: Mill the second side", "Bore 9.98 to 10.02 mm"),
    ]
