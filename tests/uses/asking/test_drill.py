"""Drills: a subject is chosen, followed both ways, timed, judged and put on record."""

from __future__ import annotations

from decimal import Decimal
from itertools import count
from typing import TYPE_CHECKING

import pytest

from lotkin.core.errors import BadEvent, NothingToDrill, UnknownCode
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.drill import drill, drills, pick
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from tests.demo_stores import demo_store
from tests.small_works import PLAN, Works, dump

if TYPE_CHECKING:
    from lotkin.uses.asking.drill import Drilled


@pytest.fixture
def works() -> Works:
    """Give a works that has built two pumps and shipped one."""
    works = Works(plan=PLAN)
    works.bar("BAR-A", 10, heat="H48")
    works.make({"TIPS": 50}, {"BAR-A": 5})
    works.receive("SCREWS", 100, supplier="MILL")
    works.mount({"P1": "TIPS", "P2": "SCREWS"})
    for serial in ("PUMP-1", "PUMP-2"):
        works.build(serial)
        works.test(serial)
    works.ship("SHIP-1", "PUMP-1")
    return works


def done(works: Works, code: str) -> Drilled:
    """Drill; the timer moves on by a quarter of a second whenever it is asked."""
    ticks = count()
    works.minute += 1
    return drill(works.store, code, by="ANN", clock=works.clock, timer=lambda: next(ticks) / 4)


def test_a_lot_is_followed_both_ways_and_timed(works: Works) -> None:
    found = done(works, "TIPS")

    assert found.drill.seconds == Decimal("0.25")
    # the heat and the bar; the setup, two pumps and a shipment
    assert (found.drill.behind, found.drill.ahead) == (2, 4)
    assert (found.drill.units, found.drill.complete_units) == (2, 2)
    (account,) = found.drill.accounts
    assert (account.unit, account.of, account.found) == ("pcs", Decimal(50), Decimal(50))
    assert found.customers == {"CLINIC": 1}
    assert found.drill.gaps == ()


def test_a_unit_is_a_subject_of_its_own(works: Works) -> None:
    found = done(works, "PUMP-1")

    assert (found.drill.units, found.drill.complete_units) == (1, 1)
    assert found.customers == {"CLINIC": 1}


def test_a_unit_that_lacks_a_part_of_its_bill_is_a_gap(works: Works) -> None:
    works.mount({"P1": None})
    works.build("PUMP-3", reported=True)

    found = done(works, "SCREWS")
    assert (found.drill.units, found.drill.complete_units) == (3, 2)
    assert found.drill.gaps == ("PUMP-3 lacks TIP",)


def test_material_of_unknown_origin_is_a_gap(works: Works) -> None:
    works.receive("NUTS", 10)

    assert done(works, "NUTS").drill.gaps == (
        "NUTS: neither a supplier nor what it was made from is recorded",
    )


def test_drills_are_on_record_and_change_nothing_else(works: Works) -> None:
    before = dump(works.store)
    one, two = done(works, "TIPS"), done(works, "PUMP-2")
    after = dump(works.store)

    assert [(entry.seq, each.subject) for entry, each in drills(works.store)] == [
        (one.event, "TIPS"),
        (two.event, "PUMP-2"),
    ]
    changed = {table for table in before if before[table] != after[table]}
    assert changed == {"journal", "meta"}
    assert verify(works.store).damage == ()
    assert rebuild(works.store, check_only=True).difference == ""


def test_a_void_drill_is_not_listed(works: Works) -> None:
    found = done(works, "TIPS")
    works.do("void", event=str(found.drill.id), reason="an exercise of the exercise")

    assert drills(works.store) == []


def test_the_same_seed_chooses_the_same_subject(works: Works) -> None:
    chosen = {seed: pick(works.store, seed) for seed in range(40)}

    assert chosen == {seed: pick(works.store, seed) for seed in range(40)}
    # only the pump that was shipped, and lots that went into something
    assert set(chosen.values()) == {"PUMP-1", "BAR-A", "MILL:H48", "SCREWS", "TIPS"}


def test_nothing_can_be_chosen_in_an_empty_works() -> None:
    empty = Works(plan=PLAN)
    with pytest.raises(NothingToDrill):
        pick(empty.store, 1)


def test_a_drill_on_nothing_is_not_recorded(works: Works) -> None:
    with pytest.raises(UnknownCode):
        done(works, "NOBODY")
    assert drills(works.store) == []


def test_a_drill_cannot_claim_more_than_it_looked_at(works: Works) -> None:
    counts = {"seconds": 1, "behind": 1, "ahead": 1, "units": 1, "complete_units": 2}

    with pytest.raises(BadEvent, match="more complete units than units"):
        works.do("drill", subject="TIPS", **counts)


def test_a_drill_in_the_demo_works_finds_all_units_of_the_bad_batch() -> None:
    store, notable = demo_store()
    ticks = count()
    found = drill(
        store,
        notable.bad_anodise_batch,
        by="quinn",
        clock=lambda: 1_785_600_000_000_000,
        timer=lambda: float(next(ticks)),
    )

    assert found.drill.gaps == ()
    assert found.drill.complete_units == found.drill.units
    assert found.drill.units == contain(store, [notable.bad_anodise_batch]).units > 40
