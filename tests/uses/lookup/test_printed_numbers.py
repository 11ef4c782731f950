"""Heat numbers are kept as they are printed, and found however they are spelled."""

from __future__ import annotations

import pytest

from lotkin.core.errors import AmbiguousCode, LotkinError
from lotkin.core.values.printed_numbers import folded
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from lotkin.uses.lookup.find import find
from tests.goods_in import GoodsIn
from tests.small_works import Works

PRINTED = [
    "ÄB-1234",
    "26 118/73",
    "b 48213",
    "Ab-77",
    "плавка 7",
    "炉号12",
    "48\u2013213",
    "x" * 80,
]


@pytest.mark.parametrize("number", PRINTED)
def test_a_heat_number_is_kept_as_printed_and_found_in_every_spelling(number: str) -> None:
    goods = GoodsIn()
    got = goods.take(heat=number)

    source = got.event["source"]
    assert isinstance(source, dict)
    assert source["number"] == number
    for text in (number, number.lower(), number.upper(), number.replace(" ", ""), folded(number)):
        assert find(goods.works.store, text).item.code == source["code"]
        assert str(got.event["code"]) in goods.works.used(text)


def test_two_spellings_of_one_heat_are_one_heat() -> None:
    goods = GoodsIn()
    first = goods.take(heat="26 118/73")
    second = goods.take(heat="26118/73")
    sources = [got.event["source"]["code"] for got in (first, second)]  # type: ignore[call-overload,index]
    assert sources[0] == sources[1]
    assert len(goods.works.used("26 118/73")) == 2


def test_heats_that_differ_by_a_letter_only_are_two_heats() -> None:
    goods = GoodsIn()
    goods.take(heat="ÄB-1234")
    goods.take(heat="AB-1234")
    assert len(goods.works.used("ÄB-1234")) == 1
    assert len(goods.works.used("AB-1234")) == 1
    assert goods.works.used("ÄB-1234") != goods.works.used("AB-1234")


def test_one_number_of_two_mills_leads_to_both() -> None:
    goods = GoodsIn()
    goods.take(heat="7 7")
    goods.take(heat="77", supplier="ANNING")
    with pytest.raises(AmbiguousCode):
        find(goods.works.store, "7 7")


@pytest.mark.parametrize("number", ["", "a\x1db", "a\nb", "x" * 81])
def test_what_is_no_number_on_paper_is_refused(number: str) -> None:
    with pytest.raises(LotkinError):
        Works().bar("B-1", source={"kind": "heat", "number": number})


def test_a_store_with_printed_numbers_is_sound_and_can_be_rebuilt() -> None:
    goods = GoodsIn()
    for number in PRINTED:
        goods.take(heat=number, supplier_lot=f"Lieferung {number}"[:80])
    assert verify(goods.works.store).is_sound
    assert rebuild(goods.works.store).difference == ""
    assert find(goods.works.store, "lieferung ÄB-1234").item.supplier_lot == "Lieferung ÄB-1234"
