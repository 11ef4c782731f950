"""`verify` and `rebuild`, on sound stores and on stores that somebody tampered with."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from typing import TYPE_CHECKING

import pytest

from tests.cli.command import lotkin

if TYPE_CHECKING:
    from pathlib import Path


def tamper(store: Path, statement: str) -> None:
    with closing(sqlite3.connect(store)) as connection, connection:
        assert connection.execute(statement).rowcount == 1


def test_a_sound_journal_is_told_with_its_last_hash(small_store: Path) -> None:
    document = lotkin("verify", "--json", "--db", small_store).document()

    assert list(document) == [
        "sound", "events", "head", "damage", "seals", "sealed_to", "documents", "lost_documents",
        "not_looked_at",
    ]  # fmt: skip
    assert (document["sound"], document["events"], document["damage"]) == (True, 22, [])
    text = lotkin("verify", "--db", small_store).out
    assert text.splitlines() == [
        f"journal sound: 22 events, last hash {document['head']}",
        "not sealed",
        "documents: events name none",
        "derived tables not compared: run `lotkin rebuild --check`",
    ]


def test_verifying_never_calls_sound_what_it_did_not_compare(own_store: Path) -> None:
    """A hold, a link, a quantity taken out of the derived tables: only a replay tells."""
    tamper(
        own_store,
        "UPDATE stock SET quantity = quantity + 1"
        " WHERE (item, spot) = (SELECT item, spot FROM stock LIMIT 1)",
    )
    text = lotkin("verify", "--db", own_store).out

    assert not any(line.startswith("sound") for line in text.splitlines())
    assert "derived tables not compared: run `lotkin rebuild --check`" in text
    document = lotkin("verify", "--json", "--db", own_store).document()
    assert document["not_looked_at"] == ["derived tables"]
    assert lotkin("rebuild", "--check", "--db", own_store).status == 1


def test_a_changed_row_is_found_and_named(own_store: Path) -> None:
    tamper(own_store, "UPDATE journal SET by = 'EVE' WHERE seq = 7")

    answer = lotkin("verify", "--db", own_store)
    document = lotkin("verify", "--json", "--db", own_store)

    assert (answer.status, answer.err) == (1, "")
    assert "first damaged row: 7, " in answer.out
    assert "sound" not in answer.out
    assert "seals not looked at" in answer.out
    assert document.document()["not_looked_at"] == ["seals", "derived tables"]
    assert document.status == 1
    assert document.document()["damage"][0]["event"] == 7


def test_a_removed_row_is_found(own_store: Path) -> None:
    tamper(own_store, "DELETE FROM journal WHERE seq = 22")

    assert lotkin("verify", "--db", own_store).status == 1


def test_what_follows_from_the_journal_is_what_is_there(own_store: Path) -> None:
    document = lotkin("rebuild", "--check", "--json", "--db", own_store).document()

    assert document == {"same": True, "events": 22, "difference": "", "kept": False}
    text = lotkin("rebuild", "--db", own_store)
    assert text.out == "22 events replayed: everything is as it follows from the journal\n"
    assert text.status == 0


def test_a_difference_is_told_and_mended(own_store: Path) -> None:
    tamper(
        own_store,
        "UPDATE stock SET quantity = quantity + 1"
        " WHERE (item, spot) = (SELECT item, spot FROM stock LIMIT 1)",
    )

    check = lotkin("rebuild", "--check", "--db", own_store)
    mend = lotkin("rebuild", "--db", own_store)

    assert check.status == 1
    assert check.out.endswith("nothing was changed\n")
    assert mend.status == 1
    assert mend.out.endswith("what follows from the journal holds now\n")
    assert lotkin("rebuild", "--db", own_store).status == 0


@pytest.mark.parametrize(("seq", "field"), [(3, "code"), (22, "kind")])
def test_a_journal_that_cannot_be_replayed_is_called_so_and_leads_to_verify(
    own_store: Path, seq: int, field: str
) -> None:
    """The events were accepted once: what their makers could mend is not what is wrong."""
    changed = f"json_set(data, '$.{field}', 'NO SUCH')"
    tamper(own_store, f"UPDATE journal SET data = {changed} WHERE seq = {seq}")
    ended = lotkin("rebuild", "--check", "--json", "--db", own_store)
    error = ended.error()
    assert (ended.status, error["kind"]) == (5, "journal-unreadable")
    assert error["message"].startswith(f"event {seq} of the journal cannot be replayed: ")
    assert "lotkin verify" in error["hint"]
    assert lotkin("verify", "--db", own_store).status == 1


def test_a_store_of_a_newer_lotkin_is_left_alone_and_says_what_helps(own_store: Path) -> None:
    tamper(own_store, "UPDATE alembic_version SET version_num = '9999'")
    before = own_store.read_bytes()
    for words in (("verify",), ("init", "--upgrade")):
        ended = lotkin(*words, "--json", "--db", own_store)
        error = ended.error()
        assert (ended.status, error["kind"]) == (5, "store-outdated")
        assert "newer lotkin" in error["hint"]
        assert "--upgrade" not in error["hint"]
    assert own_store.read_bytes() == before
    tamper(own_store, "UPDATE alembic_version SET version_num = '0001'")
    older = lotkin("verify", "--json", "--db", own_store).error()
    assert "init --upgrade" in older["hint"]
