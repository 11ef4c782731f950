"""A bench that is set up for one product gives another only what that product takes.

The bench holds a tip (1) and screws (2) for a pump; a clamp takes four screws and no tip.
"""

from __future__ import annotations

import json

import pytest

from lotkin.core.errors import RuleBroken
from lotkin.uses.asking.contain import contain
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from tests.core.events.test_refusals import refusal
from tests.small_works import PLAN, Works


@pytest.fixture
def works() -> Works:
    works = Works(plan=PLAN)
    works.receive("TIPS", 20, item_kind="machined-lot", part="TIP")
    works.receive("SCREWS", 100)
    works.receive("OTHERS", 100)
    works.mount({"P1": "TIPS", "P2": "SCREWS"})
    return works


def clamp(works: Works, serial: str = "C-1", **more: object) -> None:
    works.build(serial, **{"part": "CLAMP", **more})  # type: ignore[arg-type]


def at_bench(works: Works, code: str) -> float:
    return works.stock(code)["ROOM-1"]


def sound(works: Works) -> None:
    """Check that the record holds together, and that all is derived again as it stands."""
    assert verify(works.store).is_sound
    assert rebuild(works.store, check_only=True).difference == ""


def test_a_unit_holds_only_what_its_product_takes(works: Works) -> None:
    clamp(works)

    assert works.log[-1].breaches == ()
    assert "SCREWS" in works.origin("C-1")
    assert "TIPS" not in works.origin("C-1")
    assert "C-1" not in works.used("TIPS")
    assert (at_bench(works, "TIPS"), at_bench(works, "SCREWS")) == (20, 96)
    sound(works)


def test_the_product_that_the_bench_is_set_for_takes_all_of_it(works: Works) -> None:
    clamp(works)
    works.build("P-1")

    assert {"TIPS", "SCREWS"} <= set(works.origin("P-1"))
    assert (at_bench(works, "TIPS"), at_bench(works, "SCREWS")) == (19, 94)
    sound(works)


def test_the_account_of_a_lot_shared_by_two_products_closes(works: Works) -> None:
    clamp(works)
    works.build("P-1")
    for lot, quantity in (("SCREWS", 100), ("TIPS", 20)):
        (account,) = works.accounts(lot)
        assert account.quantity == account.found == quantity
    assert contain(works.store, ["TIPS"]).units == 1


def test_what_the_bench_lacks_for_a_product_is_refused(works: Works) -> None:
    works.mount({"P2": None})
    error = refusal(works, json.dumps(works.data("build", serial="C-1", part="CLAMP", bench="B1")))
    assert isinstance(error, RuleBroken)
    assert (error.rule, error.message) == ("bill-not-met", "C-1 lacks 4 of SCREW")


def test_a_late_mount_gives_a_unit_of_another_product_the_lot_that_was_there(works: Works) -> None:
    clamp(works, at=10)
    clamp(works, "C-0", at=6)
    works.mount({"P2": "OTHERS"}, at=8, reported=True)

    assert "OTHERS" in works.origin("C-1")
    assert "SCREWS" not in works.origin("C-1")
    assert "OTHERS" not in works.origin("C-0")
    assert (at_bench(works, "OTHERS"), at_bench(works, "SCREWS")) == (96, 96)
    sound(works)


def test_a_late_mount_of_what_a_product_does_not_take_changes_nothing_of_it(works: Works) -> None:
    works.receive("TIPS-2", 20, item_kind="machined-lot", part="TIP")
    clamp(works, at=10)
    works.mount({"P1": "TIPS-2"}, at=8, reported=True)

    assert not {"TIPS", "TIPS-2"} & set(works.origin("C-1"))
    assert at_bench(works, "TIPS-2") == 20
    sound(works)


def test_a_unit_begun_before_the_bench_was_changed_may_hold_either_lot(works: Works) -> None:
    works.mount({"P2": "OTHERS"}, at=20)
    clamp(works, started=15, at=25)

    origin = works.origin("C-1")
    assert {"SCREWS", "OTHERS"} <= set(origin)
    assert "TIPS" not in origin
    assert not any(origin[lot].certain for lot in ("SCREWS", "OTHERS"))
    assert (at_bench(works, "OTHERS"), at_bench(works, "SCREWS")) == (96, 100)
    sound(works)


def test_a_swap_in_a_unit_of_another_product_takes_out_what_it_holds(works: Works) -> None:
    clamp(works)
    works.receive("NEW", 10)
    works.swap("C-1", [{"item": "SCREWS", "quantity": 1, "end": "scrap"}], {"NEW": 1})

    assert {"SCREWS", "NEW"} <= set(works.origin("C-1/2"))
    (account,) = works.accounts("SCREWS")
    assert account.quantity == account.found == 100
    sound(works)
    assert (
        "holds no TIPS"
        in refusal(
            works, json.dumps(works.data("swap", unit="C-1", remove=[{"item": "TIPS"}]))
        ).message
    )


def test_a_unit_of_another_product_is_taken_apart_into_what_it_holds(works: Works) -> None:
    clamp(works)
    back = [{"item": "SCREWS", "quantity": 4, "place": "SHELF"}]
    works.do("dismantle", unit="C-1", recovered=back)

    (account,) = works.accounts("SCREWS")
    assert account.quantity == account.found == 100
    sound(works)


def test_a_correction_of_the_product_gives_back_what_it_does_not_take(works: Works) -> None:
    built = works.build("X-1")
    works.amend(built, part="CLAMP")

    assert "TIPS" not in works.origin("X-1")
    assert (at_bench(works, "TIPS"), at_bench(works, "SCREWS")) == (20, 96)
    works.amend(built, part="PUMP")
    assert "TIPS" in works.origin("X-1")
    assert (at_bench(works, "TIPS"), at_bench(works, "SCREWS")) == (19, 98)
    sound(works)


def test_a_part_without_a_bill_of_material_is_not_built(works: Works) -> None:
    said = {"serial": "T-1", "part": "TIP", "bench": "B1"}
    error = refusal(works, json.dumps(works.data("build", **said)))
    assert isinstance(error, RuleBroken)
    assert (error.rule, error.message) == (
        "no-bill",
        "T-1 cannot be built: TIP has no bill of material in the plan",
    )

    done = works.do("build", **said, reported=True)
    assert [breach.rule for breach in done.breaches] == ["no-bill"]
    assert not {"TIPS", "SCREWS"} & set(works.origin("T-1"))
    assert (at_bench(works, "TIPS"), at_bench(works, "SCREWS")) == (20, 100)
    sound(works)
