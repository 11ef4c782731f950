"""An audit of recorded events: what is gathered is what the checks need."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from lotkin.core.values.instants import parse_instant, to_us
from lotkin.store.beside.documents import Documents
from lotkin.uses.asking.audit import audit
from tests.demo_stores import demo_store
from tests.small_works import FIRST_MORNING, PLAN, US_PER_MINUTE, Works

if TYPE_CHECKING:
    from lotkin.uses.asking.audit import Audit

DAY = 24 * 60


@pytest.fixture
def works() -> Works:
    return Works(plan=PLAN)


def found(works: Works, *, days: int = 0) -> Audit:
    """Audit a works some days after the first morning."""
    now = FIRST_MORNING + (works.minute + days * DAY) * US_PER_MINUTE
    return audit(works.store, Documents(None), now)


def test_a_clean_record_has_no_gaps(works: Works) -> None:
    works.receive("SCREWS", 100)
    works.receive("TIPS", 100, part="TIP", item_kind="machined-lot")
    works.mount({"P1": "TIPS", "P2": "SCREWS"})
    works.build("PUMP-1")

    assert found(works).gaps == ()
    assert found(works).units == 1


def test_what_was_reported_against_a_rule_is_listed_until_it_is_voided(works: Works) -> None:
    works.receive("SCREWS", 5)
    broken = works.do("scrap", item="SCREWS", quantity=8, reason="bent", reported=True)

    assert set(found(works).counts) == {"rule-broken", "stock-negative"}
    works.void(broken)
    assert found(works).gaps == ()


def test_lots_at_a_bench_are_touched_with_every_unit_built(works: Works) -> None:
    works.receive("SCREWS", 100)
    works.receive("TIPS", 100, part="TIP", item_kind="machined-lot")
    works.receive("BOLTS", 100)
    works.mount({"P1": "TIPS", "P2": "SCREWS"})
    works.minute = 170 * DAY
    works.build("PUMP-1")

    stale = [gap.record for gap in found(works, days=20).gaps if gap.kind == "stock-stale"]
    assert stale == ["BOLTS"]


def test_a_hold_is_counted_from_when_it_began(works: Works) -> None:
    works.receive("SCREWS", 100, hold="no papers")
    works.minute = 20 * DAY
    works.inspect("SCREWS", "QC-1", "hold")

    (gap,) = found(works, days=15).gaps
    assert gap.message == "SCREWS: 100 pcs held for 35 days (hold: burr)"
    works.inspect("SCREWS", "QC-2")
    assert found(works, days=15).gaps == ()


# --- the demo works


def test_the_gaps_of_the_demo_works_are_its_stories() -> None:
    store, works = demo_store()
    done = audit(store, Documents(None), to_us(parse_instant("2026-08-01T00:00:00Z")))
    records: dict[str, list[str]] = {}
    for gap in done.gaps:
        records.setdefault(gap.kind, []).append(gap.record)

    # accepted on hold without its certificate, which never came
    assert records["certificate-missing"] == [
        lot for lot in works.held_on_arrival if lot.startswith("POWDER")
    ]
    assert [gap.event for gap in done.gaps if gap.kind == "rule-broken"] == sorted(
        (gap.event for gap in done.gaps if gap.kind == "rule-broken"), reverse=True
    )
    broken = [gap for gap in done.gaps if gap.kind == "rule-broken"]
    below, over, dried = broken[:-2], broken[-2], broken[-1]
    assert list(reversed(works.units_below_the_book)) == [
        next(unit for unit in works.units_below_the_book if unit in gap.message) for gap in below
    ]
    # one more came back than was sent, and it is not known whose it is
    assert over.message.endswith(f"than were out with {works.over_count_batch}")
    assert dried.record == works.lot_dried_too_long
    assert records["found-not-identified"] == [works.unlabelled_bin]
    assert works.rejected_lot in records["held-long"]
    sound = {"component-missing", "step-skipped", "time-backwards", "place-unknown"}
    assert not sound & set(records)
