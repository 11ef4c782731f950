"""Cases are named wherever a unit is shown, and a word of the plan is never "not recorded"."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.cli.command import copied, lotkin
from tests.cli.event_lines import event_line

if TYPE_CHECKING:
    from pathlib import Path

NAMED = ["PUMP", "pump", "CLINIC", "Clinic", "ANODISER", "SHELF", "B1", "SCREW"]


def told(store: Path, kind: str, **fields: object) -> None:
    answer = lotkin("record", "-", "--db", store, given=event_line(kind, **fields))
    assert answer.status == 0, answer.err


@pytest.fixture
def in_a_case(small_store: Path, tmp_path: Path) -> Path:
    """A case on the batch at the anodiser; the recall of one pump is decided."""
    path = copied(small_store, tmp_path)
    told(path, "open-case", case="CASE-9", subjects=["ANO-1"], reason="too thin")
    members = [{"item": "PUMP-001"}]
    told(path, "decide", case="CASE-9", members=members, decision="recall", reason="leaks")
    return path


def test_the_first_line_of_a_complaint_names_the_case_and_its_decision(in_a_case: Path) -> None:
    first = lotkin("complaint", "PUMP-001", "--db", in_a_case).out.splitlines()[0]
    assert first == (
        "PUMP-001: shipped to CLINIC (Clinic) on 2026-03-02, not recorded as back; "
        "in CASE-9 (open): recall, decided by ANN on 2026-03-03"
    )


def test_a_unit_that_nothing_was_decided_on_is_said_to_be_undecided(in_a_case: Path) -> None:
    first = lotkin("complaint", "PUMP-002", "--db", in_a_case).out.splitlines()[0]
    assert first.endswith("in CASE-9 (open): not decided")


def test_a_unit_in_no_case_is_in_none(small_store: Path) -> None:
    first = lotkin("complaint", "PUMP-001", "--db", small_store).out.splitlines()[0]
    assert first.endswith("; in no case")


def test_a_unit_that_came_back_is_said_to_be_back(in_a_case: Path) -> None:
    told(in_a_case, "return", item="PUMP-001", to_place="SHELF", reason="recalled")

    first = lotkin("complaint", "PUMP-001", "--db", in_a_case).out.splitlines()[0]
    assert ", back on 2026-03-03; in CASE-9" in first
    document = lotkin("complaint", "PUMP-001", "--json", "--db", in_a_case).document()
    assert document["unit"]["back"] is True


def test_documents_name_the_cases(in_a_case: Path) -> None:
    unit = lotkin("complaint", "PUMP-001", "--json", "--db", in_a_case).document()["unit"]
    item = lotkin("show", "PUMP-001", "--json", "--db", in_a_case).document()["item"]

    assert unit["cases"] == item["cases"]
    (case,) = unit["cases"]
    assert (case["case"], case["open"], case["decision"]) == ("CASE-9", True, "recall")
    assert unit["back"] is False


def test_show_names_the_case(in_a_case: Path) -> None:
    said = lotkin("show", "TIP-1T", "--db", in_a_case).out
    assert "in CASE-9 (open): not decided" in said


def test_the_code_of_a_case_shows_the_case(in_a_case: Path) -> None:
    said = lotkin("show", "CASE-9", "--db", in_a_case)
    assert said.out == lotkin("case", "show", "CASE-9", "--db", in_a_case).out
    assert lotkin("show", "CASE-9", "--json", "--db", in_a_case).document()["case"] == "CASE-9"
    assert "CASE-9 is a case, open: too thin" in lotkin("complaint", "CASE-9", "--db",
                                                        in_a_case).err  # fmt: skip


@pytest.mark.parametrize("verb", ["show", "complaint", "where-used", "contain"])
@pytest.mark.parametrize("text", NAMED)
def test_a_word_of_the_plan_says_what_it_is(small_store: Path, verb: str, text: str) -> None:
    answer = lotkin(verb, text, "--db", small_store)

    assert answer.status == 4
    assert " of the plan" in answer.err
    assert "is not recorded" not in answer.err
    assert "receive it first" not in answer.err


def test_an_order_says_which_shipment_it_was(own_store: Path) -> None:
    told(own_store, "pack", carton="CARTON-2", contents=[{"item": "PUMP-004"}])
    told(own_store, "ship", shipment="SHIP-2", customer="CLINIC", reference="PO 9",
         contents=[{"item": "CARTON-2"}])  # fmt: skip
    assert "PO 9 is the order of SHIP-2" in lotkin("show", "PO 9", "--db", own_store).err


def test_what_nobody_knows_is_still_not_recorded(small_store: Path) -> None:
    assert "NEVER-HEARD is not recorded" in lotkin("show", "NEVER-HEARD", "--db", small_store).err


def test_days_of_a_case_are_those_of_the_works(own_store: Path) -> None:
    # half past eleven at night by UTC is half past midnight in Zurich, the zone of the plan
    late = "2026-03-02T23:30:00Z"
    told(own_store, "open-case", case="CASE-8", subjects=["TIP-1"], reason="burr", at=late)
    told(own_store, "decide", case="CASE-8", members=[{"item": "TIP-1"}], decision="scrap",
         reason="burr", at=late)  # fmt: skip

    assert "2026-03-03" in lotkin("case", "list", "--db", own_store).out
    shown = lotkin("case", "show", "CASE-8", "--db", own_store).out
    assert "on 2026-03-03" in shown
    assert "2026-03-02" not in shown
    (case,) = lotkin("case", "list", "--json", "--db", own_store).document()["cases"]
    assert case["opened"] == late
