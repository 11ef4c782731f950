"""`record`: events in, all or none, or one by one."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from tests.cli.command import lotkin
from tests.cli.event_lines import event_line, receipt

if TYPE_CHECKING:
    from pathlib import Path

TAKES_TOO_MUCH = event_line("move", item="L-1", quantity=101, place="SHELF", to_place="FLOOR")


def head_of(store: Path) -> int:
    return int(lotkin("verify", "--json", "--db", store).document()["events"])


def test_events_are_recorded_from_standard_input(own_store: Path) -> None:
    answer = lotkin("record", "--db", own_store, given=receipt("L-1") + "\n" + receipt("L-2"))

    assert answer.out == "23 receive: L-1\n24 receive: L-2\n2 events recorded\n"
    assert (answer.status, answer.err) == (0, "")


def test_events_are_recorded_from_a_file(own_store: Path, tmp_path: Path) -> None:
    file = tmp_path / "events.jsonl"
    file.write_text("\ufeff" + receipt("L-1"), "utf-8")

    document = lotkin("record", file, "--json", "--db", own_store).document()

    assert list(document) == ["recorded", "dry_run"]
    (recorded,) = document["recorded"]
    assert list(recorded) == ["event", "id", "kind", "repeated", "made", "breaches"]
    assert recorded["made"] == ["L-1"]
    assert recorded["repeated"] is False


@pytest.mark.parametrize("options", [[], ["--each"]], ids=["all", "each"])
def test_the_same_file_twice_is_recorded_once(own_store: Path, options: list[str]) -> None:
    lines = receipt("L-1") + receipt("L-2")
    lotkin("record", *options, "--db", own_store, given=lines)
    head = head_of(own_store)

    again = lotkin("record", *options, "--db", own_store, given=lines)

    assert again.status == 0
    assert "23 receive, recorded before: L-1" in again.out
    assert head_of(own_store) == head


def test_a_refused_event_names_its_line_and_nothing_is_recorded(own_store: Path) -> None:
    head = head_of(own_store)

    answer = lotkin("record", "--db", own_store, given=receipt("L-1") + "\n" + TAKES_TOO_MUCH)

    assert answer.status == 3
    assert answer.out == ""
    assert answer.err.startswith("error: standard input line 3: L-1 cannot be moved")
    assert "\nhint: " in answer.err
    assert head_of(own_store) == head


def test_one_by_one_what_came_before_the_refused_event_stays(own_store: Path) -> None:
    answer = lotkin("record", "--each", "--db", own_store, given=receipt("L-1") + TAKES_TOO_MUCH)

    assert answer.status == 3
    assert answer.out == "23 receive: L-1\n"
    assert head_of(own_store) == 23


def test_one_by_one_as_json_is_one_document_even_when_it_stops(own_store: Path) -> None:
    answer = lotkin(
        "record", "--each", "--json", "--db", own_store, given=receipt("L-1") + TAKES_TOO_MUCH
    )

    assert answer.status == 3
    assert [each["made"] for each in json.loads(answer.out)["recorded"]] == [["L-1"]]
    assert json.loads(answer.err)["error"]["kind"] == "rule-broken"


def test_one_by_one_nothing_to_record_is_a_document_too(own_store: Path) -> None:
    answer = lotkin("record", "--each", "--json", "--db", own_store)

    assert answer.document() == {"recorded": [], "dry_run": False}


def test_a_bad_line_is_found_before_anything_is_recorded(own_store: Path) -> None:
    answer = lotkin("record", "--json", "--db", own_store, given=receipt("L-1") + "{}\n")

    assert answer.status == 3
    assert answer.error()["kind"] == "bad-event"
    assert answer.error()["message"].startswith("standard input line 2: ")


def test_a_rule_broken_by_what_has_happened_is_told_and_recorded(own_store: Path) -> None:
    happened = event_line(
        "move", item="L-1", quantity=101, place="SHELF", to_place="FLOOR", reported=True
    )
    answer = lotkin("record", "--db", own_store, given=receipt("L-1") + happened)

    assert answer.status == 0
    assert "  broke not-enough: L-1 cannot be moved" in answer.out
    assert answer.out.endswith("2 events recorded, 1 rule broken\n")


def test_a_rehearsal_checks_and_records_nothing(own_store: Path) -> None:
    head = head_of(own_store)

    good = lotkin("record", "--dry-run", "--db", own_store, given=receipt("L-1"))
    bad = lotkin("record", "--dry-run", "--db", own_store, given=receipt("L-1") + TAKES_TOO_MUCH)

    assert good == (0, "23 receive: L-1\n1 event would be recorded\n", "")
    assert (bad.status, bad.out) == (3, "")
    assert head_of(own_store) == head


def test_a_rehearsal_as_json_says_so(own_store: Path) -> None:
    answer = lotkin("record", "--dry-run", "--json", "--db", own_store, given=receipt("L-1"))

    assert answer.document()["dry_run"] is True


def test_a_rehearsal_one_by_one_makes_no_sense(own_store: Path) -> None:
    answer = lotkin("record", "--dry-run", "--each", "--db", own_store)

    assert answer.status == 2
    assert "exclude each other" in answer.err


def test_many_events_are_not_all_told_unless_asked(own_store: Path) -> None:
    lines = "".join(receipt(f"L-{number}") for number in range(203))

    assert (
        "… and 3 more; --all shows them"
        in lotkin("record", "--dry-run", "--db", own_store, given=lines).out
    )
    everything = lotkin("record", "--dry-run", "--all", "--db", own_store, given=lines).out
    assert len(everything.splitlines()) == 204


def test_a_line_without_end_is_not_waited_for(
    own_store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("lotkin_cli.inputs.LONGEST_LINE", 100)

    answer = lotkin("record", "--json", "--db", own_store, given="\n" + "x" * 101)
    assert answer.status == 3
    assert answer.error()["message"].startswith("standard input: line 2 is longer than ")


def test_no_event_at_all_is_no_error(own_store: Path) -> None:
    assert lotkin("record", "--db", own_store, given="\n \n") == (0, "0 events recorded\n", "")
