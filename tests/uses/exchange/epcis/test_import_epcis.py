"""Taking over documents of others, from the fields of the standard alone."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

import pytest

from lotkin.core.errors import BadDocument, BadFile
from lotkin.uses.exchange.epcis.import_epcis import import_epcis
from lotkin.uses.exchange.epcis.understanding import Who
from tests.laws import check_records
from tests.small_works import Works
from tests.uses.exchange.epcis.epcis_partner import (
    BILLET,
    OTHER_ROD,
    ROD,
    TYPES,
    WHERE,
    WITH_GTINS,
    Event,
    Partner,
    name_of,
    quantity,
)

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path


@pytest.fixture
def works() -> Works:
    return Works(plan=WITH_GTINS)


@pytest.fixture
def mill(tmp_path: Path) -> Partner:
    return Partner(tmp_path / "mill.json")


def test_a_melt_of_the_supplier_leads_to_what_we_made_of_it(works: Works, mill: Partner) -> None:
    mill.add("Object", action="ADD", quantityList=[quantity(BILLET, 1200, "KGM")], readPoint=WHERE)
    mill.add(
        "Transformation",
        inputQuantityList=[quantity(BILLET, 800, "KGM")],
        outputQuantityList=[quantity(ROD, 300, "MTR")],
        readPoint=WHERE,
    )
    done = mill.into(works)
    works.bar("B-1", 3, source={"kind": "source-lot", "number": "ROD-9"})
    works.make({"T-1": 30}, {"B-1": 1})

    assert (done.adopted, done.items, done.links, done.left_out) == (2, 2, 1, ())
    below = works.used("MELT-7")
    assert set(below) == {"MILL:BAR:ROD-9", "B-1", "T-1"}
    assert all(row.certain for row in below.values())
    assert sum(works.lines("MELT-7").values()) == pytest.approx(1200)
    check_records(works)


def test_one_piece_holds_all_that_went_in_and_many_pieces_one_of_it(
    works: Works, mill: Partner
) -> None:
    both = [quantity(ROD, 2, "MTR"), quantity(OTHER_ROD, 1, "MTR")]
    mill.add(
        "Transformation",
        inputQuantityList=both,
        outputQuantityList=[quantity("urn:epc:class:lgtin:9521141.054321.KNOBS", 90)],
    )
    mill.add(
        "Transformation",
        inputQuantityList=both,
        outputEPCList=["urn:epc:id:sgtin:9521141.055555.1"],
    )
    mill.into(works)
    below = works.used("ROD-9")

    knobs = next(row for code, row in below.items() if code.endswith("KNOBS"))
    single = next(row for code, row in below.items() if code.endswith(":1"))
    assert knobs.chance == pytest.approx(2 / 3)
    assert not knobs.certain
    assert single.chance == 1
    assert single.certain


def test_two_bundles_of_one_lot_are_one_lot(works: Works, mill: Partner) -> None:
    mill.add(
        "Transformation",
        inputQuantityList=[
            quantity(ROD, 2, "MTR"),
            quantity(OTHER_ROD, 3, "MTR"),
            quantity(ROD, 1, "MTR"),
        ],
        outputQuantityList=[quantity("urn:x:a", 20)],
    )
    mill.into(works)
    with works.store.reading() as view:
        taken = {link.parent: link.quantity for link in view.parents("urn:x:a")}

    assert taken == {"MILL:BAR:ROD-9": 3_000_000, "MILL:BAR:ROD-10": 3_000_000}


def test_quantities_divide_by_what_came_out_and_stay_unknown_where_they_cannot(
    works: Works, mill: Partner
) -> None:
    mill.add(
        "Transformation",
        inputQuantityList=[quantity(ROD, 3, "MTR")],
        outputQuantityList=[quantity("urn:x:a", 20), quantity("urn:x:b", 10)],
    )
    mill.add(
        "Transformation",
        inputQuantityList=[quantity(OTHER_ROD, 3, "MTR")],
        outputQuantityList=[quantity("urn:x:c", 20), quantity("urn:x:d", 10, "KGM")],
    )
    mill.into(works)
    with works.store.reading() as view:
        taken = {link.child: link.quantity for link in view.children("MILL:BAR:ROD-9")}
        other = {link.child: link.quantity for link in view.children("MILL:BAR:ROD-10")}

    assert taken == {"urn:x:a": 2_000_000, "urn:x:b": 1_000_000}
    assert other == {"urn:x:c": None, "urn:x:d": None}


def test_grams_millimetres_and_tonnes_are_kept_in_our_units(works: Works, mill: Partner) -> None:
    sizes = [
        quantity("urn:x:g", 250.5, "GRM"),
        quantity("urn:x:t", 1.5, "TNE"),
        quantity("urn:x:mm", 3000, "MMT"),
        quantity("urn:x:litres", 3, "LTR"),
        quantity("urn:x:half", 2.5),
        quantity("urn:x:some"),
    ]
    mill.add("Object", action="ADD", quantityList=sizes)
    done = mill.into(works)
    with works.store.reading() as view:
        found = {item.code: (item.quantity, item.unit) for item in view.all_items()}

    assert found["urn:x:g"] == (250_500, "kg")
    assert found["urn:x:t"] == (1_500_000_000, "kg")
    assert found["urn:x:mm"] == (3_000_000, "m")
    assert found["urn:x:litres"] == found["urn:x:half"] == found["urn:x:some"] == (None, "")
    assert [why.partition(": ")[2] for why in done.left_out] == [
        "3 LTR: lotkin keeps no quantities in LTR",
        "2.5: not a quantity of pcs",
    ]


def test_a_pallet_holds_what_was_packed_until_it_is_taken_out(works: Works, mill: Partner) -> None:
    pallet = "urn:epc:id:sscc:9521141.0000000001"
    mill.add("Object", action="ADD", quantityList=[quantity(ROD, 30, "MTR")], readPoint=WHERE)
    mill.add(
        "Aggregation",
        action="ADD",
        parentID=pallet,
        childQuantityList=[quantity(ROD, 30, "MTR")],
        readPoint=WHERE,
    )
    mill.into(works)
    packed = works.stock("MILL:BAR:ROD-9")
    mill.add(
        "Aggregation",
        action="DELETE",
        parentID=pallet,
        childQuantityList=[quantity(ROD, 30, "MTR")],
        readPoint=WHERE,
    )
    mill.into(works)

    assert packed == {"9521141000014 (095211410000000014)": 30}
    assert works.stock("MILL:BAR:ROD-9") == {"9521141000014": 30}
    assert set(works.used("MILL:BAR:ROD-9")) == {"095211410000000014"}


def test_a_component_fitted_into_our_own_unit_is_found_in_it(works: Works, mill: Partner) -> None:
    works.receive("S-1", 10)
    works.build("U-1", None, place="FLOOR", inputs={"S-1": 2}, reported=True)
    mill.add(
        "Association",
        action="ADD",
        parentID="https://id.gs1.org/01/09521141654323/21/U-1",
        childEPCs=["urn:epc:id:giai:9521141.SENSOR-5"],
        bizStep="installing",
    )
    mill.into(works)

    assert set(works.origin("U-1")) == {"S-1", "9521141SENSOR-5"}


def test_what_they_call_bad_is_held_here(works: Works, mill: Partner) -> None:
    mill.add("Object", action="ADD", quantityList=[quantity(ROD, 30, "MTR")])
    mill.add(
        "Object",
        action="OBSERVE",
        quantityList=[quantity(ROD)],
        bizStep="holding",
        disposition="non_conformant",
        persistentDisposition={"set": ["https://ref.gs1.org/cbv/Disp-recalled"]},
    )
    mill.into(works)
    with works.store.reading() as view:
        assert view.hold("MILL:BAR:ROD-9") == "non conformant, recalled, says MILL"


def test_parts_of_one_transformation_are_one(works: Works, mill: Partner) -> None:
    whole = "urn:x:run:5"
    mill.add("Transformation", inputQuantityList=[quantity(ROD, 1, "MTR")], transformationID=whole)
    mill.add("Transformation", inputEPCList=["urn:x:machine"], transformationID=whole)
    mill.add("Transformation", outputQuantityList=[quantity("urn:x:a", 5)], transformationID=whole)
    done = mill.into(works)

    assert (done.events, done.adopted) == (3, 1)
    assert set(works.origin("urn:x:a")) == {"MILL:BAR:ROD-9", "urn:x:machine"}


def test_a_kind_of_thing_without_a_lot_is_left_out_and_told(works: Works, mill: Partner) -> None:
    mill.add(
        "Object",
        action="OBSERVE",
        quantityList=[quantity("urn:epc:idpat:sgtin:9521141.012345.*", 5)],
    )
    done = mill.into(works)

    assert done.adopted == 0
    assert "names a kind of thing and no lot or piece of it" in done.left_out[0]


def test_the_same_events_are_taken_over_once_whoever_sends_them(
    works: Works, mill: Partner
) -> None:
    mill.add("Object", action="ADD", quantityList=[quantity(ROD, 30, "MTR")])
    first = mill.into(works)
    # another way of writing the same
    mill.events[0]["quantityList"] = [
        quantity("https://mill.example/gtin/9521141123454/lot/ROD-9", 30.0, "MTR")
    ]
    again = mill.into(works)

    assert (first.adopted, again.adopted, again.repeated) == (1, 0, 1)


def test_a_corrected_event_is_corrected_here(works: Works, mill: Partner) -> None:
    made = mill.add(
        "Transformation",
        inputQuantityList=[quantity(ROD, 3, "MTR")],
        outputQuantityList=[quantity("urn:x:a", 20)],
    )
    mill.into(works)
    assert set(works.origin("urn:x:a")) == {"MILL:BAR:ROD-9"}
    right = {**made, "inputQuantityList": [quantity(OTHER_ROD, 3, "MTR")]}
    made["errorDeclaration"] = {
        "declarationTime": "2026-02-20T00:00:00Z",
        "reason": "incorrect_data",
        "correctiveEventIDs": [name_of(right)],
    }
    mill.events.append(right)
    mill.add("Object", action="ADD", quantityList=[quantity(OTHER_ROD, 9, "MTR")])
    done = mill.into(works)
    again = mill.into(works)

    assert (done.amended, again.amended, again.voided) == (1, 0, 0)
    assert set(works.origin("urn:x:a")) == {"MILL:BAR:ROD-10"}
    check_records(works)


def test_an_event_that_did_not_happen_is_taken_back(works: Works, mill: Partner) -> None:
    made = mill.add("Object", action="ADD", quantityList=[quantity(ROD, 30, "MTR")])
    mill.into(works)
    made["errorDeclaration"] = {
        "declarationTime": "2026-02-20T00:00:00Z",
        "reason": "did_not_occur",
    }
    done = mill.into(works)
    again = mill.into(works)
    del made["errorDeclaration"]
    back = mill.into(works)

    assert (done.voided, again.voided, back.adopted) == (1, 0, 1)
    assert set(works.used("ROD-9")) == set()
    check_records(works)


def test_what_was_used_here_since_is_not_taken_back(works: Works, mill: Partner) -> None:
    made = mill.add("Object", action="ADD", quantityList=[quantity(ROD, 30, "MTR")])
    mill.into(works)
    works.bar("B-1", 3, source={"kind": "source-lot", "number": "ROD-9"})
    made["errorDeclaration"] = {"declarationTime": "2026-02-20T00:00:00Z"}
    before = works.head()

    with pytest.raises(BadDocument) as refused:
        mill.into(works)
    assert "B-1" in refused.value.problems[0]
    assert works.head() == before


def test_all_faults_are_listed_and_nothing_is_recorded(works: Works, mill: Partner) -> None:
    mill.add("Object", action="ADD", quantityList=[quantity(ROD, 30, "MTR")])
    mill.add("Object", action="BUY", epcList=["no uri"], colour="red")
    mill.add("Shipping", action="ADD")
    before = works.head()

    with pytest.raises(BadDocument) as refused:
        mill.into(works)
    assert list(refused.value.problems) == [
        "epcisBody.eventList[1].action: must be one of ADD, DELETE, OBSERVE",
        "epcisBody.eventList[1].epcList[0]: must be a URI",
        "epcisBody.eventList[1].colour: is no field of the standard; others need a prefix",
        f"epcisBody.eventList[2].type: must be one of {', '.join(TYPES)}",
    ]
    assert works.head() == before


def test_a_circle_of_theirs_is_refused(works: Works, mill: Partner) -> None:
    a, b = [quantity("urn:x:a", 1, "KGM")], [quantity("urn:x:b", 1, "KGM")]
    mill.add("Transformation", inputQuantityList=a, outputQuantityList=b)
    mill.add("Transformation", inputQuantityList=b, outputQuantityList=a)

    with pytest.raises(BadDocument):
        mill.into(works)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "is not JSON"),
        (b"\xff\xfe", "is not a text in UTF-8"),
        (b"[" * 200_000, "nested too deeply"),
        (b'{"a": NaN}', "NaN is not a number"),
        (b'{"type": 1, "type": 2}', "stands twice"),
        (b'{"a": 1' + b"0" * 5000 + b"}", "is not JSON"),
    ],
)
def test_hostile_files_are_refused(works: Works, tmp_path: Path, content: bytes, said: str) -> None:
    path = tmp_path / "hostile.json"
    path.write_bytes(content)

    with pytest.raises(BadFile, match=said):
        import_epcis(works.store, path, Who("QUINN"), dry_run=False, clock=works.clock)


@pytest.mark.parametrize("content", ["[]", "3", "null", '"text"', '{"epcisBody": []}'])
def test_json_that_is_no_document_is_refused(works: Works, tmp_path: Path, content: str) -> None:
    path = tmp_path / "odd.json"
    path.write_text(content)

    with pytest.raises(BadDocument):
        import_epcis(works.store, path, Who("QUINN"), dry_run=False, clock=works.clock)


def put(field: str, value: object) -> Callable[[Event], None]:
    return lambda event: event.update({field: value})


@pytest.mark.parametrize(
    "change",
    [
        put("epcList", {}),
        put("epcList", [None]),
        put("epcList", ["urn:x:" + "y" * 5000]),
        put("quantityList", [[]]),
        put("quantityList", [{"epcClass": "urn:x:y", "quantity": 1e300}]),
        put("quantityList", [{"epcClass": "urn:x:y", "quantity": 1e-300}]),
        put("eventTime", "0001-01-01T00:00:00+14:00"),
        put("eventTime", "9999-12-31T23:59:59-14:00"),
        put("eventTime", 5),
        put("readPoint", {"id": "urn:lotkin:place:scrap"}),
        put("bizLocation", {"id": "urn:lotkin:place:%00%0a"}),
        put("persistentDisposition", []),
        put("errorDeclaration", "yes"),
        put("@context", {"ex": 4}),
        put("sensorElementList", [{"sensorReport": [{"type": "Speed", "value": True}]}]),
    ],
)
def test_odd_values_are_taken_over_or_told_and_never_upset_anything(
    works: Works, mill: Partner, change: Callable[[Event], None]
) -> None:
    change(mill.add("Object", action="ADD", epcList=["urn:x:y"]))
    with suppress(BadDocument):
        mill.into(works)
    check_records(works)
