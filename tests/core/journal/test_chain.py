"""The hash of a journal row is made of its one spelling, and of the hash before it."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest

from lotkin.core.genealogy.view import Breach, Entry
from lotkin.core.journal.chain import chain_row, chained, check_chain, hash_of
from lotkin.core.values.canonical import GENESIS, canonical

FIRST = Entry(
    seq=1,
    id="9f0c2a4e-0000-4000-8000-000000000001",
    kind="receive",
    at=1_000,
    recorded_at=2_000,
    station="GOODS-IN",
    by="ANN",
    reported=True,
    data={"code": "BAR-1", "part": "BAR"},
    sent="0" * 64,
    plan=0,
    breaches=(Breach("unknown-part", "BAR-1", "BAR-1: part BAR is not in the plan"),),
    previous=GENESIS,
)


def test_an_entry_is_chained_by_the_very_row_that_is_stored() -> None:
    entry = chained(FIRST)

    assert entry.hash == hash_of(chain_row(entry))
    assert replace(entry, hash="") == FIRST
    assert list(check_chain([chain_row(entry)], (1, entry.hash))) == []


def test_a_spelling_that_was_written_already_is_the_one_that_is_hashed() -> None:
    spelt = replace(FIRST, text=canonical(FIRST.data))

    assert chained(spelt).hash == chained(FIRST).hash


OTHERWISE: dict[str, Any] = {
    "seq": 2,
    "id": "9f0c2a4e-0000-4000-8000-000000000002",
    "kind": "count",
    "at": 1_001,
    "recorded_at": 2_001,
    "station": "SHELF",
    "by": "BEN",
    "reported": False,
    "data": {"code": "BAR-2", "part": "BAR"},
    "sent": "1" * 64,
    "plan": 1,
    "breaches": (),
    "previous": "1" * 64,
}


@pytest.mark.parametrize("field", OTHERWISE)
def test_whatever_else_an_entry_says_gives_another_hash(field: str) -> None:
    other = replace(FIRST, **{field: OTHERWISE[field]})

    assert chained(other).hash != chained(FIRST).hash


def test_no_field_of_an_entry_is_left_out_of_its_hash() -> None:
    not_said = {"hash", "text"}  # what is made of the rest, and a spelling of `data`

    assert {field.name for field in fields(Entry)} - not_said == set(OTHERWISE)
