"""One mistake after the other, as tired people make them: none is written down as if it were so."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from lotkin.uses.stations.local_station import Station
from tests.scanning.station import PLAN, ScannedWorks

if TYPE_CHECKING:
    from pathlib import Path

    from lotkin.core.dialogue import Reply
    from lotkin.core.genealogy.view import Entry

QUICK = 300_000
"""Microseconds: a double tap."""


@pytest.fixture
def works(tmp_path: Path) -> ScannedWorks:
    two = PLAN.read_text().replace(
        '[[place]]\ncode = "STORE"',
        '[[person]]\ncode = "ben"\nname = "Ben Achter"\nroles = ["operator"]\n\n'
        '[[place]]\ncode = "STORE"',
        1,
    )
    return ScannedWorks(plan=two)


def last(works: ScannedWorks) -> Entry:
    with works.store.reading() as view:
        return view.entry(view.journal_head()[0])


def hold(works: ScannedWorks, code: str) -> str | None:
    with works.store.reading() as view:
        return view.hold(code)


def after(works: ScannedWorks, place: str, microseconds: int, text: str) -> Reply:
    """Scan so soon after the scan before."""
    station = works.station(place)
    usual = station.clock
    works.now += microseconds
    station.clock = lambda: works.now
    reply = station.take(text)
    station.clock = usual
    return reply


def turning(works: ScannedWorks) -> str:
    bar, _ = works.bar_and_blanks()
    works.scan("LATHE", "T-1/10", bar, "LATHE-1")
    return bar


# --- who


def test_a_badge_switches_at_an_idle_station(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    assert works.scan("LATHE", "ben").say == "hello Ben Achter"
    works.done("LATHE", "T-1/10", bar, "LATHE-1", "98", "", "5.98")
    assert last(works).by == "ben"


def test_a_badge_with_work_in_hand_asks_whose_it_is(works: ScannedWorks) -> None:
    turning(works)
    reply = works.scan("LATHE", "ben")
    assert "Ida Quell has begun this (step T-1/10)" in reply.ask
    assert "TAKEOVER" in reply.ask
    hand = works.station("LATHE").hand()
    assert hand.choices == ("$TAKEOVER", "$CANCEL")


@pytest.mark.parametrize("text", ["98", "", "$CONFIRM", "LATHE-1", "$REPORT"])
def test_nothing_is_taken_from_another_before_they_say_so(works: ScannedWorks, text: str) -> None:
    turning(works)
    before = last(works).seq
    assert works.scan("LATHE", "ben", text).tone == "refused"
    assert last(works).seq == before


def test_who_confirms_is_the_author_and_who_began_is_kept(works: ScannedWorks) -> None:
    turning(works)
    works.done("LATHE", "ben", "$TAKEOVER", "98", "", "5.98")
    assert last(works).by == "ben"
    assert last(works).data["note"] == "begun by ida"


def test_who_began_and_confirms_is_named_once(works: ScannedWorks) -> None:
    turning(works)
    works.done("LATHE", "ben", "ida", "98", "", "5.98")
    assert last(works).by == "ida"
    assert "note" not in last(works).data


def test_forgetting_lets_the_next_one_begin_anew(works: ScannedWorks) -> None:
    bar = turning(works)
    works.scan("LATHE", "ben", "$CANCEL")
    works.done("LATHE", "T-1/10", bar, "LATHE-1", "50", "", "5.98")
    assert last(works).by == "ben"
    assert "note" not in last(works).data


def test_a_restart_keeps_work_that_somebody_else_is_asked_about(works: ScannedWorks) -> None:
    turning(works)
    works.scan("LATHE", "ben")
    assert "Ida Quell has begun this" in works.crash("LATHE").ask
    works.done("LATHE", "$TAKEOVER", "98", "", "5.98")
    assert last(works).by == "ben"


# --- numbers


def test_more_back_than_went_out_is_asked_about(works: ScannedWorks) -> None:
    _, blanks = works.bar_and_blanks()
    works.bodies(blanks)
    works.done("STORE", "T-2/30", "T-2-20", "")
    batch = works.only("outside-batch")
    reply = works.scan("STORE", batch, "T-2-20", "200")
    assert reply.tone == "ask"
    assert "24 of T-2-20 are out" in reply.say
    reply = works.scan("STORE", "200")
    assert "176 more than went out" in works.scan("STORE", "$CLOSE").ask
    reply = works.scan("STORE", "$CONFIRM")
    assert reply.tone == "done"
    assert "more came back of T-2-20" in reply.say
    assert "176 pcs more" in (hold(works, "T-2-30") or "")


def test_a_count_put_right_is_taken_without_a_hold(works: ScannedWorks) -> None:
    _, blanks = works.bar_and_blanks()
    works.bodies(blanks)
    works.done("STORE", "T-2/30", "T-2-20", "")
    works.done("STORE", works.only("outside-batch"), "T-2-20", "240", "24")
    assert hold(works, "T-2-30") is None
    assert works.items()["T-2-30"].quantity == 24_000_000


@pytest.mark.parametrize(
    ("number", "why"), [("48213", "the order is 100"), ("111", "the order is 100")]
)
def test_a_count_beyond_the_order_is_asked_for_again(
    works: ScannedWorks, number: str, why: str
) -> None:
    turning(works)
    reply = works.scan("LATHE", number)
    assert (reply.tone, why in reply.say) == ("ask", True), reply.say
    works.done("LATHE", "98", "", "5.98")
    assert works.items()["T-1-10"].quantity == 98_000_000


def test_a_count_beyond_what_is_still_open_is_asked_for_again(works: ScannedWorks) -> None:
    bar = turning(works)
    works.done("LATHE", "90", "", "5.98")
    assert "90 are made already" in works.scan("LATHE", "T-1/10", bar, "50").say


def test_more_than_lies_there_is_asked_for_again(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    reply = works.scan("STORE", "$MOVE", bar, "OUT", "300")
    assert "the book has 30 m" in reply.say


def test_ten_percent_more_than_ordered_is_no_question(works: ScannedWorks) -> None:
    turning(works)
    assert works.scan("LATHE", "110").say == "good pcs: 110"


@pytest.mark.parametrize("odd", ["598", "59.8", "0.598", "48213"])
def test_a_reading_by_a_decimal_point_off_is_asked_for_again(works: ScannedWorks, odd: str) -> None:
    turning(works)
    reply = works.scan("LATHE", "98", "", odd)
    assert "limits are 5.97 to 6" in reply.say
    works.done("LATHE", "5.98")


def test_a_reading_just_out_of_limits_is_no_question(works: ScannedWorks) -> None:
    turning(works)
    assert "confirm" in works.scan("LATHE", "98", "", "6.05").ask


def test_a_proposal_never_exceeds_the_order(works: ScannedWorks) -> None:
    _, blanks = works.bar_and_blanks()
    assert "(Enter: 24)" in works.scan("LATHE", "T-2/10", blanks).ask


# --- too quick


def test_equal_readings_are_never_swallowed(works: ScannedWorks) -> None:
    bar, blanks = works.bar_and_blanks()
    works.stems(bar)
    works.bodies(blanks)
    works.anodised()
    works.mounted()
    works.done("BENCH", "V-1", "M-1")
    works.scan("RIG", "V-1", "RIG-1")
    for _ in range(3):
        reply = after(works, "RIG", QUICK, "10")
    assert "flow 10, 10, 10" in reply.ask


def test_a_code_read_twice_is_no_number(works: ScannedWorks) -> None:
    works.event("receive", code="1001", item_kind="purchased-lot", part="BLANK", place="STORE")
    works.scan("STORE", "$COUNT", "1001")
    assert after(works, "STORE", QUICK, "1001").say == "scanned twice, taken once"


def test_a_double_tap_never_confirms(works: ScannedWorks) -> None:
    turning(works)
    works.scan("LATHE", "98", "", "5.98")
    before = last(works).seq
    reply = after(works, "LATHE", QUICK, "$CONFIRM")
    assert (reply.tone, last(works).seq) == ("ask", before)
    assert after(works, "LATHE", 3 * QUICK, "$CONFIRM").tone == "done"


def test_a_double_tap_accepts_one_proposal(works: ScannedWorks) -> None:
    _, blanks = works.bar_and_blanks()
    works.scan("LATHE", "T-2/10", blanks)
    assert after(works, "LATHE", 3 * QUICK, "").say == "good pcs: 24"
    assert "too quick" in after(works, "LATHE", QUICK, "").say


def test_a_file_of_scans_is_never_too_quick(works: ScannedWorks) -> None:
    turning(works)
    works.scan("LATHE", "98", "", "5.98")
    station = works.station("LATHE")
    station.clock = lambda: works.now
    assert station.take("$CONFIRM", by_hand=False).tone == "done"


# --- as before


def test_what_one_step_used_is_never_carried_to_another(works: ScannedWorks) -> None:
    turning(works)
    works.done("LATHE", "98", "", "5.98")
    _, blanks = works.items(), works.only("purchased-lot", "BLANK")
    works.done("LATHE", "T-2/10", blanks, "24")
    works.event("issue", traveller="T-3", part="STEM", quantity=50)
    assert "machine LATHE-1 as before" in works.scan("LATHE", "T-3/10").say


def test_a_machine_that_stands_elsewhere_is_a_question(works: ScannedWorks) -> None:
    works.event("receive", code="MILL-9", item_kind="machine", part="MILL-9", place="OVEN")
    bar, _ = works.bar_and_blanks()
    reply = works.scan("LATHE", "T-1/10", bar, "MILL-9")
    assert "MILL-9 stands at OVEN" in reply.say
    assert "scan the machine" in reply.ask
    works.done("LATHE", "MILL-9", "98", "", "5.98")


def test_what_the_step_does_not_ask_for_is_a_question(works: ScannedWorks) -> None:
    works.event("receive", code="FIX-1", item_kind="fixture", part="FIX-1", place="LATHE")
    bar, _ = works.bar_and_blanks()
    assert "asks for no fixture" in works.scan("LATHE", "T-1/10", bar, "FIX-1").say


# --- codes that are not recorded


@pytest.mark.parametrize("text", ["4006381333931", "hello", "V-O", "V-12", "T-1-1"])
def test_what_the_plan_takes_for_no_serial_is_no_new_unit(works: ScannedWorks, text: str) -> None:
    reply = works.scan("BENCH", text)
    assert reply.tone == "refused"
    assert "serials of VALVE are written V-#" in reply.say


def test_a_unit_that_is_not_recorded_is_no_carton(works: ScannedWorks) -> None:
    reply = works.scan("OUT", "$PACK", "V-9")
    assert reply.tone == "refused"
    assert "written like a VALVE" in reply.say
    assert works.scan("OUT", "CTN-X").tone == "refused"
    assert works.scan("OUT", "CTN-7").say == "carton CTN-7"


def without_masks(tmp_path: Path) -> ScannedWorks:
    text = PLAN.read_text().replace('serials = ["V-#"]\n', "").replace('cartons = ["CTN-#"]\n', "")
    return ScannedWorks(plan=text)


def test_without_a_mask_an_unknown_code_is_asked_about_once(tmp_path: Path) -> None:
    works = without_masks(tmp_path)
    reply = works.scan("BENCH", "hello")
    assert reply.say == "hello is not recorded. A new Drip valve with this serial?"
    assert after(works, "BENCH", QUICK, "hello").say == "scanned twice, taken once"
    assert works.scan("BENCH", "$CONFIRM").say == "Drip valve hello"
    assert "new carton" in works.scan("OUT", "$PACK", "BOX-1").say
    assert works.scan("OUT", "BOX-1").say == "carton BOX-1"


def test_a_damaged_label_is_never_a_new_unit(tmp_path: Path) -> None:
    works = without_masks(tmp_path)
    bar, _ = works.bar_and_blanks()
    works.stems(bar)
    assert "is T-1-10 meant" in works.scan("BENCH", "T-1-1").say
    assert "is T-1-10 meant" in works.scan("BENCH", "T-I-10").say
    assert "lots of traveller T-2" in works.scan("BENCH", "T-2-99").say


def test_an_answer_that_differs_forgets_the_question(tmp_path: Path) -> None:
    works = without_masks(tmp_path)
    works.scan("BENCH", "hello", "$HELP", "other")
    assert works.scan("BENCH", "hello").tone == "ask"


def test_a_session_of_an_earlier_version_goes_on(works: ScannedWorks) -> None:
    turning(works)
    with works.store.scanning() as scanning:
        counter, text = scanning.stations.session("LATHE")
        for name in ("began", "owner", "claim", "remark", "doubted"):
            text = text.replace(f'"{name}": "ida", ', "").replace(f'"{name}": "", ', "")
        assert '"resources": {}' in text
        earlier = '"last_resources": ["LATHE-1"], "pending": [], "scan": "an id"'
        text = text.replace('"resources": {}', earlier)
        scanning.stations.keep_session("LATHE", counter, text)
    works.crash("LATHE")
    works.done("LATHE", "98", "", "5.98")
    assert isinstance(works.station("LATHE"), Station)
