"""Setups of a bench mean exactly what linking every unit to each of its lots means."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lotkin.core.errors import BadQuantity
from tests.core.events.units.bench_stories import Story, told_unit_by_unit, told_with_mounts
from tests.laws import check_conserved, check_records, items_of
from tests.small_works import Works

if TYPE_CHECKING:
    from lotkin.core.answers.rows import Row

Numbers = tuple[object, ...]


def numbers_of(row: Row) -> Numbers:
    """Give what a row says of an item, but for chances, which are compared as numbers."""
    return (row.kind, row.part, row.quantity, row.certain, row.removed, row.at)


def check_rows(bench: dict[str, Row], apart: dict[str, Row], about: str) -> None:
    bench = {code: row for code, row in bench.items() if row.kind != "bench-setup"}

    assert bench.keys() == apart.keys(), about
    for code, row in bench.items():
        other = apart[code]
        assert numbers_of(row) == numbers_of(other), (about, code)
        for mine, yours in (
            (row.chance, other.chance),
            (row.chance_low, other.chance_low),
            (row.chance_high, other.chance_high),
            (row.content, other.content),
        ):
            assert mine == pytest.approx(yours, abs=1e-9), (about, code)


@settings(max_examples=60)
@given(st.data())
def test_a_story_told_with_mounts_means_the_same_as_told_unit_by_unit(data: st.DataObject) -> None:
    story = Story(data.draw).tell(most=25)
    bench, apart = told_with_mounts(story), told_unit_by_unit(story)
    lots = [code for code, item in items_of(apart).items() if item.kind != "unit"]

    for lot in lots:
        check_rows(bench.used(lot), apart.used(lot), lot)
        assert bench.accounts(lot) == apart.accounts(lot), lot
        assert bench.stock(lot) == apart.stock(lot), lot
    for unit in story.units:
        check_rows(bench.origin(unit), apart.origin(unit), unit)
    check_records(bench)
    check_conserved(bench)


def straddling() -> Works:
    """Build a unit that was begun before screws were changed, and one before and after."""
    works = Works()
    works.receive("S1", 100, at=1)
    works.receive("S2", 100, at=1)
    works.receive("T1", 100, part="TIP", at=1)
    works.mount({"P1": "T1", "P2": {"item": "S1", "per": 2}}, at=5)
    works.build("BEFORE", at=6)
    works.mount({"P2": {"item": "S2", "per": 2}}, at=8)
    works.build("BETWEEN", started=7, at=9)
    works.build("AFTER", at=10)
    return works


def test_a_unit_begun_before_a_change_may_have_either_lot() -> None:
    """Unit by unit this cannot be said; compared are membership, bounds and where pieces went.

    The unit is found from both lots; its chance is not known and lies between none and all; its
    pieces were posted from the later lot; what both setups have in common is certain.
    """
    works = straddling()

    for lot in ("S1", "S2"):
        row = works.used(lot)["BETWEEN"]
        assert row.chance is None
        assert (row.chance_low, row.chance_high) == (0.0, 1.0)
        assert not row.certain
    assert works.used("T1")["BETWEEN"].certain
    assert works.stock("S1") == {"B1": 98, "used in": 2}
    assert works.stock("S2") == {"B1": 96, "used in": 4}
    assert works.used("S1")["BEFORE"].certain
    assert "AFTER" not in works.used("S1")


def test_a_late_mount_makes_a_unit_straddle_that_was_begun_before_it() -> None:
    works = Works()
    works.receive("S1", 100, at=1)
    works.receive("S2", 100, at=1)
    works.mount({"P2": {"item": "S1", "per": 2}}, at=5)
    works.build("U1", started=7, at=9)

    assert works.used("S1")["U1"].certain

    works.mount({"P2": {"item": "S2", "per": 2}}, at=8, reported=True)

    assert {code for lot in ("S1", "S2") for code in works.used(lot)} >= {"U1"}
    assert not works.used("S1")["U1"].certain
    assert works.stock("S1") == {"B1": 100}
    check_records(works)


def test_a_wrong_mount_is_corrected_two_hundred_units_later() -> None:
    works = Works()
    for lot in ("S1", "S2", "S3"):
        works.receive(lot, 1000, at=1)
    works.mount({"P2": {"item": "S1", "per": 2}}, at=5)
    for i in range(10):
        works.build(f"A{i}", at=6)
    wrong = works.mount({"P2": {"item": "S2", "per": 2}}, at=8)
    for i in range(200):
        works.build(f"B{i}", at=9)
    works.swap("B7", [{"item": "S2", "position": "P2", "place": "SHELF"}], at=10)
    works.amend(wrong, positions=[{"position": "P2", "item": "S3", "per": 2, "quantity": 1000}])

    units = {code for code, row in works.used("S3").items() if row.kind == "unit"}
    assert units == {f"B{i}" for i in range(200)} | {"B7/2"}
    assert works.used("S2") == {}
    assert works.stock("S2") == {"SHELF": 1000}
    assert works.used("S3")["B7/2"].removed
    assert works.lines("S3") == {"B1": 600 + 398, "SHELF": 2}
    check_records(works)
    check_conserved(works)


def test_a_late_mount_moves_what_was_swapped_out_of_units_to_the_right_lot() -> None:
    works = Works()
    for lot in ("S1", "S2", "SPARE"):
        works.receive(lot, 100, at=1)
    works.mount({"P2": {"item": "S1", "per": 2}}, at=5)
    works.build("U1", at=9)
    works.swap(
        "U1",
        [{"item": "S1", "position": "P2", "quantity": 1, "code": "OUT", "place": "SHELF"}],
        {"SPARE": 1},
        at=10,
    )
    works.mount({"P2": {"item": "S2", "per": 2}}, at=8, reported=True)

    assert {code for code in works.used("S2") if ":" not in code} == {"U1", "U1/2", "OUT"}
    assert {code for code in works.used("S1") if ":" not in code} == set()
    assert works.lines("S2") == {"B1": 99, "SHELF": 1}
    check_records(works)


def test_a_bench_stands_where_its_mount_says() -> None:
    works = Works()
    works.receive("S1", 100, at=1)
    works.mount({"P2": {"item": "S1", "per": 2}}, place="ROOM", at=5)
    works.build("U1", at=6)

    assert works.stock("S1") == {"ROOM": 98, "used in": 2}


def test_one_lot_is_mounted_at_two_positions_at_once() -> None:
    works = Works()
    works.receive("S1", 100, at=1)
    works.mount({"P1": {"item": "S1", "per": 1}, "P2": {"item": "S1", "per": 2}}, at=5)
    works.build("U1", at=6)

    assert works.stock("S1") == {"B1": 97, "used in": 3}
    assert works.lines("S1") == {"B1": 100}
    check_records(works)


@pytest.mark.parametrize("per", [0, "0.5"])
def test_a_position_takes_whole_pieces(per: object) -> None:
    works = Works()
    works.receive("S1", 100, at=1)

    with pytest.raises(BadQuantity):
        works.mount({"P2": {"item": "S1", "per": per}}, at=5)


def test_glue_is_mounted_by_weight() -> None:
    works = Works()
    works.powder("GLUE", 10, at=1)
    works.mount({"P9": {"item": "GLUE", "per": "0.25"}}, at=2)
    works.build("U1", at=3)

    assert works.stock("GLUE") == {"B1": 9.75, "used in": 0.25}
    assert works.used("GLUE")["U1"].certain
