"""The verb `hold-first`, and what is on hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.cli.command import lotkin

if TYPE_CHECKING:
    from pathlib import Path


def test_the_lot_that_the_units_hang_on_comes_first(small_store: Path) -> None:
    document = lotkin("hold-first", "ANO-1", "--json", "--db", small_store).document()

    # 98 came back and 5 were built in; of these 3 were shipped
    (point,) = document["points"]
    assert (point["code"], point["own"], point["units"]) == ("TIP-1T", 93, 2)
    assert (point["pieces"], point["items"]) == (95, 3)
    assert [here["place"] for here in point["at"]] == ["ROOM-1", "SHELF"]


def test_every_form_lists_the_same_points(small_store: Path) -> None:
    words = ["hold-first", "MILL:H48", "--db", str(small_store)]
    codes = lotkin(*words, "--quiet").out.split()

    assert codes
    assert codes == [point["code"] for point in lotkin(*words, "--json").document()["points"]]
    assert lotkin(*words, "--csv").out.count("\n") == len(codes) + 1
    said = lotkin(*words).out
    assert f"all that is on hand is held at {len(codes)} point" in said
    assert all(code in said for code in codes)


def test_a_lot_that_is_all_gone_leaves_nothing_to_hold(small_store: Path) -> None:
    answer = lotkin("hold-first", "PUMP-001", "--db", small_store)

    assert (answer.status, answer.out) == (0, "nothing on hand to hold\n")
