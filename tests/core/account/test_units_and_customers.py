"""Accounts of components: in units, in cartons, at customers, taken out again."""

from __future__ import annotations

import pytest

from tests.small_works import PLAN, Works


@pytest.fixture
def works() -> Works:
    """Three tested pumps from 10 motors, 50 tips and 100 screws, two of these a pump.

    Tips and screws come from the bench, one motor from the shelf into each.
    """
    works = Works(plan=PLAN)
    works.receive("MOTORS", 10, part="TIP", item_kind="machined-lot")
    works.receive("TIPS", 50, part="TIP", item_kind="machined-lot")
    works.receive("SCREWS", 100)
    works.mount({"P1": "TIPS", "P2": "SCREWS"})
    for serial in ("U1", "U2", "U3"):
        works.build(serial, inputs=[{"item": "MOTORS", "position": "M"}])
        works.test(serial)
    return works


def test_components_are_where_their_units_are(works: Works) -> None:
    """3 motors in units in ROOM-1 and 7 on the shelf; all 100 screws are in ROOM-1, 6 in units."""
    assert works.lines("MOTORS") == {"ROOM-1": 3.0, "SHELF": 7.0}
    assert works.lines("SCREWS") == {"ROOM-1": 100.0}
    assert works.stock("SCREWS") == {"ROOM-1": 94.0, "used in": 6.0}


def test_a_carton_takes_its_units_to_the_customer(works: Works) -> None:
    """U1 and U2 shipped: 2 motors, 2 tips, 4 screws at the clinic."""
    works.pack("CARTON", ["U1", "U2"], place="ROOM-1")
    assert works.lines("MOTORS") == {"ROOM-1": 3.0, "SHELF": 7.0}
    works.ship("SHIPMENT", ["CARTON"])
    assert works.lines("MOTORS") == {"CLINIC": 2.0, "ROOM-1": 1.0, "SHELF": 7.0}
    assert works.lines("TIPS") == {"CLINIC": 2.0, "ROOM-1": 48.0}
    assert works.lines("SCREWS") == {"CLINIC": 4.0, "ROOM-1": 96.0}


def test_spares_are_at_the_customer_beside_the_units(works: Works) -> None:
    """U1 with its motor to the clinic, 4 motors loose to the hospital, 3 left on the shelf."""
    works.ship("S-1", ["U1"])
    works.ship("S-2", {"MOTORS": 4}, customer="HOSPITAL")
    assert works.lines("MOTORS") == {"CLINIC": 1.0, "HOSPITAL": 4.0, "ROOM-1": 2.0, "SHELF": 3.0}


def test_a_returned_unit_brings_its_components_back(works: Works) -> None:
    works.ship("S-1", ["U1", "U2"])
    works.do("return", item="U1", to_place="RED-BOX", reason="noise")
    assert works.lines("SCREWS") == {"CLINIC": 2.0, "RED-BOX": 2.0, "ROOM-1": 96.0}


def test_a_swapped_motor_leaves_the_unit_and_is_counted_where_it_is(works: Works) -> None:
    """U1's motor goes to the locked box; U1 has one of MORE, and keeps tip and screws."""
    works.receive("MORE", 5, part="TIP", item_kind="machined-lot")
    works.ship("S-1", ["U2"])
    works.swap(
        "U1", remove=[{"item": "MOTORS", "position": "M", "place": "RED-BOX"}], add={"MORE": 1}
    )
    assert works.lines("MOTORS") == {"RED-BOX": 1.0, "CLINIC": 1.0, "ROOM-1": 1.0, "SHELF": 7.0}
    assert works.lines("MORE") == {"ROOM-1": 1.0, "SHELF": 4.0}
    assert works.lines("TIPS") == {"CLINIC": 1.0, "ROOM-1": 49.0}


def test_a_screw_taken_from_a_bench_position_is_counted_once(works: Works) -> None:
    """One of U1's two screws is scrapped: 94 at the bench, 5 in units, 1 scrapped."""
    works.swap("U1", remove=[{"item": "SCREWS", "position": "P2", "quantity": 1}])
    assert works.lines("SCREWS") == {"ROOM-1": 99.0, "scrap": 1.0}
    assert works.accounts("SCREWS")[0].is_complete


def test_what_is_recovered_from_a_dismantled_unit_is_stock_again(works: Works) -> None:
    """Of U3 one screw is put on the shelf; its motor, tip and other screw are scrap."""
    works.do(
        "dismantle", unit="U3", recovered=[{"item": "SCREWS", "place": "SHELF", "quantity": 1}]
    )
    assert works.lines("SCREWS") == {"ROOM-1": 98.0, "SHELF": 1.0, "scrap": 1.0}
    assert works.lines("MOTORS") == {"ROOM-1": 2.0, "SHELF": 7.0, "scrap": 1.0}
    assert works.lines("TIPS") == {"ROOM-1": 49.0, "scrap": 1.0}


def test_a_unit_repaired_twice_still_counts_once(works: Works) -> None:
    works.swap("U1")
    works.swap("U1")
    assert works.lines("SCREWS") == {"ROOM-1": 100.0}
    assert works.lines("MOTORS") == {"ROOM-1": 3.0, "SHELF": 7.0}
    assert works.lines("U1") == {"ROOM-1": 1.0}


def test_a_mixture_at_the_bench_is_expected_in_every_unit() -> None:
    """10 suspect and 30 other screws tipped together; 2 units with 2 screws each took 4 of 40.

    Of the suspect ones 1 is expected in units at the clinic, 9 at the bench.
    """
    works = Works(plan=PLAN)
    works.receive("SUSPECT", 10)
    works.receive("OTHER", 30)
    works.pool("BIN", ["SUSPECT", "OTHER"])
    works.receive("TIPS", 50, part="TIP", item_kind="machined-lot")
    works.mount({"P1": "TIPS", "P2": "BIN"})
    for serial in ("U1", "U2"):
        works.build(serial)
        works.test(serial)
    works.ship("S-1", ["U1", "U2"])
    assert works.lines("SUSPECT") == {"CLINIC": 1.0, "ROOM-1": 9.0}
    assert not any(line.exact for line in works.accounts("SUSPECT")[0].lines)
    assert works.lines("SUSPECT", "OTHER") == {"CLINIC": 4.0, "ROOM-1": 36.0}


def test_a_unit_begun_before_a_change_is_posted_from_the_later_lot() -> None:
    """U1 may have screws of either lot; the book takes its two from LATE, 98 and 100 remain."""
    works = Works(plan=PLAN)
    works.receive("EARLY", 100)
    works.receive("LATE", 100)
    works.receive("TIPS", 50, part="TIP", item_kind="machined-lot")
    works.mount({"P1": "TIPS", "P2": "EARLY"}, at=10)
    works.mount({"P2": "LATE"}, at=20)
    works.build("U1", started=15, at=25)
    works.test("U1", at=26)
    works.ship("S-1", ["U1"], at=27)
    assert works.lines("LATE") == {"CLINIC": 2.0, "ROOM-1": 98.0}
    assert works.lines("EARLY") == {"ROOM-1": 100.0}
    assert all(works.accounts(lot)[0].is_complete for lot in ("EARLY", "LATE"))
