"""Half a pair of surrogates, and moments at the ends of the calendar, at every door of the command.

A lone surrogate is what a program makes of a byte that is no UTF-8, or what JSON lets through as an
escape; no file and no database can hold it (RFC 8259, 8.2; Unicode 3.9, D92).
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.command import lotkin

HALF = "bad\udcff"
ENDS = ("9999-12-31T23:59:59-10:00", "0001-01-01T00:00:00+10:00")


def event(kind: str, **fields: object) -> str:
    number = "7f000000-0000-4000-8000-000000000001"
    return json.dumps(
        {"kind": kind, "id": number, "at": "2026-03-02T07:30:00Z", "by": "ida", **fields}
    )


SENT = {
    "reason": event("open-case", codes=["ANO-1"], case="CASE-9", reason=HALF),
    "code": event("move", item=HALF, quantity=1, to_place="SHELF"),
    "field": event("move", **{HALF: 1}),
    "kind": event(HALF),
    "by": event("move", by=HALF, item="X", quantity=1, to_place="SHELF"),
    "patch": event("amend", reason="x", changes=[{"event": "x", "patch": {"a": {HALF: None}}}]),
    "plan": event("plan", plan={"works": {"name": HALF}}),
}


@pytest.mark.parametrize("sent", list(SENT))
def test_half_a_character_in_an_event_is_refused_with_its_place(
    own_store: Path, tmp_path: Path, sent: str
) -> None:
    file = tmp_path / "events.jsonl"
    file.write_text(SENT[sent] + "\n")
    ended = lotkin("record", file, "--json", "--db", own_store)
    error = ended.error()
    assert (ended.status, error["kind"]) == (3, "bad-event")
    assert "events.jsonl line 1" in error["message"]
    assert lotkin("verify", "--json", "--db", own_store).document()["events"] == 22


@pytest.mark.parametrize(
    "words",
    [
        ("contain", "ANO-1", "--open", "--by", "ida", "--reason", HALF),
        ("contain", "ANO-1", "--open", "--by", HALF, "--reason", "x"),
        ("report", "contain", "ANO-1", "--to", "made.pdf", "--reason", HALF),
        ("report", "contain", "ANO-1", "--to", "made.xlsx", "--reason", HALF),
        ("drill", HALF, "--by", "ida"),
        ("plan", "load", "plan.toml", "--by", HALF),
    ],
)
def test_half_a_character_typed_is_refused_and_makes_nothing(
    own_store: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("plan.toml").write_text('[works]\nname = "Small"\n')
    ended = lotkin(*words, "--json", "--db", own_store)
    assert ended.status in (2, 3)
    assert ended.error()["kind"] in ("usage", "bad-event")
    assert list(tmp_path.glob("made.*")) == []
    assert lotkin("verify", "--json", "--db", own_store).document()["events"] == 22


@pytest.mark.parametrize("moment", ENDS)
@pytest.mark.parametrize(
    "words",
    [
        ("contain", "ANO-1", "--from"),
        ("where-used", "ANO-1", "--to"),
        ("hold-first", "ANO-1", "--from"),
        ("audit", "--at"),
        ("report", "record", "--to", "r.csv", "--since"),
        ("export", "--format", "epcis", "--to", "r.json", "--since"),
    ],
)
def test_a_moment_at_the_end_of_the_calendar_is_refused(
    own_store: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...], moment: str
) -> None:
    monkeypatch.chdir(own_store.parent)
    ended = lotkin(*words, moment, "--json", "--db", own_store)
    assert (ended.status, ended.error()["kind"]) == (2, "usage")
    assert "internal" not in ended.err


@pytest.mark.parametrize("field", ["at", "start", "end"])
@pytest.mark.parametrize("moment", ENDS)
def test_an_event_at_the_end_of_the_calendar_is_refused(
    own_store: Path, tmp_path: Path, moment: str, field: str
) -> None:
    file = tmp_path / "events.jsonl"
    file.write_text(event("open-case", codes=["ANO-1"], reason="x", **{field: moment}) + "\n")
    ended = lotkin("record", file, "--json", "--db", own_store)
    assert (ended.status, ended.error()["kind"]) == (3, "bad-event")
    assert f"{field}: is not a date that a works can have" in ended.error()["message"]
