"""A piece that carries a serial is received, made and taken back at a station by that serial."""

from __future__ import annotations

import pytest

from tests.scanning.station import PLAN, ScannedWorks

WITH_SERIALS = PLAN.read_text().replace(
    'code = "STEM"\nname = "Valve stem"', 'code = "STEM"\nserialised = true\nname = "Valve stem"'
)


@pytest.fixture
def works() -> ScannedWorks:
    """Give a works in which each stem carries a serial."""
    return ScannedWorks(plan=WITH_SERIALS)


def test_the_receive_card_asks_for_the_serial_of_a_motor(works: ScannedWorks) -> None:
    reply = works.scan("STORE", "$RECEIVE", "MOTOR", "NORD", "L9", "STORE")
    assert reply.ask == "scan the serial of the piece"
    reply = works.scan("STORE", "M-77")
    assert reply.ask == "how many pcs? (Enter: 1)"
    works.scan("STORE", "")
    assert works.scan("STORE", "$CONFIRM").tone == "done"
    (motor,) = [item for item in works.items().values() if item.serial == "M-77"]
    assert (motor.part, motor.quantity) == ("MOTOR", 1_000_000)


def test_more_than_one_motor_of_a_serial_is_never_recorded(works: ScannedWorks) -> None:
    works.scan("STORE", "$RECEIVE", "MOTOR", "NORD", "L9", "STORE", "M-77")
    assert works.scan("STORE", "5").say == "5? each piece has a serial of its own"
    works.scan("STORE", "5")
    assert works.scan("STORE", "$CONFIRM").tone == "refused"
    assert not [item for item in works.items().values() if item.serial == "M-77"]


def test_a_step_asks_for_the_serial_of_what_it_makes(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    reply = works.scan("LATHE", "T-1/10", bar, "LATHE-1")
    assert reply.ask == "scan the serial of the piece"
    works.done("LATHE", "S-0001", "", "", "5.98")
    stem = works.items()["T-1-10"]
    assert (stem.serial, stem.quantity) == ("S-0001", 1_000_000)
