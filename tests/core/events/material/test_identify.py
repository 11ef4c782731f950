"""Pieces of a mixture are proven to be of certain parents and leave it as a lot of their own."""

from __future__ import annotations

import pytest

from lotkin.core.errors import BadEvent
from lotkin.uses.recording.record import Recorded
from tests.small_works import Works


def identify(works: Works, item: str, quantity: int, parents: str, code: str = "ID") -> Recorded:
    return works.do(
        "identify",
        item=item,
        quantity=quantity,
        code=code,
        parents=parents.split(),
        evidence="stamped",
    )


def bin_of_two(works: Works) -> Recorded:
    works.receive("S1", 10)
    works.receive("S2", 10)
    return works.pool("BIN", ["S1", "S2"])


def test_pieces_identified_leave_less_of_their_lot_in_the_mixture() -> None:
    works = Works()
    bin_of_two(works)
    identify(works, "BIN", 8, "S1")

    assert works.used("S1")["ID"].certain
    assert "ID" not in works.used("S2")
    assert works.used("S1")["BIN"].chance == pytest.approx(2 / 12)
    assert works.stock("BIN") == {"SHELF": 12}
    assert works.lines("S1") == {"SHELF": 10}


def test_tips_cut_from_bars_of_two_heats_are_identified_in_metres_of_their_bar() -> None:
    works = Works()
    works.bar("BAR-1", 3, heat="H1")
    works.bar("BAR-2", 1, heat="H2")
    works.make({"TIPS": 80}, ["BAR-1", "BAR-2"])
    identify(works, "TIPS", 20, "BAR-2")

    assert works.used("MILL:H2").keys() == {"BAR-2", "TIPS", "ID"}
    assert works.used("MILL:H1")["TIPS"].chance == 1.0
    assert works.used("MILL:H2")["TIPS"].chance == 0.0
    assert works.lines("BAR-1") == {"FLOOR": 3}
    assert works.lines("BAR-2") == {"FLOOR": 1}


def test_identified_pieces_take_their_share_of_all_else_that_is_in_the_mixture() -> None:
    works = Works()
    for code in ("S1", "S2"):
        works.receive(code, 10)
    works.powder("DYE", 4)
    works.make({"TIPS": 20}, ["S1", "S2", "DYE"])
    identify(works, "TIPS", 8, "S1")

    assert works.used("DYE")["ID"].certain
    with works.store.reading() as view:
        dye = {link.child: link.quantity for link in view.children("DYE")}
    assert dye == {"TIPS": 2_400_000, "ID": 1_600_000}
    assert works.lines("DYE") == {"FLOOR": 4}


def test_more_than_a_mixture_holds_of_a_lot_cannot_be_identified() -> None:
    works = Works()
    bin_of_two(works)
    identify(works, "BIN", 8, "S1")

    with pytest.raises(BadEvent, match="holds no more than 2 pcs of S1"):
        identify(works, "BIN", 3, "S1", code="ID-2")


def test_a_parent_named_twice_is_refused() -> None:
    works = Works()
    bin_of_two(works)

    with pytest.raises(BadEvent, match="twice"):
        identify(works, "BIN", 3, "S1 S1")


def test_a_mixture_is_not_amended_to_hold_less_than_was_identified_from_it() -> None:
    works = Works()
    works.receive("S3", 50)
    pooled = bin_of_two(works)
    identify(works, "BIN", 8, "S1")
    inputs = [{"item": "S3", "quantity": 10}, {"item": "S2", "quantity": 10}]

    with pytest.raises(BadEvent, match="does not hold the S1 that was identified"):
        works.amend(pooled, inputs=inputs)
    inputs = [{"item": "S1", "quantity": 5}, {"item": "S2", "quantity": 10}]
    with pytest.raises(BadEvent, match="holds less than was identified"):
        works.amend(pooled, inputs=inputs)


def test_identified_pieces_turn_out_to_be_of_another_parent() -> None:
    works = Works()
    bin_of_two(works)
    identified = identify(works, "BIN", 8, "S1")
    works.amend(identified, parents=["S2"])

    assert works.used("S2")["ID"].certain
    assert "ID" not in works.used("S1")
    assert works.used("S1")["BIN"].chance == pytest.approx(10 / 12)


def test_a_note_on_an_identification_changes_nothing_else() -> None:
    works = Works()
    bin_of_two(works)
    identified = identify(works, "BIN", 8, "S1")
    before = works.used("S1")
    works.amend(identified, evidence="stamped, seen by two")

    assert works.used("S1") == before


def test_two_identifications_from_two_groups_of_one_lot_both_count() -> None:
    works = Works()
    for code in ("S1", "S2"):
        works.receive(code, 10)
    for code in ("T1", "T2"):
        works.receive(code, 10, part="TIP")
    works.make({"SETS": 20}, ["S1", "S2", "T1", "T2"])
    identify(works, "SETS", 4, "S1", code="ID-S")
    identify(works, "SETS", 6, "T2", code="ID-T")

    assert works.used("S1")["ID-S"].certain
    assert works.used("T2")["ID-T"].certain
    assert works.used("S1")["SETS"].chance == pytest.approx(3 / 10)
    for code in ("S1", "S2", "T1", "T2"):
        assert works.lines(code) == {"FLOOR": 10}
