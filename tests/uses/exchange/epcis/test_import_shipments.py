"""Shipments in documents of others, what they say besides, and their rarer identifiers."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from lotkin.uses.asking.contain import contain
from tests.laws import check_records
from tests.small_works import Works
from tests.uses.exchange.epcis.epcis_partner import BILLET, WHERE, WITH_GTINS, Partner, quantity

if TYPE_CHECKING:
    from pathlib import Path

PIECE = "urn:epc:id:sgtin:9521141.012345.{}"
PALLET = "urn:epc:id:sscc:9521141.0000000017"
BUYER = {"type": "owning_party", "destination": "urn:epc:id:pgln:9521150.00002"}
BUYER_CODE = "9521150000029"
STEPS = ("shipping", "https://ref.gs1.org/cbv/BizStep-shipping")


@pytest.fixture
def works() -> Works:
    return Works(plan=WITH_GTINS)


@pytest.fixture
def mill(tmp_path: Path) -> Partner:
    return Partner(tmp_path / "mill.json")


def made_of_melt(mill: Partner) -> None:
    """Make two pieces of a melt."""
    melt = quantity(BILLET, 1000, "KGM")
    mill.add("Object", action="ADD", readPoint=WHERE, quantityList=[melt])
    mill.add(
        "Transformation",
        readPoint=WHERE,
        inputQuantityList=[quantity(BILLET, 800, "KGM")],
        outputEPCList=[PIECE.format(1), PIECE.format(2)],
    )


def ship(mill: Partner, *pieces: str, step: str = "shipping", **more: object) -> None:
    fields = {"epcList": list(pieces), "destinationList": [BUYER], "readPoint": WHERE}
    mill.add("Object", action="OBSERVE", bizStep=step, **{**fields, **more})


def melt_code(works: Works) -> str:
    with works.store.reading() as view:
        return next(item.code for item in view.all_items() if item.supplier_lot == "MELT-7")


@pytest.mark.parametrize("step", STEPS)
def test_what_was_shipped_is_with_the_party_that_owns_it_then(
    works: Works, mill: Partner, step: str
) -> None:
    made_of_melt(mill)
    ship(mill, PIECE.format(1), step=step)
    done = mill.into(works)

    found = contain(works.store, [melt_code(works)])
    assert {place: len(rows) for place, rows in found.customers.items()} == {BUYER_CODE: 1}
    assert {row.kind for row in found.customers[BUYER_CODE]} == {"unit"}
    assert "destinationList" not in done.not_kept
    assert mill.into(works).repeated == 3
    check_records(works)


def test_what_was_packed_goes_with_its_pallet(works: Works, mill: Partner) -> None:
    made_of_melt(mill)
    mill.add(
        "Aggregation",
        action="ADD",
        parentID=PALLET,
        childEPCs=[PIECE.format(1), PIECE.format(2)],
        readPoint=WHERE,
    )
    mill.add(
        "Aggregation", action="DELETE", parentID=PALLET, childEPCs=[PIECE.format(2)],
        readPoint=WHERE,
    )  # fmt: skip
    ship(mill, PALLET)
    mill.into(works)

    found = contain(works.store, [melt_code(works)])
    at_buyer = found.customers[BUYER_CODE]
    assert sorted(row.kind for row in at_buyer) == ["carton", "unit"]
    (piece,) = [row for row in at_buyer if row.kind == "unit"]
    assert piece.at[0].within == next(row.code for row in at_buyer if row.kind == "carton")
    check_records(works)


def test_a_buyer_that_the_plan_knows_as_a_place_of_the_works_is_no_customer(mill: Partner) -> None:
    ours = f'{{code = "{BUYER_CODE}", name = "We", kind = "shelf"}},\n  {{code = "SHELF"'
    works = Works(plan=WITH_GTINS.replace('{code = "SHELF"', ours))
    made_of_melt(mill)
    ship(mill, PIECE.format(1))
    mill.into(works)

    found = contain(works.store, [melt_code(works)])
    assert found.customers == {}
    assert BUYER_CODE in found.places


def test_a_shipment_to_nobody_named_moves_nothing_and_no_customer_is_made_up(
    works: Works, mill: Partner
) -> None:
    made_of_melt(mill)
    ship(mill, PIECE.format(1), destinationList=[{**BUYER, "type": "possessing_party"}])
    done = mill.into(works)

    found = contain(works.store, [melt_code(works)])
    assert found.customers == {}
    assert found.unknown_places
    assert done.not_kept["destinationList"] == 1
    assert done.not_kept["bizStep"] == 1


def test_what_is_not_taken_over_is_told_by_field_and_number(works: Works, mill: Partner) -> None:
    melt = quantity(BILLET, 1000, "KGM")
    for _ in range(2):
        mill.add(
            "Object",
            action="OBSERVE",
            readPoint=WHERE,
            quantityList=[melt],
            disposition="non_conformant",
            bizTransactionList=[
                {"type": "po", "bizTransaction": "urn:epc:id:gdti:9521141.00001.7"}
            ],
            persistentDisposition={"set": ["recalled"], "unset": ["damaged"]},
            **{"ex:mood": "good"},
        )
    done = mill.into(works)
    assert done.not_kept == {
        "bizTransactionList": 2,
        "ex:mood": 2,
        "persistentDisposition.unset": 2,
    }


def test_a_document_of_which_all_is_kept_tells_nothing(works: Works, mill: Partner) -> None:
    made_of_melt(mill)
    assert mill.into(works).not_kept == {}


def test_pieces_of_one_item_with_different_serials_are_different_things(
    works: Works, mill: Partner
) -> None:
    """ITIP: a piece of an item in several pieces, each set with a serial.

    Source: GS1 EPC Tag Data Standard, ITIP: GTIN, piece, total and serial.
    """
    pieces = [f"urn:epc:id:itip:4012345.012345.01.02.{serial}" for serial in (999, 1000)]
    mill.add("Object", action="OBSERVE", readPoint=WHERE, epcList=pieces)
    assert mill.into(works).items == 2
    with works.store.reading() as view:
        codes = sorted(item.code for item in view.all_items())
    assert codes == ["040123451234560102:1000", "040123451234560102:999"]


def test_a_serial_given_by_a_third_party_names_a_unit(works: Works, mill: Partner) -> None:
    """UPUI: GTIN with a serialised extension, AI (235).

    Source: GS1 EPC Tag Data Standard, UPUI.
    """
    unit = "urn:epc:id:upui:9521141.012345.51qIgY)%3C%26Jp3*j7'SDB"
    mill.add("Object", action="OBSERVE", readPoint=WHERE, epcList=[unit])
    done = mill.into(works)
    assert (done.items, done.left_out) == (1, ())


def test_the_rules_that_a_sensor_report_follows_are_a_field_of_the_standard(
    works: Works, mill: Partner
) -> None:
    """Source: EPCIS 2.0 JSON schema, `definitions.sensorReport`, and its SensorDataExample8."""
    report = {"type": "Temperature", "value": 26.0, "uom": "CEL", "bizRules": "https://a.example/r"}
    mill.add(
        "Object",
        action="OBSERVE",
        readPoint=WHERE,
        epcList=[PIECE.format(1)],
        sensorElementList=[{"sensorReport": [report]}],
    )
    done = mill.into(works)
    assert (done.items, done.not_kept) == (1, {"sensorElementList": 1})
