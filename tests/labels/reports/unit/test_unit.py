"""The record of a unit: components, origins, tests and its way, on paper and as tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from lotkin.core.errors import NotFound
from lotkin.uses.reporting.report_data import unit_data
from lotkin_answers.unit.recorded import unit_record
from lotkin_labels.reports import component_table, print_unit, unit_tables
from tests.labels.rendering import text_of
from tests.labels.reports.pump_works import pumps
from tests.small_works import moment

if TYPE_CHECKING:
    from lotkin_answers.unit.record import UnitRecord
    from lotkin_labels.reports import RecordTable
    from tests.small_works import Works


def record_of(works: Works, serial: str) -> UnitRecord:
    return unit_record(unit_data(works.store, serial), works.clock())


def rows(table: RecordTable) -> list[dict[str, object]]:
    names = [column.name for column in table.columns]
    return [dict(zip(names, row, strict=True)) for row in table.rows]


def swapped() -> Works:
    """Exchange the tip of a pump after it came back."""
    works = pumps(2, shipped=1, reference="PO 7")
    works.do("return", item="PUMP-0001", to_place="SHELF", reason="drips", hold=False)
    works.bar("BAR-B", 5, heat="H49")
    works.make({"TIP-2": 5}, {"BAR-B": 1}, run="RUN-2")
    works.swap(
        "PUMP-0001",
        [{"item": "TIP-1", "position": "P1", "end": "scrap"}],
        {"item": "TIP-2", "position": "P1", "quantity": 1},
        place="SHELF",
    )
    return works


def test_components_stand_by_position_with_their_lots() -> None:
    components = rows(component_table(record_of(pumps(1), "PUMP-0001")))

    assert [(one["position"], one["lot"], one["quantity"]) for one in components] == [
        ("P1", "TIP-1", 1),
        ("P2", "SCREWS-1", 2),
    ]
    assert all(one["in_it_now"] is True for one in components)


def test_the_heat_behind_a_component_is_named_with_its_mill() -> None:
    record = record_of(pumps(1), "PUMP-0001")

    assert [(one.lot, one.kind, one.number, one.certainty) for one in record.origins] == [
        ("TIP-1", "heat", "H48", "certain"),
    ]
    text = " ".join(text_of(print_unit(record)))
    assert "TIP-1 heat H48 MILL (Mill) certain" in text


def test_what_was_taken_out_is_told_apart() -> None:
    record = record_of(swapped(), "PUMP-0001")
    components = rows(component_table(record))

    assert {(one["lot"], one["in_it_now"]) for one in components} == {
        ("TIP-1", False),
        ("TIP-2", True),
        ("SCREWS-1", True),
    }
    text = " ".join(text_of(print_unit(record)))
    inside, gone = text.split("No longer in it")
    assert "TIP-2" in inside
    assert "TIP-1" not in inside.split("What is in it")[1]
    assert "TIP-1" in gone
    assert "PUMP-0001/2" in text


def test_tests_and_the_way_are_on_record() -> None:
    record = record_of(swapped(), "PUMP-0001")
    text = " ".join(text_of(print_unit(record)))

    assert [(test.test, test.is_passed, test.limits) for test in record.tests] == [
        ("Leak", True, "at most 1 kPa"),
    ]
    assert [step.what for step in record.way] == ["packed", "shipped", "returned"]
    for said in ("SHIP-1", "CLINIC (Clinic)", "PO 7", "drips", "passed", record.head_hash):
        assert said in text
    assert "page 1 of " in text


def test_a_new_unit_says_that_nothing_happened_to_it_yet() -> None:
    text = " ".join(text_of(print_unit(record_of(pumps(1), "PUMP-0001"))))

    assert "No test of it is recorded." in text
    assert "No inspection of it or of a lot behind it is recorded." in text
    assert "No packing and no shipping of it is recorded." in text


def test_every_sheet_has_as_many_cells_as_columns() -> None:
    for table in unit_tables(record_of(swapped(), "PUMP-0001")):
        assert all(len(row) == len(table.columns) for row in table.rows), table.name
        assert all(column.meaning.endswith(".") for column in table.columns)


def test_a_lot_has_no_record_of_a_unit() -> None:
    works = pumps(1)
    with pytest.raises(NotFound):
        unit_data(works.store, "TIP-1")


def origins_of(works: Works, serial: str) -> dict[tuple[str, str], str]:
    return {(one.lot, one.number): one.certainty for one in record_of(works, serial).origins}


def between_two_lots(second_bar: str) -> Works:
    """Begin a pump with one lot of tips on the bench, and end it with another."""
    works = pumps(1)
    works.bar("BAR-B", 5, heat="H49")
    works.make({"TIP-2": 5}, {second_bar: 1}, run="RUN-2")
    begun = works.minute
    works.mount({"P1": {"item": "TIP-2", "origin": "FLOOR", "quantity": 5}}, at=begun + 5)
    works.build("PUMP-9", started=moment(begun + 1), at=begun + 9)
    return works


def test_a_heat_that_is_no_longer_in_the_unit_is_never_called_certain() -> None:
    works = swapped()
    found = origins_of(works, "PUMP-0001")

    assert found["TIP-1", "H48"] == "no longer"
    assert found["TIP-2", "H49"] == "certain"
    text = " ".join(text_of(print_unit(record_of(works, "PUMP-0001"))))
    assert "H48 MILL (Mill) no longer" in text
    assert "H48 MILL (Mill) certain" not in text


def test_heats_of_lots_that_are_one_or_the_other_are_never_each_certain() -> None:
    found = origins_of(between_two_lots("BAR-B"), "PUMP-9")

    (lots,) = {lot for lot, _ in found if " or " in lot}
    assert set(lots.split(" or ")) == {"TIP-1", "TIP-2"}
    assert found[lots, "H48"] == found[lots, "H49"] == "possible"


def test_a_heat_that_both_lots_are_of_is_certain() -> None:
    found = origins_of(between_two_lots("BAR-A"), "PUMP-9")

    assert {how for (lot, _), how in found.items() if " or " in lot} == {"certain"}
