"""Suppliers' labels: messages of ISO/IEC 15434 with data identifiers of ANSI MH10.8.2.

Sources: `iso15434_messages.json` (each message names its own) and `iso15418_data_identifiers.csv`
(presence and meaning checked in a public table, Solidsoft.Reply.Parsers.AnsiMhDi, Apache-2.0)
beside this file.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import TypedDict

import pytest

from lotkin.core.scan import Message06, read_scan
from lotkin.core.scan.iso15434.message_fields import data_identifiers

HERE = Path(__file__).parent


class Message(TypedDict):
    name: str
    data: str
    well_formed: bool
    fields: list[list[str]]
    repaired: str | None


MESSAGES: list[Message] = json.loads((HERE / "iso15434_messages.json").read_text(encoding="utf-8"))[
    "messages"
]
with (HERE / "iso15418_data_identifiers.csv").open(encoding="utf-8", newline="") as _file:
    IDENTIFIERS = list(csv.DictReader(_file))

by_name = pytest.mark.parametrize("message", MESSAGES, ids=lambda message: message["name"])
SAMPLES = {
    "n": "12.5", "n4": "2611", "n6": "260300", "n8": "20260331", "n9": "123456789",
    "n14": "09521234543213", "n8+an3": "20260331094", "n+an2": "250.5KG", "a2": "DE", "an2": "KG",
    "an..35": "A-1", "an+an": "A+1", "an": "A-1", "": "A-1",
}  # fmt: skip


def pairs(scan: object) -> list[list[str]]:
    assert isinstance(scan, Message06)
    return [[field.di, field.value] for field in scan.fields]


@by_name
def test_a_message_gives_the_listed_fields(message: Message) -> None:
    assert pairs(read_scan(message["data"])) == message["fields"]


@by_name
def test_only_a_damaged_message_is_read_with_a_warning(message: Message) -> None:
    scan = read_scan(message["data"])

    assert isinstance(scan, Message06)
    # that a second envelope holds what is not read is no damage
    damage = [told for told in scan.warnings if "says more in format" not in told]
    assert (damage == []) is message["well_formed"]


@by_name
def test_a_repaired_message_reads_as_the_sound_one(message: Message) -> None:
    if message["repaired"] is not None:
        assert pairs(read_scan(message["repaired"])) == pairs(read_scan(message["data"]))
        assert not message["well_formed"]


def test_some_of_the_messages_are_sound_and_some_damaged() -> None:
    assert {message["well_formed"] for message in MESSAGES} == {True, False}


@pytest.mark.parametrize("row", IDENTIFIERS, ids=lambda row: row["di"])
def test_every_listed_identifier_is_known_and_read(row: dict[str, str]) -> None:
    known = data_identifiers()[row["di"]]
    sample = SAMPLES[row["format"]]

    scan = read_scan(f"[)>\x1e06\x1d{row['di']}{sample}\x1e\x04")

    assert (known.meaning, known.format) == (row["meaning_own_words"], row["format"])
    assert pairs(scan) == [[row["di"], sample]]
    assert isinstance(scan, Message06)
    assert scan.warnings == ()


def test_no_identifier_is_listed_that_is_not_in_the_table() -> None:
    assert set(data_identifiers()) == {row["di"] for row in IDENTIFIERS}
