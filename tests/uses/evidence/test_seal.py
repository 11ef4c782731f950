"""Seals: made, checked, shown in reports, and reports compared with the journal of today."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from typing import TYPE_CHECKING

import pytest
from cryptography.hazmat.primitives.asymmetric import rsa
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat

from lotkin.core.errors import BadEvent, BadFile
from lotkin.core.journal.chain import chain_row, hash_of
from lotkin.core.journal.seals import is_signed, statement
from lotkin.uses.cases.case_work import Person, close_case, open_case
from lotkin.uses.evidence.seal import seal
from lotkin.uses.evidence.verify import verify
from lotkin.uses.evidence.verify_report import verify_report
from lotkin.wiring import open_documents, open_store
from lotkin.wiring.sealing import KeyFile, make_seal_key
from tests.cli.command import lotkin
from tests.small_works import PLAN, Works

if TYPE_CHECKING:
    from pathlib import Path

# RFC 8032, 7.1, TEST 2 and TEST 3: public key, message, signature
RFC_8032 = (
    (
        "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
        "72",
        (
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"
            "085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00"
        ),
    ),
    (
        "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
        "af82",
        (
            "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac"
            "18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a"
        ),
    ),
)


@pytest.mark.parametrize(("key", "message", "signature"), RFC_8032)
def test_signatures_are_those_of_the_standard(
    key: str, message: str, signature: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("lotkin.core.journal.seals.statement", lambda *_: bytes.fromhex(message))
    assert is_signed(key, 1, "", signature)
    flipped = f"{int(signature[0], 16) ^ 1:x}{signature[1:]}"
    assert not is_signed(key, 1, "", flipped)


@pytest.fixture
def key(tmp_path: Path) -> KeyFile:
    make_seal_key(tmp_path / "seal.key")
    return KeyFile(tmp_path / "seal.key")


@pytest.fixture
def works() -> Works:
    works = Works(plan=PLAN)
    works.receive("BAD", 100, part="TIP", item_kind="machined-lot")
    works.receive("SCREWS", 500)
    return works


def test_a_seal_covers_all_events_before_it(works: Works, key: KeyFile) -> None:
    made = seal(works.store, key, "ANN", works.clock)
    assert made is not None
    assert (made.events, made.event) == (3, 4)
    assert is_signed(key.key, 3, made.head, made.signature)
    found = verify(works.store, key.key)
    assert found.is_sound
    assert [one.events for one in found.seals] == [3]


def test_nothing_is_sealed_twice_and_nothing_of_nothing(works: Works, key: KeyFile) -> None:
    assert seal(works.store, key, "ANN", works.clock) is not None
    assert seal(works.store, key, "ANN", works.clock) is None
    works.receive("MORE", 1)
    assert seal(works.store, key, "ANN", works.clock) is not None
    assert seal(Works().store, key, "ANN", works.clock) is None


def test_a_seal_by_another_key_is_not_trusted(works: Works, key: KeyFile, tmp_path: Path) -> None:
    seal(works.store, key, "ANN", works.clock)
    other = make_seal_key(tmp_path / "other.key")
    found = verify(works.store, other)
    assert found.damage == ((4, "is a seal by another key"),)


def test_a_journal_without_a_seal_by_the_key_named_is_not_sound(works: Works, key: KeyFile) -> None:
    assert verify(works.store).is_sound
    assert not verify(works.store, key.key).is_sound
    assert verify(works.store, key.key).lacks_seal
    seal(works.store, key, "ANN", works.clock)
    assert verify(works.store, key.key).is_sound


def test_how_far_the_journal_is_sealed_is_told(works: Works, key: KeyFile) -> None:
    assert verify(works.store).sealed_to == 0
    seal(works.store, key, "ANN", works.clock)
    works.receive("MORE", 1)
    found = verify(works.store, key.key)
    assert (found.sealed_to, found.events) == (3, 5)


def test_the_command_says_which_events_no_seal_covers(tmp_path: Path) -> None:
    db = tmp_path / "works.db"
    works = Works(str(db), plan=PLAN)
    works.receive("BAD", 100)
    public = make_seal_key(tmp_path / "key")
    bare = lotkin("verify", "--key", public, "--db", db)
    assert bare.status == 1
    assert f"not sealed: no seal by key {public} is on record" in bare.out
    assert "sound" not in bare.out.replace("documents sound", "")
    assert lotkin("verify", "--key", public, "--json", "--db", db).document()["sound"] is False

    seal(works.store, KeyFile(tmp_path / "key"), "ANN", works.clock)
    works.receive("MORE", 1)
    told = lotkin("verify", "--key", public, "--db", db)
    assert told.status == 0
    assert "sealed to event 2 of 4; 2 not sealed" in told.out


def test_a_seal_that_does_not_hold_never_calls_the_rows_before_it_sound(tmp_path: Path) -> None:
    db = tmp_path / "works.db"
    works = Works(str(db), plan=PLAN)
    works.receive("BAD", 100)
    make_seal_key(tmp_path / "key")
    other = make_seal_key(tmp_path / "other")
    seal(works.store, KeyFile(tmp_path / "key"), "ANN", works.clock)
    told = lotkin("verify", "--key", other, "--db", db)
    assert told.status == 1
    assert "false seal: event 3 is a seal by another key" in told.out
    assert "sound" not in told.out


def event(works: Works, signer: KeyFile, changes: dict[str, object]) -> dict[str, object]:
    with works.store.reading() as view:
        events, head = view.journal_head()
    fields: dict[str, object] = {
        "events": events,
        "head": head,
        "key": signer.key,
        "signature": signer.sign(statement(events, head)),
    }
    return fields | changes


@pytest.mark.parametrize(
    "changes",
    [
        {"head": "0" * 64},
        {"events": 2},
        {"events": 99},
        {"signature": "0" * 128},
        {"key": "0" * 64},
    ],
)
def test_a_false_seal_is_not_recorded(
    works: Works, key: KeyFile, changes: dict[str, object]
) -> None:
    with pytest.raises(BadEvent):
        works.do("seal", **event(works, key, changes))
    works.do("seal", **event(works, key, {}))


def test_a_journal_that_was_written_anew_cannot_be_sealed_again(tmp_path: Path) -> None:
    """Somebody who may write the file changes an event and mends the whole chain behind it."""
    path = tmp_path / "works.db"
    works = Works(str(path), plan=PLAN)
    works.receive("BAD", 100)
    make_seal_key(tmp_path / "key")
    seal(works.store, KeyFile(tmp_path / "key"), "ANN", works.clock)
    with works.store.reading() as view:
        rows = [chain_row(entry) for entry in view.entries()]
    works.store.close()
    previous = "0" * 64
    with closing(sqlite3.connect(path)) as connection, connection:
        for row in rows:
            changed = row._replace(previous=previous, by="EVE" if row.seq == 2 else row.by)
            previous = hash_of(changed)
            connection.execute(
                "UPDATE journal SET by = ?, previous = ?, hash = ? WHERE seq = ?",
                (changed.by, changed.previous, previous, row.seq),
            )
        connection.execute("UPDATE meta SET value = ? WHERE key = 'head'", (f"3 {previous}",))
    found = verify(open_store(str(path)))
    assert found.damage == ((3, "seals event 2 with another hash than it has"),)


def test_closing_a_case_seals(works: Works, key: KeyFile) -> None:
    person = Person("ANN", works.clock)
    case = open_case(works.store, ["BAD"], "cracks", person).case.code
    works.do("decide", case=case, members=[{"item": "BAD"}], decision="scrap", reason="cracked")
    close_case(works.store, case, "done", person, key)
    (one,) = verify(works.store).seals
    with works.store.reading() as view:
        assert view.entry(one.events).kind == "close-case"


@pytest.mark.parametrize("ending", ["pdf", "xlsx"])
@pytest.mark.parametrize("what", ["contain", "unit"])
def test_a_report_shows_the_seal_and_is_compared_with_the_journal_of_today(
    tmp_path: Path, ending: str, what: str
) -> None:
    path, report = tmp_path / "works.db", tmp_path / f"report.{ending}"
    works = Works(str(path), plan=PLAN)
    works.receive("BAD", 100, part="TIP", item_kind="machined-lot")
    works.receive("SCREWS", 500)
    works.mount({"P1": "BAD", "P2": "SCREWS"})
    works.build("U1")
    make_seal_key(tmp_path / "key")
    seal(works.store, KeyFile(tmp_path / "key"), "ANN", works.clock)
    subject = "BAD" if what == "contain" else "U1"
    assert lotkin("report", what, subject, "--to", report, "--db", path).status == 0
    works.receive("LATER", 1)

    found = verify_report(works.store, report, open_documents(str(path)))
    assert (found.holds, found.event, found.since) == (True, 6, 1)
    told = lotkin("verify", "--against", report, "--db", path)
    assert told.status == 0
    assert "made from the first 6 of these 7 events" in told.out
    other = Works(plan=PLAN)
    other.receive("BAD", 100)
    assert not verify_report(other.store, report, open_documents(str(path))).holds
    if ending == "pdf":
        lines = [
            line.text for line in open_documents(str(path)).read_text(report.read_bytes(), "r")
        ]
        signature = verify(works.store).seals[0].signature
        text = "\n".join(lines)
        assert signature[:64] in text
        assert signature[64:] in text


def test_what_names_no_hash_is_refused(works: Works, tmp_path: Path) -> None:
    documents = open_documents(str(tmp_path / "x.db"))
    hostile = {
        "a.txt": b"nothing",
        "b.pdf": b"%PDF-1.7 broken",
        "c.xlsx": b"PK\x03\x04 broken",
        "d": b"",
    }
    for name, content in hostile.items():
        (tmp_path / name).write_bytes(content)
        with pytest.raises(BadFile):
            verify_report(works.store, tmp_path / name, documents)
    for path in (tmp_path, tmp_path / "nowhere"):
        with pytest.raises(BadFile):
            verify_report(works.store, path, documents)


def test_keys_that_are_none_are_refused(tmp_path: Path) -> None:
    with pytest.raises(BadFile) as caught:
        KeyFile(tmp_path / "nowhere")
    assert "seal-key" in caught.value.hint
    make_seal_key(tmp_path / "key")
    with pytest.raises(BadFile):
        make_seal_key(tmp_path / "key")
    (tmp_path / "key").chmod(0o644)
    with pytest.raises(BadFile, match="others may read"):
        KeyFile(tmp_path / "key")
    wrong = rsa.generate_private_key(65537, 2048).private_bytes(
        Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()
    )
    for content in (b"", b"no key", wrong):
        (tmp_path / "key").chmod(0o600)
        (tmp_path / "key").write_bytes(content)
        with pytest.raises(BadFile):
            KeyFile(tmp_path / "key")


def test_the_command_seals_and_tells(tmp_path: Path) -> None:
    path = tmp_path / "works.db"
    works = Works(str(path), plan=PLAN)
    works.receive("BAD", 1)
    public = lotkin("seal-key", tmp_path / "key", "--json").document()["public_key"]
    assert lotkin("seal", "--db", path).status == 2
    done = lotkin("seal", "--key", tmp_path / "key", "--by", "ANN", "--db", path)
    assert done.out.startswith("sealed events 1 to 2, last hash ")
    again = lotkin("seal", "--db", path, env={"LOTKIN_SEAL_KEY": str(tmp_path / "key")})
    assert again.out == "nothing was recorded since the last seal\n"
    told = lotkin("verify", "--key", public, "--db", path)
    assert f"sealed by key {public}" in told.out
    assert lotkin("verify", "--key", "f" * 64, "--db", path).status == 1
    assert lotkin("verify", "--key", "short", "--db", path).status == 2
    document = lotkin("verify", "--json", "--db", path).document()
    assert document["seals"][0]["key"] == public
