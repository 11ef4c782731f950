"""A complaint: the as-built record of a unit through all its states, beside its siblings."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

import lotkin_demo
from lotkin.core.errors import NotAUnit, UnknownCode
from lotkin.uses.complaints.complaint import complaint
from tests.demo_stores import demo_store
from tests.small_works import PLAN, Works

if TYPE_CHECKING:
    from lotkin.store.store import Store

US_PER_MINUTE = 60_000_000
MINUTES_PER_DAY = 24 * 60


@pytest.fixture
def works() -> Works:
    """Give a works with lots mounted at its first bench, all of it by hand."""
    works = Works(plan=PLAN)
    works.bar("BAR-A", 10, heat="H48", certificate="3.1")
    works.make({"TIPS": 50}, {"BAR-A": 5}, run="RUN-1")
    works.receive("SCREWS", 100, supplier="MILL", supplier_lot="S-77")
    works.mount({"P1": "TIPS", "P2": "SCREWS"})
    return works


def test_what_is_in_it_is_told_by_position(works: Works) -> None:
    works.build("PUMP-1")

    found = complaint(works.store, "PUMP-1")
    assert [(one.position, one.lot.code, one.per) for one in found.components] == [
        ("P1", "TIPS", 1_000_000),
        ("P2", "SCREWS", 2_000_000),
    ]
    assert [one.supplier_lot for one in found.components] == ["", "S-77"]
    assert [(paper.lot.code, paper.certificate) for paper in found.papers] == [("BAR-A", "3.1")]
    assert [row.code for row in found.behind] == ["RUN-1"]
    assert found.counts == {
        "bar-lot": 1, "bench-setup": 1, "heat": 1, "machined-lot": 1, "machining-run": 1,
        "purchased-lot": 1,
    }  # fmt: skip


def test_a_unit_begun_before_a_change_has_alternatives(works: Works) -> None:
    works.receive("SCREWS-2", 100)
    begun = works.minute
    works.mount({"P2": "SCREWS-2"})
    works.build("PUMP-1", started=begun)

    screws = complaint(works.store, "PUMP-1").components[1]
    assert (screws.position, screws.lot.code) == ("P2", "SCREWS-2")
    assert [other.code for other in screws.alternatives] == ["SCREWS"]


def test_who_else_has_a_lot_is_told_with_the_place(works: Works) -> None:
    for serial in ("PUMP-1", "PUMP-2", "PUMP-3"):
        works.build(serial)
        works.test(serial)
    works.ship("SHIP-1", "PUMP-2")

    shared = complaint(works.store, "PUMP-1").shared["TIPS"]
    assert (shared.units, shared.certain) == (2, 2)
    assert shared.at == {"CLINIC": 1, "ROOM-1": 1}


def test_a_unit_that_had_a_lot_taken_out_does_not_share_it(works: Works) -> None:
    works.build("PUMP-1")
    works.build("PUMP-2")
    works.receive("TIPS-2", 5, part="TIP", item_kind="machined-lot")
    works.swap(
        "PUMP-2",
        remove=[{"item": "TIPS", "position": "P1"}],
        add=[{"item": "TIPS-2", "quantity": 1, "position": "P1"}],
    )

    assert complaint(works.store, "PUMP-1").shared["TIPS"].units == 0
    swapped = complaint(works.store, "PUMP-2")
    assert [(one.lot.code, one.removed) for one in swapped.components] == [
        ("TIPS-2", False),
        ("SCREWS", False),
        ("TIPS", True),
    ]
    assert [state.code for state in swapped.states] == ["PUMP-2", "PUMP-2/2"]
    (change,) = swapped.changes
    assert change.removed == (("TIPS", "TIPS/2", "P1", "scrap"),)
    assert change.added == (("TIPS-2", "P1"),)


def test_readings_stand_among_those_of_siblings_tested_around_the_same_time(works: Works) -> None:
    for number, reading in enumerate(["0.1", "0.4", "0.2", "0.3"], start=1):
        works.build(f"PUMP-{number}")
        works.test(f"PUMP-{number}", reading)
    late = works.minute + 91 * MINUTES_PER_DAY
    works.build("PUMP-5", at=late)
    works.test("PUMP-5", "0.9", at=late + 1)

    (test,) = complaint(works.store, "PUMP-4").tests
    assert test.passed
    # 0.1, 0.2 below and 0.4 above; the one of 91 days later does not count
    assert (test.standings[0].rank, test.standings[0].of) == (3, 4)
    assert test.standings[0].percentile == 62.5


def test_a_sibling_that_was_tested_again_counts_once(works: Works) -> None:
    works.build("PUMP-1")
    works.test("PUMP-1", "0.5")
    works.build("PUMP-2")
    works.test("PUMP-2", "0.1")
    works.test("PUMP-2", "0.9")

    (test,) = complaint(works.store, "PUMP-1").tests
    assert (test.standings[0].rank, test.standings[0].of) == (1, 2)


def test_a_reading_that_was_amended_counts_as_it_reads_now(works: Works) -> None:
    works.build("PUMP-1")
    misread = works.test("PUMP-1", "0.7")
    works.amend(misread, readings=["0.2"])

    found = complaint(works.store, "PUMP-1")
    assert [test.readings for test in found.tests] == [(Decimal("0.2"),)]
    assert [(each.what, each.of) for each in found.corrections] == [("amend", (misread.seq,))]


def test_the_way_of_a_unit_is_followed(works: Works) -> None:
    works.build("PUMP-1")
    works.test("PUMP-1")
    works.pack("CARTON-1", "PUMP-1")
    works.ship("SHIP-1", "CARTON-1", reference="ORDER-5")
    works.do("return", item="PUMP-1", to_place="RED-BOX", reason="drips")

    found = complaint(works.store, "PUMP-1")
    assert [(step.what, step.carton, step.customer) for step in found.went] == [
        ("packed", "CARTON-1", ""),
        ("shipped", "CARTON-1", "CLINIC"),
        ("returned", "CARTON-1", "CLINIC"),
    ]
    assert [here.place for here in found.here] == ["RED-BOX"]
    assert found.hold == "returned: drips"


def test_a_correction_far_behind_the_unit_is_told(works: Works) -> None:
    plain = works.bar("BAR-B", 10)
    works.make({"TIPS-2": 5}, {"BAR-B": 1})
    works.mount({"P1": "TIPS-2"})
    works.build("PUMP-1")
    late = works.amend(plain, source={"kind": "heat", "number": "H50"}, certificate="3.1")

    found = complaint(works.store, "PUMP-1")
    assert [each.event for each in found.corrections] == [late.seq]
    assert found.counts["heat"] == 1
    assert [paper.certificate for paper in found.papers] == ["3.1"]


def test_only_a_unit_can_be_complained_about(works: Works) -> None:
    with pytest.raises(NotAUnit, match="SCREWS is not a unit"):
        complaint(works.store, "SCREWS")
    with pytest.raises(UnknownCode):
        complaint(works.store, "PUMP-1")


# --- the demo works


@pytest.fixture(scope="module")
def demo() -> tuple[Store, lotkin_demo.DemoWorks]:
    return demo_store()


def test_a_swapped_pump_tells_both_motors(demo: tuple[Store, lotkin_demo.DemoWorks]) -> None:
    store, works = demo
    found = complaint(store, works.swapped_unit)
    motors = [one for one in found.components if one.position == "MOTOR"]

    assert [one.removed for one in motors] == [False, True]
    assert [step.what for step in found.went] == [
        "packed", "shipped", "returned", "packed", "shipped",
    ]  # fmt: skip
    assert found.went[3].carton == works.second_carton


def test_a_leaking_pump_leads_to_the_bad_batch(
    demo: tuple[Store, lotkin_demo.DemoWorks],
) -> None:
    store, works = demo
    found = complaint(store, works.complaint)

    assert works.bad_anodise_batch in {row.code for row in found.behind}
    heads = [(one.lot.code, one.removed) for one in found.components if one.position == "A1"]
    # it was repaired: the head that leaked was exchanged
    assert [removed for _, removed in heads] == [False, True]
    assert heads[0][0] not in works.bad_head_lots
    assert heads[1][0] in works.bad_head_lots


def test_a_late_mounting_is_among_the_corrections(
    demo: tuple[Store, lotkin_demo.DemoWorks],
) -> None:
    store, works = demo
    found = complaint(store, works.units_of_the_late_mount[0])

    assert "mount" in {each.what for each in found.corrections}


def test_all_units_of_the_bill_are_found_in_every_pump(
    demo: tuple[Store, lotkin_demo.DemoWorks],
) -> None:
    store, works = demo
    for serial in works.units[::200]:
        inside = [one for one in complaint(store, serial).components if not one.removed]
        # 13 positions of the bench and the motor
        assert len(inside) == 14, serial


def certified(works: Works) -> dict[str, tuple[bool, bool, tuple[str, ...]]]:
    """Map lots to whether their certificate is of what was taken out, is sure, and what else."""
    return {
        paper.lot.code: (paper.row.removed, paper.row.certain, paper.instead)
        for paper in complaint(works.store, "U1").papers
    }


def test_the_certificate_of_a_lot_that_was_taken_out_is_not_one_of_what_is_in_it() -> None:
    works = Works()
    for lot in ("OLD", "KEPT", "NEW"):
        works.receive(lot, 100, certificate="3.1")
    works.build("U1", bench=None, place="FLOOR", inputs={"OLD": 2, "KEPT": 1})
    assert certified(works) == {"KEPT": (False, True, ()), "OLD": (False, True, ())}

    works.swap("U1", [{"item": "OLD", "end": "scrap"}], {"NEW": 2})

    assert certified(works)["OLD"][0]
    assert certified(works)["KEPT"] == certified(works)["NEW"] == (False, True, ())


def test_the_certificate_of_one_of_two_lots_is_never_certain() -> None:
    works = Works()
    for lot, part in (("S1", "SCREW"), ("S2", "SCREW"), ("T1", "TIP")):
        works.receive(lot, 100, part=part, certificate="3.1", at=1)
    works.mount({"P1": "T1", "P2": {"item": "S1", "per": 2}}, at=5)
    works.mount({"P2": {"item": "S2", "per": 2}}, at=8)
    works.build("U1", started=7, at=9)

    assert certified(works) == {
        "S1": (False, False, ("S2",)),
        "S2": (False, False, ("S1",)),
        "T1": (False, True, ()),
    }
