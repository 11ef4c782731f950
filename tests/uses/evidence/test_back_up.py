"""Backups hold everything, are proven before they are kept, and restored whole or not at all."""

from __future__ import annotations

import errno
import hashlib
import io
import json
import os
import random
import shutil
import sqlite3
import threading
import uuid
import zipfile
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from lotkin.core.errors import (
    BackupKeyWrong,
    BackupRefused,
    BackupUnusable,
    BadFile,
    LotkinError,
    StoreDamaged,
    StoreExists,
    StoreUnreadable,
)
from lotkin.core.events.reading import parse_event
from lotkin.core.journal.backups import STORE
from lotkin.uses.asking.contain import contain
from lotkin.uses.evidence.back_up import BackedUp, back_up, restore
from lotkin.uses.evidence.verify import verify
from lotkin.uses.recording.record import record
from lotkin.wiring import create_store, open_documents, open_store
from lotkin.wiring.backups import Backups, make_key
from tests.small_works import PLAN, Works, dump, minute, moment

DOCUMENT = b"a certificate\n" * 50


def clock() -> int:
    return minute(500)


@pytest.fixture(scope="module")
def master(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A works with a document, and its backup."""
    folder = tmp_path_factory.mktemp("master")
    db = folder / "works.db"
    works = Works(str(db), plan=PLAN)
    works.receive("BAD", 100, part="TIP", item_kind="machined-lot")
    works.receive("SCREWS", 500)
    works.mount({"P1": "BAD", "P2": "SCREWS"})
    for number in range(5):
        works.build(f"U{number}")
    open_documents(str(db)).put(DOCUMENT)
    works.store.close()
    back_up(Backups(str(db)), folder / "works.backup", clock)
    return folder


@pytest.fixture
def folder(master: Path, tmp_path: Path) -> Path:
    """A copy of them that may be damaged."""
    return Path(shutil.copytree(master, tmp_path / "works"))


def to(folder: Path) -> Backups:
    return Backups(str(folder / "restored.db"))


def left(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


def test_a_restored_store_is_the_one_that_was_backed_up(folder: Path) -> None:
    done = restore(to(folder), folder / "works.backup")
    before, after = open_store(str(folder / "works.db")), open_store(str(folder / "restored.db"))

    assert dump(after) == dump(before)
    assert verify(after).is_sound
    assert verify(after).head == done.head
    assert contain(after, ["BAD"]).units == contain(before, ["BAD"]).units == 5
    name = hashlib.sha256(DOCUMENT).hexdigest()
    assert open_documents(str(folder / "restored.db")).get(name) == DOCUMENT
    assert (done.documents, done.lost) == (1, ())
    with closing(sqlite3.connect(folder / "restored.db")) as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_a_backup_is_for_its_owner_only_and_leaves_nothing_beside(folder: Path) -> None:
    before = left(folder)
    done = back_up(Backups(str(folder / "works.db")), folder / "b.backup", clock)
    assert done.path.stat().st_mode & 0o077 == 0
    assert left(folder) - before <= {"b.backup", "works.db-wal", "works.db-shm"}


def test_others_record_while_it_is_made(folder: Path) -> None:
    store = open_store(str(folder / "works.db"))
    going = threading.Event()
    going.set()

    def work() -> None:
        number = 0
        while going.is_set():
            number += 1
            event = {
                "id": str(uuid.uuid4()), "at": moment(100), "by": "ANN", "kind": "receive",
                "code": f"LOT-{number}", "item_kind": "purchased-lot", "part": "SCREW",
                "quantity": "10", "unit": "pcs", "place": "SHELF", "supplier": "MILL",
            }  # fmt: skip
            record(store, [parse_event(event, "test")], clock)

    thread = threading.Thread(target=work)
    thread.start()
    try:
        heads = [
            back_up(Backups(str(folder / "works.db")), folder / f"{n}.backup", clock).events
            for n in range(3)
        ]
    finally:
        going.clear()
        thread.join()
    assert heads == sorted(heads)
    done = restore(to(folder), folder / "2.backup")
    assert done.events == heads[-1]
    assert verify(open_store(str(folder / "restored.db"))).is_sound


def test_an_encrypted_backup_opens_with_its_key_and_shows_nothing_without(folder: Path) -> None:
    recipient = make_key(folder / "key")
    make_key(folder / "other")
    assert (folder / "key").stat().st_mode & 0o077 == 0
    path = folder / "secret.backup.age"
    back_up(Backups(str(folder / "works.db")), path, clock, [recipient])

    content = path.read_bytes()
    assert content.startswith(b"age-encryption.org/v1\n")  # C2SP age: the first line of a file
    assert b"SQLite format" not in content
    assert b"manifest" not in content
    for key in (None, folder / "other"):
        with pytest.raises(BackupKeyWrong):
            restore(to(folder), path, key)
    assert not (folder / "restored.db").exists()
    assert restore(to(folder), path, folder / "key").documents == 1


@pytest.mark.parametrize("recipient", ["", "age1", "me@example.org", "ssh-rsa AAAA"])
def test_a_recipient_that_is_none_is_refused_before_anything_is_written(
    folder: Path, recipient: str
) -> None:
    before = left(folder)
    with pytest.raises(BadFile):
        back_up(Backups(str(folder / "works.db")), folder / "b.backup", clock, [recipient])
    assert left(folder) == before


@pytest.mark.parametrize("key", [b"", b"# nothing\n", b"AGE-SECRET-KEY-1", b"\xff\xfe"])
def test_a_key_that_is_none_is_told(folder: Path, key: bytes) -> None:
    path = folder / "secret.backup.age"
    back_up(Backups(str(folder / "works.db")), path, clock, [make_key(folder / "key")])
    (folder / "bad").write_bytes(key)
    with pytest.raises(BackupKeyWrong):
        restore(to(folder), path, folder / "bad")


def test_nothing_is_overwritten(folder: Path) -> None:
    (folder / "restored.db").write_text("mine")
    with pytest.raises(StoreExists):
        restore(to(folder), folder / "works.backup")
    with pytest.raises(BackupUnusable, match="already"):
        back_up(Backups(str(folder / "works.db")), folder / "works.backup", clock)
    with pytest.raises(BadFile):
        make_key(folder / "works.db")
    assert (folder / "restored.db").read_text() == "mine"


def test_a_check_restores_nothing_even_beside_a_store(folder: Path) -> None:
    before = left(folder)
    backups = Backups(str(folder / "works.db"))
    assert restore(backups, folder / "works.backup", check_only=True).events > 0
    assert left(folder) == before


def test_another_backup_than_expected_is_refused(folder: Path) -> None:
    with pytest.raises(BackupRefused, match="hash"):
        restore(to(folder), folder / "works.backup", expected_head="0" * 64)
    assert not (folder / "restored.db").exists()


def damaged_copies(content: bytes) -> list[bytes]:
    """Cut a file off, flip single bits, lose and repeat stretches; the same at every run."""
    dice = random.Random(7)
    size = len(content)
    cut = [content[:at] for at in (0, 1, 21, size // 3, size // 2, size - 30, size - 1)]
    flipped = []
    for at in [0, 10, size - 2, *(dice.randrange(size) for _ in range(60))]:
        changed = bytearray(content)
        changed[at] ^= 1 << dice.randrange(8)
        flipped.append(bytes(changed))
    half = size // 2
    return [*cut, *flipped, content[:half] + content[half + 512 :], content[half:] + content[:half]]


@pytest.mark.parametrize("encrypted", [False, True])
def test_a_damaged_backup_restores_nothing_or_what_was_backed_up(
    folder: Path, encrypted: bool
) -> None:
    key = folder / "key"
    path = folder / "b.backup"
    recipients = [make_key(key)] if encrypted else []
    head = back_up(Backups(str(folder / "works.db")), path, clock, recipients).head
    content = path.read_bytes()
    refused = 0
    for number, damaged in enumerate(damaged_copies(content)):
        path.write_bytes(damaged)
        target = Backups(str(folder / f"r{number}.db"))
        try:
            done = restore(target, path, key)
        except LotkinError:
            refused += 1
            assert not (folder / f"r{number}.db").exists()
        else:
            # a bit that says nothing, such as the time of a member in the ZIP
            assert done.head == head
            assert verify(open_store(str(folder / f"r{number}.db"))).head == head
    assert refused >= (72 if encrypted else 60)


def rewritten(folder: Path, **changes: object) -> Path:
    """Write the backup anew with changes: a name -> its content, None to leave it out."""
    old, path = zipfile.ZipFile(folder / "works.backup"), folder / "changed.backup"
    members: dict[str, object] = {name: old.read(name) for name in old.namelist()}
    members |= changes
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for name, content in members.items():
            if isinstance(content, bytes):
                new.writestr(name, content)
    return path


def manifest(folder: Path, **changes: object) -> bytes:
    said = json.loads(zipfile.ZipFile(folder / "works.backup").read("manifest.json"))
    return json.dumps(said | changes).encode()


def of_store(folder: Path, content: bytes) -> dict[str, object]:
    """Give changes by which a backup holds another store, and says so."""
    said = json.loads(manifest(folder))
    for member in said["members"]:
        if member["name"] == STORE:
            member |= {"size": len(content), "sha256": hashlib.sha256(content).hexdigest()}
    return {STORE: content, "manifest.json": json.dumps(said).encode()}


def test_a_backup_with_more_or_less_than_it_says_is_refused(folder: Path) -> None:
    outside = {"name": "../../evil", "size": 4, "sha256": hashlib.sha256(b"evil").hexdigest()}
    members = json.loads(manifest(folder))["members"]
    document = next(m for m in members if m["name"] != STORE)
    hostile: list[dict[str, object]] = [
        {"../../evil": b"evil"},
        {"evil": b"evil"},
        {STORE: None},
        {document["name"]: None},
        {document["name"]: b"other"},
        {"manifest.json": None},
        {"manifest.json": b"{}"},
        {"manifest.json": b"\xff"},
        {"manifest.json": b"[" * 100_000},
        {"manifest.json": manifest(folder, tables="9999")},
        {"manifest.json": manifest(folder, events=1)},
        {"manifest.json": manifest(folder, head="0" * 64)},
        {"manifest.json": manifest(folder, format="other")},
        {"manifest.json": manifest(folder, members=[])},
        {"manifest.json": manifest(folder, members=[*members, members[0]])},
        {"../../evil": b"evil", "manifest.json": manifest(folder, members=[*members, outside])},
        of_store(folder, b"no store at all"),
        of_store(folder, b""),
        of_store(folder, bytes(200_000_000)),  # a bomb: 200 MB in a few kB
    ]
    for changes in hostile:
        before = left(folder)
        path = rewritten(folder, **changes)
        with pytest.raises(LotkinError):
            restore(to(folder), path)
        assert left(folder) - before <= {"changed.backup"}
        assert not (folder.parent.parent / "evil").exists()


def test_a_member_longer_than_it_says_is_not_read_to_its_end(folder: Path) -> None:
    said = json.loads(manifest(folder))
    said["members"][0]["size"] = 10
    path = rewritten(folder, **{"manifest.json": json.dumps(said).encode()})
    with pytest.raises(BackupRefused, match="not as it was"):
        restore(to(folder), path)


def test_a_store_that_was_tampered_with_is_refused_in_a_backup_that_hides_it(folder: Path) -> None:
    changed = folder / "changed.db"
    shutil.copy(folder / "works.db", changed)
    with closing(sqlite3.connect(changed)) as connection, connection:
        connection.execute("UPDATE journal SET by = 'EVE' WHERE seq = 3")
    path = rewritten(folder, **of_store(folder, changed.read_bytes()))
    with pytest.raises(BackupRefused, match="event 3"):
        restore(to(folder), path)


def test_no_backup_is_made_of_a_damaged_store(folder: Path) -> None:
    with closing(sqlite3.connect(folder / "works.db")) as connection, connection:
        connection.execute("UPDATE journal SET by = 'EVE' WHERE seq = 3")
    with pytest.raises(StoreDamaged, match="event 3"):
        back_up(Backups(str(folder / "works.db")), folder / "b.backup", clock)
    assert not (folder / "b.backup").exists()


def test_a_damaged_document_is_left_out_and_told(folder: Path) -> None:
    name = hashlib.sha256(DOCUMENT).hexdigest()
    kept = folder / "works.db.documents" / name[:2] / name
    kept.chmod(0o644)
    kept.write_bytes(b"other")
    done = back_up(Backups(str(folder / "works.db")), folder / "b.backup", clock)
    assert (done.documents, hashes(done)) == (0, [name])
    assert hashes(restore(to(folder), folder / "b.backup")) == [name]


def hashes(done: BackedUp) -> list[str]:
    return [one.document.sha256 for one in done.lost]


@pytest.mark.parametrize("what", ["nowhere/b.backup", "works.db/b.backup"])
def test_a_place_that_cannot_be_written_is_told(folder: Path, what: str) -> None:
    with pytest.raises(BackupUnusable):
        back_up(Backups(str(folder / "works.db")), folder / what, clock)


def test_what_cannot_be_read_is_told(folder: Path) -> None:
    for path in (folder, folder / "nowhere", Path(os.devnull)):
        with pytest.raises((BackupUnusable, BackupRefused)):
            restore(to(folder), path)
    (folder / "no.db").write_bytes(b"no store")
    with pytest.raises(StoreUnreadable):
        back_up(Backups(str(folder / "no.db")), folder / "b.backup", clock)


def test_an_empty_works_can_be_backed_up(tmp_path: Path) -> None:
    create_store(str(tmp_path / "new.db")).close()
    back_up(Backups(str(tmp_path / "new.db")), tmp_path / "b.backup", clock)
    assert restore(Backups(str(tmp_path / "r.db")), tmp_path / "b.backup").events == 0


def test_no_room_to_restore_is_told_as_that_and_not_as_a_damaged_backup(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Full(io.BytesIO):
        def write(self, _: object) -> int:
            raise OSError(errno.ENOSPC, "No space left on device")

    def opened(path: Path, mode: str = "r", *more: Any, **named: Any) -> Any:
        return Full() if path.name == STORE and mode == "xb" else real(path, mode, *more, **named)

    real = Path.open
    monkeypatch.setattr(Path, "open", opened)
    with pytest.raises(BackupUnusable, match="No space left"):
        restore(to(folder), folder / "works.backup")
    assert not (folder / "restored.db").exists()
