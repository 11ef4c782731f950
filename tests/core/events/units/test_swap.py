"""What a unit holds after some of it was taken out, and where that went."""

from __future__ import annotations

import pytest

from lotkin.core.errors import BadEvent
from tests.small_works import Data, Works


def holdings(works: Works, unit: str) -> dict[str, int]:
    """Give lot -> pieces of it in a unit, by its links."""
    held: dict[str, int] = {}
    with works.store.reading() as view:
        for link in view.parents(unit):
            if link.mixing != "former" and link.quantity is not None:
                held[link.parent] = held.get(link.parent, 0) + link.quantity // 1_000_000
    return held


def pump_with_two_screws_of_one_lot() -> Works:
    works = Works()
    works.receive("S1", 10)
    works.build("U1", None, inputs=[{"item": "S1", "quantity": 1}], place="FLOOR")
    works.swap("U1", add={"S1": 1})
    return works


def test_one_of_two_screws_of_the_same_lot_stays_in_the_pump() -> None:
    works = pump_with_two_screws_of_one_lot()
    works.swap("U1", remove=[{"item": "S1", "place": "SHELF"}])

    assert holdings(works, "U1/3") == {"S1": 1}
    assert works.used("S1")["U1/3"].certain
    assert works.lines("S1") == {"FLOOR": 1, "SHELF": 9}


def test_both_screws_of_the_same_lot_are_taken_out_one_by_one() -> None:
    works = pump_with_two_screws_of_one_lot()
    works.swap("U1", remove=[{"item": "S1"}, {"item": "S1"}])

    assert holdings(works, "U1/3") == {}
    assert {"S1/2", "S1/3"} <= works.used("S1").keys()
    assert works.used("S1")["U1/3"].removed
    assert works.lines("S1") == {"SHELF": 8, "scrap": 2}


def test_no_more_is_taken_out_of_a_pump_than_it_holds() -> None:
    works = pump_with_two_screws_of_one_lot()
    three: list[Data] = [{"item": "S1", "code": f"OUT-{i}"} for i in range(3)]

    with pytest.raises(BadEvent, match="U1/2"):
        works.swap("U1", remove=three)
