"""Accounts of several subjects, of pieces found, and of what was never written down."""

from __future__ import annotations

from lotkin.core.account.account import account_of
from lotkin.core.account.sheet import NOT_RECORDED
from lotkin.core.values.places import Spot
from lotkin.core.values.quantities import MICRO
from tests.genealogies import read_genealogy
from tests.small_works import Works


def take_over(
    items: dict[str, int | None], links: list[tuple[str, str, int | None]], mixing: str = "each"
) -> Works:
    """Import lots of pieces and what was taken for which; None where nobody wrote it down."""
    works = Works()
    works.do(
        "import",
        items=[
            [code, "machined-lot", "TIP", None if n is None else n * MICRO, "pcs", None]
            for code, n in items.items()
        ],
        links=[
            [parent, child, None if n is None else n * MICRO, 1, mixing, MICRO]
            for parent, child, n in links
        ],
    )
    return works


def test_a_subject_that_derives_from_another_counts_once() -> None:
    """30 of the 100 screws were split off: asked about both, there are 100, not 130."""
    works = Works()
    works.receive("LOT", 100)
    works.split("LOT", {"PART": 30})
    works.do("move", item="PART", to_place="FLOOR")
    for codes in (("LOT", "PART"), ("PART", "LOT")):
        (account,) = works.accounts(*codes)
        assert account.quantity == 100.0
        assert works.lines(*codes) == {"SHELF": 70.0, "FLOOR": 30.0}


def test_a_subject_that_derives_in_part_brings_the_rest() -> None:
    """MIX has 10 of LOT and 40 of OTHER: with LOT's 100 that is 140."""
    works = Works()
    works.receive("LOT", 100)
    works.receive("OTHER", 40)
    works.pool("MIX", {"LOT": 10, "OTHER": 40})
    assert works.lines("LOT", "MIX") == {"SHELF": 140.0}
    assert works.accounts("LOT", "MIX")[0].is_complete


def test_what_derives_from_two_subjects_counts_once() -> None:
    """All 50 of MIX are of both: 50 in MIX, 90 + 0 left of the lots."""
    works = Works()
    works.receive("LOT", 100)
    works.receive("OTHER", 40)
    works.pool("MIX", {"LOT": 10, "OTHER": 40})
    works.do("move", item="MIX", to_place="FLOOR")
    assert works.lines("LOT", "OTHER") == {"SHELF": 90.0, "FLOOR": 50.0}


def test_subjects_in_different_units_have_an_account_each() -> None:
    works = Works()
    works.bar("BAR", 3)
    works.receive("SCREWS", 10)
    bar, screws = works.accounts("BAR", "SCREWS")
    assert (bar.unit, bar.quantity) == ("m", 3.0)
    assert (screws.unit, screws.quantity) == ("pcs", 10.0)


def test_lost_pieces_are_never_called_found() -> None:
    """240 of 250 springs were counted: 10 are missing, and no word says otherwise."""
    works = Works()
    works.receive("SPRINGS", 250)
    assert works.accounts("SPRINGS")[0].balance.text == "250 of 250 pcs accounted for"
    works.do("count", place="SHELF", item="SPRINGS", counted=240)
    (account,) = works.accounts("SPRINGS")
    balance = account.balance
    assert (balance.verdict, balance.found, balance.missing) == ("missing", 240.0, 10.0)
    assert balance.text == "240 of 250 pcs accounted for, 10 pcs missing"


def test_too_few_of_one_lot_do_not_make_up_for_too_many_of_another() -> None:
    """Of 20 in two boxes 3 lack in one and 3 are too many in the other: neither is settled."""
    works = Works()
    works.receive("LOT", 20)
    works.split("LOT", {"ONE": 10, "TWO": 10})
    works.do("count", place="SHELF", item="ONE", counted=7)
    works.do("count", place="SHELF", item="TWO", counted=13)
    assert works.lines("LOT") == {"SHELF": 20.0, "lost": 0.0}
    assert works.accounts("LOT")[0].balance.text == (
        "does not add up: 3 pcs more were counted than there were, 3 pcs missing"
    )


def test_a_count_below_the_book_is_lost_and_one_above_is_found() -> None:
    """100 by the book, 97 counted: 3 lost; later 99 counted: 2 of them found again."""
    works = Works()
    works.receive("LOT", 100)
    works.do("count", place="SHELF", item="LOT", counted=97)
    assert works.lines("LOT") == {"SHELF": 97.0, "lost": 3.0}
    works.do("count", place="SHELF", item="LOT", counted=99)
    assert works.lines("LOT") == {"SHELF": 99.0, "lost": 1.0}


def test_pieces_without_a_label_are_shared_out_among_their_candidates() -> None:
    """4 found, of a lot of 30 or one of 10: 3 and 1 are expected, as found as they are there."""
    works = Works()
    works.receive("A", 30)
    works.receive("B", 10)
    works.do(
        "count", place="FLOOR", found={"code": "FOUND", "candidates": ["A", "B"], "quantity": 4}
    )
    assert works.lines("A") == {"SHELF": 30.0, "FLOOR": 3.0, "lost": -3.0}
    assert works.lines("B") == {"SHELF": 10.0, "FLOOR": 1.0, "lost": -1.0}
    (account,) = works.accounts("A")
    assert not any(line.exact for line in account.lines)
    assert account.balance.text == "does not add up: 3 pcs more were counted than there were"


def test_identified_pieces_are_no_longer_shared() -> None:
    """Of 40 mixed pieces 5 proved to be A: A has 5 for certain and 25 expected among 35."""
    works = Works()
    works.receive("A", 30)
    works.receive("B", 10)
    works.pool("MIX", ["A", "B"])
    works.do(
        "identify",
        item="MIX",
        quantity=5,
        code="PROVEN",
        parents=["A"],
        evidence="hardness",
        to_place="FLOOR",
    )
    assert works.lines("A") == {"SHELF": 25.0, "FLOOR": 5.0}
    assert works.lines("B") == {"SHELF": 10.0}
    exact = {line.where: line.exact for line in works.accounts("A")[0].lines}
    assert exact == {"SHELF": False, "FLOOR": True}


def test_a_use_without_a_quantity_is_not_recorded() -> None:
    """Something of the 100 went into B, nobody wrote down how much: nothing is known of any."""
    works = take_over({"A": 100, "B": 40}, [("A", "B", None)])
    assert works.lines("A") == {NOT_RECORDED: 100.0}
    (account,) = works.accounts("A")
    assert (account.quantity, account.found, account.is_complete) == (100.0, 0.0, False)
    assert account.balance.verdict == "not all known"
    assert not any(line.exact for line in account.lines)
    assert works.lines("B") == {"imported": 40.0}


def test_what_no_booking_shows_is_not_recorded_and_not_missing() -> None:
    """Of the 10 in the lot 6 are booked on the shelf; of the other 4 nothing is on record."""
    reach = read_genealogy("purchased-lot A 10").below("A")
    stock = {reach.starts[0]: {Spot("SHELF"): 6 * MICRO}}
    (account,) = account_of(reach, stock, [True], [False])
    assert {line.where: line.quantity for line in account.lines} == {
        "SHELF": 6.0,
        NOT_RECORDED: 4.0,
    }
    assert account.balance.verdict == "not all known"


def test_a_lot_of_unknown_size_swallows_what_went_into_it() -> None:
    """40 of A are in B, which was never counted; the other 60 are where they were."""
    works = take_over({"A": 100, "B": None, "C": 10}, [("A", "B", 40), ("B", "C", 10)])
    assert works.lines("A") == {"imported": 60.0, NOT_RECORDED: 40.0}
    (account,) = works.accounts("A")
    assert (account.found, account.is_complete) == (0.0, False)


def test_scrap_of_a_vague_lot_is_still_scrap() -> None:
    """5 were scrapped for certain; of the other 95 some are in B."""
    works = take_over({"A": 100, "B": 40}, [("A", "B", None)])
    works.do("scrap", item="A", quantity=5, place="imported", reason="rust")
    assert works.lines("A") == {"scrap": 5.0, NOT_RECORDED: 95.0}


def test_an_import_without_places_does_not_say_that_all_is_known() -> None:
    """40 of 100 went into B with 10 of C: 60 are left, and 40 of the 50 in B; tables name no place.

    Counted where it lies, what is left is accounted for.
    """
    works = take_over({"A": 100, "C": 10, "B": 50}, [("A", "B", 40), ("C", "B", 10)], "one-of")
    assert works.lines("A") == {"imported": 100.0}
    (account,) = works.accounts("A")
    assert not account.lines[0].exact
    assert account.balance.text == (
        "0 of 100 pcs accounted for, not all known: 100 pcs at no recorded place"
    )
    for code in ("A", "B"):
        works.do("move", item=code, to_place="SHELF")
    assert works.accounts("A")[0].balance.text == "100 of 100 pcs accounted for"


def test_more_used_than_there_was_shows_as_a_negative_place() -> None:
    """12 of 10 were used, reported afterwards: -2 on the shelf until it is counted."""
    works = Works()
    works.receive("LOT", 10)
    works.split("LOT", {"PART": 12}, reported=True)
    works.do("move", item="PART", to_place="FLOOR")
    assert works.lines("LOT") == {"SHELF": -2.0, "FLOOR": 12.0}
    said = "does not add up: 2 pcs more were used than were made"
    assert works.accounts("LOT")[0].balance.text == said
    works.do("count", place="SHELF", item="LOT", counted=0)
    assert works.lines("LOT") == {"FLOOR": 12.0, "lost": -2.0}
    assert works.accounts("LOT")[0].balance.text == said
    assert not any(line.exact for line in works.accounts("LOT")[0].lines)


def test_a_carton_is_accounted_for_as_one_thing_or_not_at_all() -> None:
    """A carton is no material: what is in it has accounts, the carton has none."""
    works = Works()
    works.receive("LOT", 10)
    works.pack("CARTON", {"LOT": 4})
    assert works.accounts("CARTON") == ()
    assert works.lines("LOT") == {"SHELF": 10.0}
