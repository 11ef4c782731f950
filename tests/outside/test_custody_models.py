"""Lots at an outside service, kept apart or mixed, through events as they are recorded.

Source: ISO 22095:2020, 3.3.1 to 3.3.3, in our own words: what is identity-preserved or segregated
keeps its lots apart from the rest, and is known by its origin; what is blended has its origins in a
known proportion. That lots kept apart on one load still share the load's bath, and that loads come
back mixed or short, is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.small_works import Works


@pytest.fixture
def works() -> Works:
    """Two machined lots of 100 and 50 tips, of two bars."""
    works = Works()
    works.bar("BAR-1", 10)
    works.bar("BAR-2", 10)
    works.make({"A": 100}, {"BAR-1": 5}, run="RUN-A")
    works.make({"B": 50}, {"BAR-2": 5}, run="RUN-B")
    return works


def test_lots_kept_apart_stay_apart(works: Works) -> None:
    works.send("BATCH", ["A", "B"])
    works.take_back("BATCH", {"A-BLUE": (100, "A"), "B-BLUE": (50, "B")})
    assert set(works.used("A")) == {"A-BLUE"}
    assert set(works.used("B")) == {"B-BLUE"}
    assert set(works.used("BATCH")) == {"A-BLUE", "B-BLUE"}
    assert all(row.certain for lot in ("A", "B", "BATCH") for row in works.used(lot).values())
    assert set(works.origin("A-BLUE")) == {"A", "BATCH", "BAR-1", "RUN-A"}


def test_lots_tipped_together_cannot_be_told_apart(works: Works) -> None:
    works.send("BATCH", ["A", "B"])
    works.take_back("BATCH", {"MIX": (150, ["A", "B"])})
    (mix,) = works.used("A").values()
    assert (mix.code, mix.certain) == ("MIX", False)
    assert mix.chance == pytest.approx(2 / 3)
    assert works.used("B")["MIX"].chance == pytest.approx(1 / 3)
    assert works.used("BATCH")["MIX"].certain
    assert {"A", "B", "BAR-1", "BAR-2", "BATCH"} <= set(works.origin("MIX"))


def test_only_the_tray_that_was_tipped_is_mixed(works: Works) -> None:
    """80 of A came back in their own tray, the other 20 with all of B."""
    works.send("BATCH", ["A", "B"])
    returns = {
        "A-BLUE": (80, [{"item": "A", "quantity": 80}]),
        "MIX": (70, [{"item": "A", "quantity": 20}, {"item": "B", "quantity": 50}]),
    }
    works.take_back("BATCH", returns)
    found = works.used("A")
    assert found["A-BLUE"].certain
    assert found["MIX"].chance == pytest.approx(20 / 70)
    assert set(works.used("B")) == {"MIX"}


def test_what_is_made_later_inherits_from_its_own_tray(works: Works) -> None:
    works.send("BATCH", ["A", "B"])
    works.take_back("BATCH", {"A-BLUE": (100, "A"), "B-BLUE": (50, "B")})
    works.build("U1", None, place="ROOM-1", inputs={"A-BLUE": 1})
    works.build("U2", None, place="ROOM-1", inputs={"B-BLUE": 1})
    assert "U2" not in works.used("BAR-1")
    assert "U1" not in works.used("BAR-2")
    assert {"U1", "U2"} <= set(works.used("BATCH"))
    assert "BATCH" not in works.used("BAR-1"), "a load is made of nothing that it treated"


def test_two_loads_share_nothing(works: Works) -> None:
    works.send("BATCH-1", "A")
    works.send("BATCH-2", "B")
    works.take_back("BATCH-1", {"A-BLUE": (100, "A")})
    works.take_back("BATCH-2", {"B-BLUE": (50, "B")})
    assert set(works.used("BATCH-1")) == {"A-BLUE"}
    assert set(works.used("BATCH-2")) == {"B-BLUE"}


def test_one_lot_in_two_loads_is_two_treated_lots(works: Works) -> None:
    works.send("BATCH-1", {"A": 60})
    works.send("BATCH-2", [{"item": "A", "place": "FLOOR"}, "B"])
    works.take_back("BATCH-1", {"A-BLUE-1": (60, "A")})
    works.take_back("BATCH-2", {"A-BLUE-2": (40, "A"), "B-BLUE": (50, "B")})
    assert set(works.used("A")) == {"A-BLUE-1", "A-BLUE-2"}
    assert set(works.used("BATCH-2")) == {"A-BLUE-2", "B-BLUE"}


def test_returns_in_parts_belong_to_the_same_load(works: Works) -> None:
    works.send("BATCH", "A")
    works.take_back("BATCH", {"A-BLUE-1": (60, "A")})
    works.take_back("BATCH", {"A-BLUE-2": (40, "A")}, close=True)
    assert set(works.used("BATCH")) == {"A-BLUE-1", "A-BLUE-2"}


def test_reworked_pieces_have_been_through_both_loads(works: Works) -> None:
    """30 pieces had stains and were stripped and anodised again in another load, with B."""
    works.send("BATCH-1", "A")
    works.take_back("BATCH-1", {"A-BLUE": (100, "A")})
    works.send("BATCH-2", {"A-BLUE": 30, "B": 50})
    works.take_back("BATCH-2", {"A-AGAIN": (30, "A-BLUE"), "B-BLUE": (50, "B")})
    assert set(works.used("BATCH-1")) == {"A-BLUE", "A-AGAIN"}
    assert set(works.used("BATCH-2")) == {"A-AGAIN", "B-BLUE"}
    assert {"BATCH-1", "BATCH-2", "A", "BAR-1"} <= set(works.origin("A-AGAIN"))
    assert "BATCH-2" not in works.origin("A-BLUE")


def test_rework_that_is_tipped_to_new_pieces_is_possible_only(works: Works) -> None:
    works.send("BATCH-1", "A")
    works.take_back("BATCH-1", {"A-BLUE": (100, "A")})
    works.send("BATCH-2", {"A-BLUE": 30, "B": 50})
    works.take_back("BATCH-2", {"MIX": (80, ["A-BLUE", "B"])})
    assert works.used("BATCH-1")["MIX"].chance == pytest.approx(30 / 80)
    assert not works.used("BATCH-1")["MIX"].certain
    assert works.used("BATCH-2")["MIX"].certain


def test_a_blend_knows_its_origins_in_proportion() -> None:
    works = Works()
    works.powder("RENEWED", 6)
    works.powder("OTHER", 14)
    works.blend("P", ["RENEWED", "OTHER"])
    found = works.used("RENEWED")["P"]
    assert found.certain
    assert found.content == pytest.approx(0.3)
