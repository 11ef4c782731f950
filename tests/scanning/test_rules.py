"""The dialogue refuses with a reason, asks what it must, and never loses a scan."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.errors import BadFile, NoPlan
from lotkin.core.values.instants import show_instant
from lotkin.uses.asking.where import where_used
from lotkin.uses.evidence.verify import verify
from lotkin.uses.stations.local_station import Station
from tests.scanning.station import BAR_LABEL, PLAN, ScannedWorks
from tests.stores import fresh_store

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def works(tmp_path: Path) -> ScannedWorks:
    return ScannedWorks()


def events(works: ScannedWorks) -> int:
    return verify(works.store).events


def test_nobody_works_without_a_badge(works: ScannedWorks) -> None:
    station = Station(works.store, "LATHE", works.clock)
    assert station.begin().ask == "scan your badge"
    assert station.take("T-1/10").tone == "refused"
    assert station.take("ida").say == "hello Ida Quell"


def test_without_a_plan_there_is_no_dialogue() -> None:
    with pytest.raises(NoPlan):
        Station(fresh_store(), "LATHE", lambda: 0).begin()


def test_a_label_is_read_whole(works: ScannedWorks) -> None:
    reply = works.scan("STORE", BAR_LABEL)
    assert reply.say == "part BAR-8, lot H4711, from NORD, quantity 30"
    assert reply.ask == "scan the place"


def test_an_expiry_on_the_label_is_taken_and_never_called_not_given(tmp_path: Path) -> None:
    text = PLAN.read_text().replace('code = "VIRGIN"', 'code = "VIRGIN"\nshelf_life_days = 365')
    works = ScannedWorks(plan=text)
    for lot, expiry in (("L1", "\x1d14D20280301"), ("L2", "")):
        label = f"[)>\x1e06\x1dVNORD\x1dPVIRGIN\x1d1T{lot}{expiry}\x1d7Q20KG\x1e\x04"
        works.done("STORE", label, "STORE", "")
    lots = [item for item in works.items().values() if item.kind == "powder-lot"]
    dated, bare = sorted(lots, key=lambda item: item.event)
    assert show_instant(dated.due_at)[:10] == "2028-03-01"
    with works.store.reading() as view:
        assert view.hold(dated.code) is None
        assert "printed expiry not given" in (view.hold(bare.code) or "")


def test_a_wrong_part_is_refused_with_what_belongs_there(works: ScannedWorks) -> None:
    _, blanks = works.bar_and_blanks()
    reply = works.scan("LATHE", "T-1/10", blanks)
    assert reply.tone == "refused"
    assert "it takes BAR-8" in reply.say


def test_a_skipped_step_is_refused(works: ScannedWorks) -> None:
    _, blanks = works.bar_and_blanks()
    works.done("LATHE", "T-2/10", blanks, "25")
    reply = works.scan("STORE", "T-2/30", "T-2-10")
    assert reply.tone == "refused"
    assert "step 30 follows step 20" in reply.say


def test_a_held_lot_is_refused_at_the_scan(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    works.event("inspect", item=bar, inspection="Q-1", result="hold", reason="bent", place="STORE")
    reply = works.scan("LATHE", "T-1/10", bar)
    assert reply.tone == "refused"
    assert "bent" in reply.say


def test_drying_too_short_is_refused_and_can_be_reported(works: ScannedWorks) -> None:
    _, blanks = works.bar_and_blanks()
    works.done("LATHE", "T-2/10", blanks, "25")
    works.scan("OVEN", "T-2/20", "$START")
    works.wait(20)
    before = events(works)
    reply = works.scan("OVEN", "T-2/20", "T-2-10", "", "60", "$CONFIRM")
    assert reply.tone == "refused"
    assert "step 20 needs 60" in reply.say
    assert events(works) == before
    reply = works.scan("OVEN", "$REPORT")
    assert reply.tone == "done"
    assert "recorded although" in reply.say
    assert events(works) == before + 1


def test_a_second_heat_is_mixed_or_kept_apart_as_is_answered(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    works.done("STORE", BAR_LABEL.replace("H4711", "H4712"), "STORE", "")
    other = next(
        code for code, item in works.items().items() if item.kind == "bar-lot" and code != bar
    )
    reply = works.scan("LATHE", "T-1/10", bar, other)
    assert "MIX or APART" in reply.ask
    works.done("LATHE", "$APART", "LATHE-1", "40", "", "5.98")
    works.done("LATHE", "T-1/10", other, bar, "$MIX", "50", "", "", "5.98")
    used = {row.code: row.certain for row in where_used(works.store, bar).items}
    assert used["T-1-10"] is True
    assert used["T-1-10B"] is False


def test_trays_come_back_apart_or_mixed_as_is_answered(works: ScannedWorks) -> None:
    _, blanks = works.bar_and_blanks()
    works.event("issue", traveller="T-4", part="BODY", quantity=10)
    works.done("LATHE", "T-2/10", blanks, "15")
    works.done("LATHE", "T-4/10", blanks, "10")
    for traveller in ("T-2", "T-4"):
        works.scan("OVEN", f"{traveller}/20", "$START")
    works.wait(75)
    for traveller in ("T-2", "T-4"):
        works.done("OVEN", f"{traveller}/20", f"{traveller}-10", "", "60")
    works.done("STORE", "T-2/30", "T-2-20", "T-4-20", "", "")
    batch = works.only("outside-batch")
    reply = works.scan("STORE", batch, "T-2-20", "T-4-20")
    assert "tipped together" in reply.ask
    works.done("STORE", "$MIX", "25")
    mixed = {row.code: row.certain for row in where_used(works.store, "T-2-20").items}
    assert mixed == {"T-2-30": False}


def test_a_bin_is_topped_up_or_replaced_as_is_answered(works: ScannedWorks) -> None:
    bar, blanks = works.bar_and_blanks()
    works.stems(bar)
    works.bodies(blanks)
    works.anodised()
    works.mounted()
    works.event("issue", traveller="T-5", part="STEM", quantity=50)
    works.done("LATHE", "T-5/10", bar, "50", "", "5.99")
    reply = works.scan("BENCH", "$AT B1 P2", "T-5-10")
    assert "MIX" in reply.ask
    works.done("BENCH", "$MIX")
    pooled = works.only("mixed-lot")
    assert works.stock(pooled) == {"BENCH": 148}
    works.done("BENCH", "V-9", "M-4")
    assert works.stock(pooled) == {"BENCH": 146, "used in": 2}


def test_powder_is_mixed_by_mass_with_the_used_share_shown(works: ScannedWorks) -> None:
    works.event(
        "receive", code="P-1", item_kind="powder-lot", part="VIRGIN", quantity=10, place="STORE"
    )
    works.event(
        "receive", code="P-2", item_kind="powder-lot", part="VIRGIN", quantity=10, place="STORE"
    )
    reply = works.scan("STORE", "$BLEND", "P-1", "P-2", "4", "3")
    assert "0% used (the plan allows 50%)" in reply.ask
    works.done("STORE")
    assert works.stock(works.only("powder-blend")) == {"STORE": 7}


def test_a_scan_that_comes_twice_is_taken_once(works: ScannedWorks) -> None:
    _, blanks = works.bar_and_blanks()
    works.station("LATHE")
    works.scan("LATHE", "T-2/10")
    station = works.stations["LATHE"]
    works.clock = lambda: works.now  # type: ignore[method-assign]
    station.clock = works.clock
    station.take(blanks)
    assert station.take(blanks).say == "scanned twice, taken once"


def test_undo_voids_what_was_recorded_last(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    works.stems(bar)
    assert "T-1-10" in works.items()
    reply = works.scan("LATHE", "$UNDO")
    assert reply.tone == "done"
    assert "T-1-10" not in works.items()
    assert works.stock(bar) == {"STORE": 30}
    assert works.scan("LATHE", "$UNDO").tone == "refused"


def test_what_is_in_use_is_not_undone_but_to_be_amended(works: ScannedWorks) -> None:
    bar, blanks = works.bar_and_blanks()
    works.stems(bar)
    works.bodies(blanks)
    works.anodised()
    works.mounted()
    works.done("BENCH", "V-1", "M-1")
    reply = works.scan("LATHE", "$UNDO")
    assert reply.tone == "refused"
    assert "amend" in reply.say


def test_a_session_goes_on_after_a_crash(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    works.scan("LATHE", "T-1/10", bar, "LATHE-1", "98")
    reply = works.crash("LATHE")
    assert reply.ask.startswith("m of ")
    works.done("LATHE", "", "5.98")
    assert "T-1-10" in works.items()


def test_a_session_that_cannot_be_read_is_told(works: ScannedWorks) -> None:
    works.station("LATHE")
    with works.store.scanning() as scanning:
        scanning.stations.keep_session("LATHE", 9, '{"number": ')
    with pytest.raises(BadFile, match="work in hand cannot be read"):
        works.crash("LATHE")
    assert Station(works.store, "LATHE", works.clock, "LATHE 2").begin().ask == "scan your badge"


@given(
    st.lists(
        st.text(max_size=30)
        | st.sampled_from(
            [
                "ida",
                "T-1/10",
                "T-2/30",
                "$PACK",
                "$SHIP",
                "$CONFIRM",
                "$CANCEL",
                "$UNDO",
                "$AT B1 P1",
                "M-1",
                "V-1",
                "1",
                "0",
                "",
                "$MIX",
                "$COUNT",
                "HILL",
                "STORE",
                "$RECEIVE",
                "BAR-8",
                "NORD",
                "$REPORT",
                "$START",
                "$SCRAP",
                "$MOVE",
                "$BLEND",
                "LATHE-1",
                BAR_LABEL,
            ]
        ),
        max_size=14,
    )
)
def test_no_sequence_of_scans_upsets_a_station(texts: list[str]) -> None:
    works = ScannedWorks()
    for text in texts:
        works.station("BENCH").take(text)
    assert verify(works.store).is_sound
