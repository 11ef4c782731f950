"""where-from, where-used, contain, account and show: documents, lists, codes and text."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

import pytest

from lotkin_answers.documents.answers import ACT_COLUMNS, ITEM_COLUMNS
from tests.cli.command import lotkin
from tests.cli.event_lines import event_line
from tests.cli.shapes import ACCOUNT, ANSWER, CONTAINMENT, SUBJECT, fits

if TYPE_CHECKING:
    from pathlib import Path

LISTING = [["where-from", "PUMP-001"], ["where-used", "MILL:H48"], ["contain", "ANO-1"]]


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("words", LISTING[:2], ids=" ".join)
def test_an_answer_has_the_shape_of_the_contract(small_store: Path, words: list[str]) -> None:
    answer = lotkin(*words, "--json", "--db", small_store)

    assert (answer.status, answer.err) == (0, "")
    document = answer.document()
    fits(document, ANSWER)
    assert document["items"]
    order = [(item["family"], item["kind"], item["code"]) for item in document["items"]]
    assert order == sorted(order)


def test_a_containment_has_the_shape_of_the_contract(small_store: Path) -> None:
    document = lotkin("contain", "ANO-1", "--json", "--db", small_store).document()

    fits(document, CONTAINMENT)
    assert document["units"] == 5
    assert document["account"]["found"] == document["account"]["of"] == 100
    assert [place["place"] for place in document["places"]] == ["ANODISER", "ROOM-1", "SHELF"]
    assert [place["name"] for place in document["customers"]] == ["Clinic"]
    assert document["customers"][0]["serials"] == ["PUMP-001", "PUMP-002", "PUMP-003"]


def test_several_items_are_contained_together(small_store: Path) -> None:
    words = ["contain", "ANO-1", "SCREWS-1", "--json", "--db", small_store]
    document = lotkin(*map(str, words)).document()

    fits(document, CONTAINMENT)
    assert [subject["code"] for subject in document["subjects"]] == ["ANO-1", "SCREWS-1"]
    assert document["subject"] == document["subjects"][0]


def test_an_account_has_the_shape_of_the_contract(small_store: Path) -> None:
    document = lotkin("account", "MILL:H48", "--json", "--db", small_store).document()

    fits(document, {"subject": SUBJECT, "account": ACCOUNT, "accounts": [ACCOUNT], "as_of": int})
    # a heat has no quantity of its own: its delivery has
    assert document["account"]["of"] == 10
    assert document["account"]["unit"] == "m"


def test_what_a_threshold_leaves_out_is_listed(small_store: Path) -> None:
    words = ["where-from", "PUMP-001", "--min-content", "0.5", "--db", str(small_store)]

    document = lotkin(*words, "--json").document()
    assert {item["code"] for item in document["left_out"]} == {"BAR-B", "MILL:H49"}
    assert "left out, content below 50 %: bar-lot 1, heat 1" in lotkin(*words).out


@pytest.mark.parametrize("words", LISTING, ids=" ".join)
def test_quiet_prints_the_codes_alone(small_store: Path, words: list[str]) -> None:
    document = lotkin(*words, "--json", "--db", small_store).document()

    answer = lotkin(*words, "--quiet", "--db", small_store)
    assert answer.out.splitlines() == [item["code"] for item in document["items"]]


def test_csv_has_a_row_for_each_item(small_store: Path) -> None:
    document = lotkin("where-from", "PUMP-001", "--json", "--db", small_store).document()

    rows = rows_of(lotkin("where-from", "PUMP-001", "--csv", "--db", small_store).out)
    assert tuple(rows[0]) == ITEM_COLUMNS
    assert [row["code"] for row in rows] == [item["code"] for item in document["items"]]
    assert [row["at"] for row in rows if row["code"] == "SCREWS-1"] == ["ROOM-1: 90; SHELF: 100"]


def test_csv_of_a_containment_has_a_row_for_each_place(small_store: Path) -> None:
    rows = rows_of(lotkin("contain", "ANO-1", "--csv", "--db", small_store).out)

    assert tuple(rows[0]) == ACT_COLUMNS
    at = {(row["code"], row["place_name"]): row["quantity_here"] for row in rows}
    assert at["TIP-1T", "First room"] == "45"
    assert at["TIP-1T", "Shelf"] == "48"
    assert at["TIP-1", "Anodiser"] == "2"


def test_csv_of_an_account_has_a_row_for_each_place(small_store: Path) -> None:
    rows = rows_of(lotkin("account", "ANO-1", "--csv", "--db", small_store).out)

    assert sum(float(row["quantity"]) for row in rows) == 100


@pytest.mark.parametrize("option", ["--family=run", "--kind=machining-run"])
def test_an_answer_can_be_narrowed(small_store: Path, option: str) -> None:
    answer = lotkin("where-from", "PUMP-001", option, "-q", "--db", small_store)

    assert "RUN-1" in answer.out.splitlines()
    assert "BAR-A" not in answer.out.splitlines()


def test_kinds_can_be_named_several_times(small_store: Path) -> None:
    words = ["where-from", "PUMP-001", "--kind", "heat", "--kind", "bar-lot", "-q", "--db"]

    answer = lotkin(*words, small_store)
    assert answer.out.splitlines() == ["BAR-A", "BAR-B", "MILL:H48", "MILL:H49"]


def test_a_span_of_time_narrows_what_was_done(small_store: Path) -> None:
    words = ["where-used", "PUMP-001", "--to", "2026-03-02T06:18:30Z", "--db", str(small_store)]

    items = lotkin(*words, "--json").document()["items"]
    assert {item["code"] for item in items} == {"CARTON-1", "SHIP-1"}
    text = lotkin(*words).out
    assert "only what may have been done with it to 2026-03-02 07:18:30+01:00" in text


def test_an_answer_as_of_an_earlier_event_is_that_of_then(small_store: Path) -> None:
    document = lotkin(
        "where-used", "MILL:H48", "--as-of", "3", "--json", "--db", small_store
    ).document()

    assert document["as_of"] == 3
    assert [item["code"] for item in document["items"]] == ["BAR-A"]


def test_the_first_minute_of_a_containment(small_store: Path) -> None:
    out = lotkin("contain", "ANO-1", "--db", small_store).out

    lines = [line.strip() for line in out.splitlines()]
    assert lines[0] == "Containment of ANO-1 (outside-batch, TIP)"
    assert lines.index("5 units suspect: 5 certain, 0 possible") < lines.index(
        "100 of 100 pcs accounted for"
    )
    assert "In the works and at suppliers: 2 units, 3 places" in lines
    assert "At customers: 3 units, 1 place" in lines
    assert any("CLINIC (Clinic)" in line and "PUMP-001 to PUMP-003" in line for line in lines)
    assert "responsible persons to decide" in lines[-1]


def test_possible_items_come_with_their_chance(small_store: Path) -> None:
    out = lotkin("contain", "MILL:H48", "--db", small_store).out

    assert "possible, 75 %" in out
    assert "as if all mixtures were independent" in out
    assert "possible" not in lotkin("contain", "ANO-1", "--db", small_store).out.split("\n", 5)[5]


def test_show_tells_where_an_item_is_and_what_happened_to_it(small_store: Path) -> None:
    out = lotkin("show", "TIP-1T", "--db", small_store).out

    assert "TIP-1T (treated-lot, TIP)" in out
    assert "ROOM-1 45 pcs, SHELF 48 pcs" in out
    # in the time zone of the works
    assert "2026-03-02 07:05:00+01:00" in out


def test_show_as_a_document_tells_it_all(small_store: Path) -> None:
    document = lotkin("show", "TIP-1", "--json", "--db", small_store).document()

    assert list(document) == ["item", "made_from", "used_in", "states", "history", "as_of"]
    assert document["item"]["made_at"] == "2026-03-02T06:03:00Z"
    assert [(each["code"], each["quantity"]) for each in document["made_from"]] == [
        ("BAR-A", 6),
        ("BAR-B", 2),
        ("RUN-1", None),
    ]
    assert [entry["kind"] for entry in document["history"]] == ["make", "send", "take-back"]
    assert all(len(entry["id"]) == 36 for entry in document["history"])


def test_a_unit_that_was_repaired_shows_its_states(own_store: Path) -> None:
    swap = event_line("swap", unit="PUMP-004", remove=[{"item": "SCREWS-1"}])
    assert lotkin("record", "--db", own_store, given=swap).status == 0

    out = lotkin("show", "PUMP-004", "--db", own_store).out
    assert "states of this serial" in out
    assert "  PUMP-004/2" in out


def test_a_delivery_that_no_unit_has_yet_is_contained_as_json(own_store: Path) -> None:
    """The commonest question: it came this morning, and is bad."""
    delivery = {"code": "FRESH", "item_kind": "purchased-lot", "part": "SCREW", "place": "SHELF"}
    fresh = event_line("receive", **delivery, quantity=40, unit="pcs")
    lotkin("record", "--db", own_store, given=fresh)

    answer = lotkin("contain", "FRESH", "--json", "--db", own_store)

    assert answer.status == 0
    document = answer.document()
    assert (document["units"], document["expected_units"], document["at_most_units"]) == (0, 0, 0)
    assert document["account"]["verdict"] == "complete"
    for words in (["account", "FRESH"], ["case", "compare", "FRESH"], ["drill", "FRESH"]):
        assert lotkin(*words, "--json", "--db", own_store).document()


def test_units_add_up_on_the_screen(small_store: Path) -> None:
    out = lotkin("contain", "ANO-1", "--db", small_store).out

    assert "5 units = 3 at customers + 2 in the works and at suppliers" in out.splitlines()


def test_numbers_that_do_not_add_up_are_never_called_accounted_for(own_store: Path) -> None:
    surplus = event_line("count", place="SHELF", item="SCREWS-1", counted=120)
    lotkin("record", "--db", own_store, given=surplus)

    out = lotkin("account", "SCREWS-1", "--db", own_store).out
    assert "  does not add up: 20 pcs more were counted than there were" in out.splitlines()
    for word in ("accounted for", "counted\n", "closed", "exactly"):
        assert word not in out
    (account,) = lotkin("account", "SCREWS-1", "--json", "--db", own_store).document()["accounts"]
    assert account["verdict"] == "does not add up"
    assert account["more_used_than_made"] == 20
    assert lotkin("drill", "SCREWS-1", "--db", own_store).status == 1
    gaps = lotkin("audit", "--kind", "stock-surplus", "--db", own_store)
    assert "SCREWS-1: 20 pcs more were used" in gaps.out
