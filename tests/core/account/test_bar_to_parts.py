"""Accounts of bar stock: from metres to parts, with swarf, scrap, samples and what is left over."""

from __future__ import annotations

import pytest

from lotkin.core.account.sheet import NOT_RECORDED
from tests.small_works import Works


@pytest.fixture
def works() -> Works:
    """96 good tips from 3 m of bar, half a metre of it swarf; 3 were scrapped, 1 cut open.

    Of 6 m of BAR-1 and 3 m of BAR-2, both of heat H48. 2.5 m in 100 pieces are 0.025 m a piece.
    """
    works = Works()
    works.bar("BAR-1", 6, heat="H48")
    works.bar("BAR-2", 3, heat="H48")
    works.make(
        {"TIPS": 96},
        [{"item": "BAR-1", "quantity": 3, "loss": "0.5"}],
        run="RUN",
        scrap=3,
        samples=1,
    )
    return works


def test_a_bar_lot_is_on_the_shelf_in_parts_and_in_swarf(works: Works) -> None:
    """6 = 3 left + 96 * 0.025 in good parts + 3 * 0.025 scrap + 0.025 sample + 0.5 swarf."""
    assert works.lines("BAR-1") == {
        "SHELF": 3.0,
        "FLOOR": 2.4,
        "scrap": 0.075,
        "sample": 0.025,
        "process loss": 0.5,
    }
    (account,) = works.accounts("BAR-1")
    assert (account.unit, account.quantity, account.found) == ("m", 6.0, 6.0)
    assert account.is_complete
    assert all(line.exact for line in account.lines)


def test_a_heat_is_accounted_for_from_its_deliveries(works: Works) -> None:
    """9 = 6 + 3: what lies on the shelf is 3 of each."""
    (account,) = works.accounts("MILL:H48")
    assert account.quantity == 9.0
    assert works.lines("MILL:H48")["SHELF"] == 6.0
    assert account.is_complete


def test_a_run_is_accounted_for_from_what_came_out_of_it(works: Works) -> None:
    """The 96 parts, of which 6 were moved and 10 scrapped; not the 4 that never became a lot."""
    works.do("move", item="TIPS", quantity=6, to_place="SHELF")
    works.do("scrap", item="TIPS", quantity=10, place="FLOOR", reason="burr")
    assert works.lines("RUN") == {"FLOOR": 80.0, "SHELF": 6.0, "scrap": 10.0}
    (account,) = works.accounts("RUN")
    assert (account.unit, account.quantity) == ("pcs", 96.0)


def test_places_come_before_ends(works: Works) -> None:
    (account,) = works.accounts("BAR-1")
    assert [line.where for line in account.lines] == [
        "FLOOR",
        "SHELF",
        "process loss",
        "sample",
        "scrap",
    ]


def test_scrap_of_parts_is_scrap_of_their_bar(works: Works) -> None:
    """Ten more parts scrapped are 0.25 m more; 86 good ones hold 2.15 m."""
    works.do("scrap", item="TIPS", quantity=10, reason="burr")
    lines = works.lines("BAR-1")
    assert (lines["FLOOR"], lines["scrap"]) == (2.15, 0.325)


def test_two_products_of_a_run_share_the_bar_by_mass() -> None:
    """4 m into 10 heavy parts of 30 g and 10 light ones of 10 g: 3 m and 1 m."""
    works = Works()
    works.bar("BAR", 4)
    works.make(
        {
            "HEAVY": {"quantity": 10, "part": "NUT", "piece_mass_g": 30},
            "LIGHT": {"quantity": 10, "part": "PIN", "piece_mass_g": 10},
        },
        "BAR",
    )
    works.do("move", item="LIGHT", to_place="SHELF")
    assert works.lines("BAR") == {"FLOOR": 3.0, "SHELF": 1.0}


def test_parts_of_a_third_of_a_metre_still_sum_to_the_bar() -> None:
    """1 m in three parts that go three ways: thirds to the millionth, and no remainder."""
    works = Works()
    works.bar("BAR", 1)
    works.make({"TIPS": 3}, "BAR")
    works.do("move", item="TIPS", quantity=1, to_place="SHELF")
    works.do("scrap", item="TIPS", quantity=1, place="FLOOR", reason="burr")
    lines = works.lines("BAR")
    assert sorted(lines.values()) == [0.333333, 0.333333, 0.333334]
    assert sum(lines.values()) == pytest.approx(1.0, abs=1e-12)
    assert works.accounts("BAR")[0].is_complete


def test_a_mixture_of_bars_is_expected_by_share() -> None:
    """4 of 10 m were BAR-1: of 30 tips moved and 20 scrapped, 1.2 m and 0.8 m are expected.

    Of both bars together 3 m were moved: as much as 30 of 100 tips hold, which nobody measured.
    """
    works = Works()
    works.bar("BAR-1", 4)
    works.bar("BAR-2", 6)
    works.make({"TIPS": 100}, ["BAR-1", "BAR-2"])
    works.do("move", item="TIPS", quantity=30, to_place="SHELF")
    works.do("scrap", item="TIPS", quantity=20, place="FLOOR", reason="burr")
    assert works.lines("BAR-1") == {"FLOOR": 2.0, "SHELF": 1.2, "scrap": 0.8}
    (account,) = works.accounts("BAR-1")
    assert not any(line.exact for line in account.lines)
    (both,) = works.accounts("BAR-1", "BAR-2")
    assert both.quantity == 10.0
    assert not any(line.exact for line in both.lines)


def test_dye_that_went_into_a_bath_is_used_in_it() -> None:
    """2 of 5 kg; the bath is a resource, and no part of what it colours."""
    works = Works()
    works.powder("DYE", 5)
    bath = {"quantity": 20, "unit": "kg", "item_kind": "bath", "part": "BLUE"}
    works.make({"BATH": bath}, {"DYE": 2})
    assert works.lines("DYE") == {"SHELF": 3.0, "used in": 2.0}
    assert NOT_RECORDED not in works.lines("DYE")
