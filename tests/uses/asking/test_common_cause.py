"""Common cause: a small works with a bad lot, and the planted causes of the demo works."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

import pytest

import lotkin_demo
from lotkin.core.errors import NotAUnit
from lotkin.uses.asking.common_cause import common_cause
from tests.demo_stores import demo_store
from tests.small_works import Works

if TYPE_CHECKING:
    from lotkin.store.store import Store

MINUTES_PER_DAY = 24 * 60


def works_with_two_lots(url: str = "", *, built: int = 12, first: int = 4) -> Works:
    """Build pumps and ship them: the first few have screws of a lot of their own."""
    works = Works(url)
    works.receive("BAD", 100)
    works.receive("GOOD", 100)
    for number in range(1, built + 1):
        lot = "BAD" if number <= first else "GOOD"
        works.build(f"PUMP-{number:02}", None, place="FLOOR", inputs={lot: 1})
        works.pack(f"CARTON-{number:02}", [f"PUMP-{number:02}"])
        works.ship(f"SHIP-{number:02}", f"CARTON-{number:02}")
    return works


def test_the_lot_that_the_failed_units_share_is_the_finding() -> None:
    works = works_with_two_lots()

    found = common_cause(works.store, ["PUMP-01", "PUMP-02", "PUMP-03", "PUMP-04"])

    assert found.compared is not None
    assert (found.compared.failed, found.compared.sound) == (4, 8)
    (cause,) = found.findings
    assert cause.items == (("BAD", "purchased-lot", "SCREW"),)
    assert (cause.suspect.failed, cause.suspect.sound) == (4, 0)


def test_two_units_are_not_enough_however_often_they_are_named() -> None:
    works = works_with_two_lots()

    found = common_cause(works.store, ["PUMP-01", "PUMP-02", "PUMP-02"])

    assert found.compared is None
    assert len(found.complaints) == 2
    assert found.findings == ()


def test_units_of_another_time_or_not_shipped_are_not_compared() -> None:
    works = works_with_two_lots()
    works.build("ON-THE-BENCH", None, place="FLOOR", inputs={"GOOD": 1})
    works.minute += 3 * MINUTES_PER_DAY
    works.build("LATER", None, place="FLOOR", inputs={"GOOD": 1})
    works.ship("SHIP-LATER", ["LATER"])
    serials = ["PUMP-01", "PUMP-02", "PUMP-03"]

    near, far = (common_cause(works.store, serials, days).compared for days in (2, 4))

    assert near is not None
    assert far is not None
    assert (near.sound, far.sound) == (9, 10)


def test_what_was_taken_out_of_a_sound_unit_counts_no_more() -> None:
    works = works_with_two_lots()
    works.build("REPAIRED", None, place="FLOOR", inputs={"BAD": 1})
    works.swap("REPAIRED", [{"item": "BAD"}], {"GOOD": 1})
    works.ship("SHIP-REPAIRED", ["REPAIRED"])

    found = common_cause(works.store, ["PUMP-01", "PUMP-02", "PUMP-03", "PUMP-04"])

    assert found.compared is not None
    assert found.compared.sound == 9
    assert found.causes[0].items[0][0] == "BAD"
    assert found.causes[0].suspect.sound == 0


def test_a_failed_unit_counts_as_it_was_when_it_came_back() -> None:
    works = works_with_two_lots()
    works.do("return", item="PUMP-01", customer="CLINIC", to_place="FLOOR", reason="leaks")
    works.swap("PUMP-01", [{"item": "BAD"}], {"GOOD": 1})

    as_returned, as_repaired = (
        common_cause(works.store, [state, "PUMP-02", "PUMP-03"])
        for state in ("PUMP-01", "PUMP-01/2")
    )

    assert as_returned.causes[0].suspect.failed == 3
    assert as_repaired.causes[0].suspect.failed == 2


def test_a_lot_is_no_unit() -> None:
    works = works_with_two_lots()

    with pytest.raises(NotAUnit):
        common_cause(works.store, ["PUMP-01", "PUMP-02", "BAD"])


# --- the demo works


@pytest.fixture(scope="module")
def demo() -> tuple[Store, lotkin_demo.DemoWorks]:
    return demo_store()


def test_the_leaks_come_from_the_bad_anodise_batch(
    demo: tuple[Store, lotkin_demo.DemoWorks],
) -> None:
    store, works = demo

    found = common_cause(store, works.returned_for_leaks)

    (finding,) = found.findings
    assert [code for code, _, _ in finding.items] == [works.bad_anodise_batch]
    assert finding.suspect.failed == len(works.returned_for_leaks)


def test_the_noise_comes_from_the_cam_lot(demo: tuple[Store, lotkin_demo.DemoWorks]) -> None:
    store, works = demo

    first = common_cause(store, works.returned_for_noise).findings[0]

    # its runs and earlier steps made nothing else: the data cannot tell them from the lot
    assert works.noisy_cam_lot in {code for code, _, _ in first.items}
    assert first.suspect.failed == len(works.returned_for_noise)


@pytest.mark.parametrize("margin_days", [14, 45, 180, 3650])
def test_the_cause_comes_first_with_any_sensible_margin_and_other_returns_have_none(
    demo: tuple[Store, lotkin_demo.DemoWorks], margin_days: int
) -> None:
    store, works = demo

    leaks = common_cause(store, works.returned_for_leaks, margin_days)
    others = common_cause(store, works.returned_for_other_reasons, margin_days)

    assert leaks.causes[0].items[0][0] == works.bad_anodise_batch
    assert others.findings == ()


def test_a_year_of_units_is_compared_in_less_than_three_seconds(
    demo: tuple[Store, lotkin_demo.DemoWorks],
) -> None:
    store, works = demo
    before = time.perf_counter()

    common_cause(store, works.returned_for_leaks, 3650)

    assert time.perf_counter() - before < 3
