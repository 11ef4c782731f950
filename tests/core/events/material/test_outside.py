"""Loads at an outside service: told apart, mixed, in parts, and found to have been one load."""

from __future__ import annotations

import pytest

from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.hold_first import stops_of
from tests.laws import check_conserved, check_records
from tests.small_works import Works


def sent(*batches: str) -> Works:
    """Send a lot of 50 tips with each of some batches: TIPS-1 with the first, and so on."""
    works = Works()
    for i, batch in enumerate(batches, start=1):
        works.receive(f"TIPS-{i}", 50, part="TIP")
        works.send(batch, f"TIPS-{i}")
    return works


def test_lots_that_came_back_apart_share_their_batch_and_nothing_else() -> None:
    works = sent("OUT")
    works.receive("TIPS-2", 30, part="TIP")
    works.send("OUT", "TIPS-2")
    works.take_back("OUT", {"RED-1": (50, "TIPS-1"), "RED-2": (30, "TIPS-2")})

    assert works.used("OUT").keys() == {"RED-1", "RED-2"}
    assert works.used("TIPS-1").keys() == {"RED-1"}
    assert works.used("TIPS-2").keys() == {"RED-2"}


def test_lots_that_came_back_tipped_together_are_one_mixture() -> None:
    works = sent("OUT")
    works.receive("TIPS-2", 30, part="TIP")
    works.send("OUT", "TIPS-2")
    works.take_back("OUT", {"RED": (80, ["TIPS-1", "TIPS-2"])})

    assert works.used("TIPS-1")["RED"].chance == pytest.approx(50 / 80)
    assert works.used("OUT")["RED"].certain


def test_two_dispatches_found_to_have_been_one_load_are_merged() -> None:
    works = sent("OUT-1", "OUT-2")
    back = works.take_back("OUT-1", {"RED-1": (50, "TIPS-1")})
    other = works.take_back("OUT-2", {"RED-2": (45, "TIPS-2")})
    sending = works.log[3]
    assert works.used("OUT-1").keys() == {"RED-1"}

    works.amend_all({sending.id: {"batch": "OUT-1"}, other.id: {"batch": "OUT-1"}})

    assert works.used("OUT-1").keys() == {"RED-1", "RED-2"}
    assert works.used("TIPS-1").keys() == {"RED-1"}
    assert works.lines("OUT-1") == {"SHELF": 95, "ANODISER": 5}
    # the works has no plan: nothing says what kind of place the anodiser is
    found = contain(works.store, ["OUT-1"])
    assert found.unknown_places["ANODISER"][0].code == "TIPS-2"
    assert found.places == {}
    stops = {(stop.place, stop.code, stop.quantity) for stop in stops_of(found).stops}
    assert stops == {
        ("ANODISER", "TIPS-2", 5_000_000),
        ("SHELF", "RED-1", 50_000_000),
        ("SHELF", "RED-2", 45_000_000),
    }
    check_records(works)
    check_conserved(works)

    works.amend(back, supplier_batch="A-77")
    works.void(works.log[-2])

    assert works.used("OUT-1").keys() == {"RED-1"}
    assert works.used("OUT-2").keys() == {"RED-2"}
    check_records(works)


def test_a_load_that_is_merged_only_in_part_keeps_what_is_still_out_with_its_batch() -> None:
    works = sent("OUT-1", "OUT-2")
    works.amend(works.log[3], batch="OUT-1")
    works.take_back("OUT-1", {"RED": (90, ["TIPS-1", "TIPS-2"])}, close=True)

    assert works.used("OUT-1").keys() == {"RED"}
    assert works.lines("TIPS-1") == {
        "SHELF": pytest.approx(45, abs=1),
        "lost": pytest.approx(5, abs=1),
    }
    assert works.lines("OUT-1") == {"SHELF": 90, "lost": 10}
    check_conserved(works)


@pytest.mark.parametrize(
    ("came", "close", "lines"),
    [
        (50, False, {"SHELF": 50}),
        (42, False, {"SHELF": 42, "ANODISER": 8}),
        (42, True, {"SHELF": 42, "lost": 8}),
        (53, False, {"SHELF": 53, "lost": -3}),
        (53, True, {"SHELF": 53, "lost": -3}),
    ],
)
def test_what_came_back_short_or_over_is_accounted_for(
    came: int, close: bool, lines: dict[str, int]
) -> None:
    works = sent("OUT")
    works.take_back("OUT", {"RED": (came, "TIPS-1")}, close=close, reported=came > 50)

    assert works.lines("TIPS-1") == lines
    assert works.lines("OUT") == lines
    check_conserved(works)


def test_a_load_that_came_back_in_parts_is_accounted_for_at_every_moment() -> None:
    works = sent("OUT")
    seen = []
    for day, came in enumerate((20, 20, 9), start=1):
        works.take_back("OUT", {f"RED-{day}": (came, "TIPS-1")}, close=day == 3)
        seen.append(works.lines("OUT"))

    assert seen == [
        {"SHELF": 20, "ANODISER": 30},
        {"SHELF": 40, "ANODISER": 10},
        {"SHELF": 49, "lost": 1},
    ]


def test_pieces_spoilt_outside_belong_to_the_batch() -> None:
    works = sent("OUT")
    spoilt = [{"item": "TIPS-1", "quantity": 4}]
    works.take_back("OUT", {"RED": (46, "TIPS-1")}, scrap=spoilt, close=True)

    assert works.lines("OUT") == {"SHELF": 46, "scrap": 4}
    assert works.lines("TIPS-1") == {"SHELF": 46, "scrap": 4}
