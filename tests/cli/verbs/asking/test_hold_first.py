"""The verb `hold-first`: everything suspect that is on hand, to go round the works with."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.cli.command import copied, lotkin
from tests.cli.event_lines import event_line

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def packed(small_store: Path, tmp_path: Path) -> Path:
    """Two pumps more are packed, and not shipped."""
    path = copied(small_store, tmp_path)
    contents = [{"item": "PUMP-004"}, {"item": "PUMP-005"}]
    line = event_line("pack", carton="CARTON-2", contents=contents)
    assert lotkin("record", "-", "--db", path, given=line).status == 0
    return path


def test_pumps_in_cartons_come_before_the_lots_that_they_were_made_of(packed: Path) -> None:
    document = lotkin("hold-first", "ANO-1", "--json", "--db", packed).document()

    stops = [(each["within"], each["code"], each["quantity"]) for each in document["stops"]]
    assert stops[:2] == [("CARTON-2", "PUMP-004", 1), ("CARTON-2", "PUMP-005", 1)]
    # 98 came back and 5 were built in; 2 are still at the anodiser, who comes last
    assert {quantity for _, code, quantity in stops if code == "TIP-1T"} == {45, 48}
    assert stops[-1] == ("ANO-1", "TIP-1", 2)
    assert (document["pieces"], document["units"]) == (97, 2)


def test_holding_the_lot_is_never_said_to_stop_what_was_made_of_it(packed: Path) -> None:
    document = lotkin("hold-first", "ANO-1", "--json", "--db", packed).document()

    (feeder,) = document["feeders"]
    assert (feeder["code"], feeder["on_hand"], feeder["descending_pieces"]) == ("TIP-1T", 93, 2)
    said = lotkin("hold-first", "ANO-1", "--db", packed).out
    assert "is held at" not in said
    assert "first of all from 1 lot; 2 other pcs on the list came through them and are not" in said


def test_a_lot_that_is_used_up_is_not_said_to_feed_anything(packed: Path) -> None:
    document = lotkin("hold-first", "BAR-A", "--json", "--db", packed).document()

    assert "TIP-1" not in {each["code"] for each in document["feeders"]}


def test_every_form_lists_the_same_stops(small_store: Path) -> None:
    words = ["hold-first", "MILL:H48", "--db", str(small_store)]
    stops = lotkin(*words, "--json").document()["stops"]

    codes = lotkin(*words, "--quiet").out.split()
    assert codes == list(dict.fromkeys(stop["code"] for stop in stops))
    assert lotkin(*words, "--csv").out.count("\n") == len(stops) + 1
    said = lotkin(*words).out
    assert said.count("[ ]") > 0
    assert "PUMP-004" in said
    assert "PUMP-005" in said


def test_a_unit_at_a_customer_leaves_nothing_to_stop(small_store: Path) -> None:
    answer = lotkin("hold-first", "PUMP-001", "--db", small_store)

    assert (answer.status, answer.out) == (0, "nothing on hand to stop\n")


def test_a_place_where_a_lot_is_below_zero_is_never_left_out(
    small_store: Path, tmp_path: Path
) -> None:
    """Pieces came back to a place from which more had been taken than came: some lie there."""
    path = copied(small_store, tmp_path)
    lines = [
        event_line(
            "receive", code="NUT-9", item_kind="purchased-lot", part="SCREW", quantity=9,
            place="SHELF", supplier="MILL",
        ),
        event_line(
            "move", item="NUT-9", place="FLOOR", to_place="SHELF", quantity=3, reported=True
        ),
        event_line("move", item="NUT-9", place="SHELF", to_place="FLOOR", quantity=2),
    ]  # fmt: skip
    assert lotkin("record", "-", "--db", path, given="".join(lines)).status == 0
    words = ["hold-first", "NUT-9", "--db", str(path)]

    stops = lotkin(*words, "--json").document()["stops"]
    assert {(stop["place"], stop["quantity"]) for stop in stops} == {("SHELF", 10), ("FLOOR", None)}
    said = lotkin(*words).out
    assert "1 line to be counted" in said
    assert "to be counted" in next(line for line in said.splitlines() if "[ ]  FLOOR" in line)
