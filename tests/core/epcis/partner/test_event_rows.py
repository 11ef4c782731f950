"""An event of somebody else is read by itself: from the event, and from what those before told."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

from lotkin.core.epcis.partner.event_rows import PartnerRows, Told
from lotkin.core.epcis.partner.event_types import read_into
from lotkin.core.epcis.partner.names import describe
from lotkin.core.genealogy.items import Item
from lotkin.core.values.places import IMPORTED, Spot

CARTON = "https://id.gs1.org/00/395060001343520015"
PUMP = "https://id.gs1.org/01/09506000134352/21/P1"
BAR = "https://id.gs1.org/01/09506000134369/10/B7"


class NothingRecorded:
    """A works that has recorded nothing so far."""

    def find(self, uri: str, code: str) -> Item | None:
        return None

    def part(self, gtin: str) -> str:
        return gtin

    def spot(self, code: str) -> Spot:
        return Spot(IMPORTED)


def event(kind: str, action: str, **said: Any) -> dict[str, Any]:
    return {"type": kind, "eventTime": "2026-03-02T06:00:00Z", "action": action, **said}


def read(said: dict[str, Any], before: Told) -> PartnerRows:
    rows = PartnerRows(said, NothingRecorded(), before, "MILL")
    read_into(rows, "0" * 64)
    return rows


PACKED = event("AggregationEvent", "ADD", parentID=CARTON, childEPCs=[PUMP])


def test_reading_an_event_changes_neither_the_event_nor_what_was_told_before() -> None:
    before = Told()
    before.take(read(PACKED, Told()).told)
    said, told = deepcopy(PACKED), deepcopy(before)

    read(event("AggregationEvent", "DELETE", parentID=CARTON, childEPCs=[PUMP]), before)

    assert said == PACKED
    assert before == told


def test_the_same_event_reads_the_same_each_time() -> None:
    assert read(PACKED, Told()).rows == read(PACKED, Told()).rows


def test_what_one_event_names_is_no_new_item_of_the_next() -> None:
    first = read(PACKED, Told())
    assert len(first.rows["items"]) == 2

    assert read(PACKED, first.told).rows["items"] == []


def test_what_was_unpacked_by_an_event_is_not_inside_after_it() -> None:
    before = Told()
    before.take(read(PACKED, before).told)
    (carton,) = before.inside
    assert len(before.inside[carton]) == 1

    before.take(
        read(event("AggregationEvent", "DELETE", parentID=CARTON, childEPCs=[PUMP]), before).told
    )

    assert before.inside[carton] == []


def test_an_identifier_of_a_kind_of_thing_is_left_out_with_the_reason() -> None:
    rows = read(
        event("ObjectEvent", "ADD", epcList=["https://id.gs1.org/01/09506000134352"]), Told()
    )

    assert rows.rows["items"] == []
    assert ["names a kind of thing" in why for why in rows.left_out] == [True]


def test_a_lot_of_a_supplier_is_described_as_theirs() -> None:
    described, problem = describe(BAR, NothingRecorded(), "MILL", counted=True, kind="")

    assert problem == ""
    assert described == {
        "code": "MILL:09506000134369:B7",
        "item_kind": "source-lot",
        "part": "09506000134369",
        "supplier_lot": "B7",
        "supplier": "MILL",
    }


def test_a_lot_of_nobody_in_particular_is_not_described_as_anybodys() -> None:
    described, _ = describe(BAR, NothingRecorded(), "", counted=True, kind="")

    assert described is not None
    assert "supplier" not in described
    assert described["code"] == "09506000134369:B7"
