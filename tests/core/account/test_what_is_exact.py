"""A line is exact only where it is booked, and no mixture or guess lies between."""

from __future__ import annotations

import pytest

from lotkin.core.account.words import account_title, lines_in_words
from tests.small_works import PLAN, Works


def exact(works: Works, *codes: str) -> dict[str, bool]:
    (account,) = works.accounts(*codes)
    return {line.where: line.exact for line in account.lines}


def test_scrap_and_samples_of_a_mixed_run_are_never_exact() -> None:
    """Of 80 tips of two bars 2 were scrapped and 4 cut open: of which bar, nobody knows."""
    works = Works()
    works.bar("BAR-1", 6, heat="H1")
    works.bar("BAR-2", 2, heat="H2")
    works.make({"TIPS": 74}, ["BAR-1", "BAR-2"], scrap=2, samples=4)

    assert exact(works, "BAR-1") == {"FLOOR": False, "scrap": False, "sample": False}
    assert exact(works, "BAR-2") == {"FLOOR": False, "scrap": False, "sample": False}


def test_scrap_of_a_run_of_one_bar_is_exact() -> None:
    works = Works()
    works.bar("BAR-1", 6)
    works.make({"TIPS": 58}, "BAR-1", scrap=2)

    assert exact(works, "BAR-1") == {"FLOOR": True, "scrap": True}


def test_a_place_of_a_unit_that_may_hold_one_more_is_not_exact() -> None:
    """U1 was begun under EARLY and finished under LATE; U2 and U3 are of LATE, U1 may be of it.

    The book took U1's screws from LATE: neither lot is known exactly at the bench or the clinic.
    """
    works = Works(plan=PLAN)
    works.receive("EARLY", 100)
    works.receive("LATE", 100)
    works.receive("TIPS", 50, part="TIP", item_kind="machined-lot")
    works.mount({"P1": "TIPS", "P2": "EARLY"}, at=10)
    works.build("U0", at=12)
    works.mount({"P2": "LATE"}, at=20)
    works.build("U1", started=15, at=25)
    for serial in ("U0", "U1"):
        works.test(serial, at=26)
    works.ship("S-1", ["U0", "U1"], at=27)

    assert works.lines("EARLY") == {"CLINIC": 2.0, "ROOM-1": 98.0}
    assert exact(works, "EARLY") == {"CLINIC": False, "ROOM-1": False}
    assert exact(works, "LATE") == {"CLINIC": False, "ROOM-1": False}
    # the tips of both are certain
    assert exact(works, "TIPS") == {"CLINIC": True, "ROOM-1": True}


def test_material_shared_out_by_pieces_is_not_exact() -> None:
    """30 of 60 tips hold half of their 6 m, if each is as long as the next: nobody measured."""
    works = Works()
    works.bar("BAR", 6)
    works.make({"TIPS": 60}, "BAR")
    assert exact(works, "BAR") == {"FLOOR": True}
    works.do("move", item="TIPS", quantity=30, to_place="SHELF")
    assert exact(works, "BAR") == {"FLOOR": False, "SHELF": False}


def test_powder_in_a_blend_is_exact_only_where_all_of_the_blend_is() -> None:
    works = Works()
    works.powder("OLD", 5)
    works.powder("NEW", 5)
    works.do("blend", code="BLEND", inputs=[{"item": "OLD"}, {"item": "NEW"}], part="PA12")
    assert exact(works, "OLD") == {"SHELF": True}
    works.do("move", item="BLEND", quantity=4, to_place="FLOOR")
    assert exact(works, "OLD") == {"SHELF": False, "FLOOR": False}


def test_several_screws_a_unit_stay_exact() -> None:
    works = Works(plan=PLAN)
    works.receive("SCREWS", 100)
    works.receive("TIPS", 50, part="TIP", item_kind="machined-lot")
    works.mount({"P1": "TIPS", "P2": "SCREWS"})
    for serial in ("U1", "U2"):
        works.build(serial)
    works.do("move", item="U1", to_place="SHELF")
    assert works.lines("SCREWS") == {"SHELF": 2.0, "ROOM-1": 98.0}
    assert exact(works, "SCREWS") == {"SHELF": True, "ROOM-1": True}


def test_a_piece_booked_to_a_lot_that_may_be_of_another_is_told_and_not_called_overused() -> None:
    """Two of LATE went into U2; the book took one more for U1, which may well be of EARLY."""
    works = Works(plan=PLAN)
    works.receive("EARLY", 10)
    works.receive("LATE", 2)
    works.receive("TIPS", 50, part="TIP", item_kind="machined-lot")
    works.mount({"P1": "TIPS", "P2": "EARLY"}, at=10)
    works.mount({"P2": "LATE"}, at=20)
    works.build("U1", started=15, at=25)
    works.build("U2", at=26, reported=True)

    (account,) = works.accounts("LATE")
    assert account.balance.verdict == "not all known"
    assert account.balance.over == 0
    assert account.balance.text == (
        "2 of 2 pcs accounted for, not all known: 2 pcs may be of another lot"
    )


def test_a_run_of_two_parts_has_an_account_for_each() -> None:
    works = Works()
    works.bar("BAR", 4)
    works.make(
        {
            "HEAVY": {"quantity": 10, "part": "NUT", "piece_mass_g": 30},
            "LIGHT": {"quantity": 20, "part": "PIN", "piece_mass_g": 10},
        },
        "BAR",
        run="RUN",
    )
    nuts, pins = works.accounts("RUN")
    assert (account_title(nuts), account_title(pins)) == (
        "Account of 10 pcs of NUT",
        "Account of 20 pcs of PIN",
    )
    assert (nuts.balance.of, pins.balance.of) == (10.0, 20.0)


@pytest.mark.parametrize("word", ["found", "closed"])
def test_no_line_of_an_account_that_does_not_add_up_reads_like_a_finding(word: str) -> None:
    works = Works()
    works.receive("LOT", 10)
    works.split("LOT", {"PART": 12}, reported=True)
    (account,) = works.accounts("LOT")
    rows = lines_in_words(account, str)
    assert [row.known for row in rows if row.quantity.startswith("-")] == [
        "more used than there were"
    ]
    assert "counted" not in [row.known for row in rows]
    assert word not in account.balance.text


def test_a_surplus_is_called_one_and_not_lost() -> None:
    works = Works()
    works.receive("LOT", 10)
    works.do("count", place="SHELF", item="LOT", counted=12)
    (account,) = works.accounts("LOT")
    assert [row.where for row in lines_in_words(account, str)] == ["SHELF", "surplus"]
    assert account.balance.text == "does not add up: 2 pcs more were counted than there were"
