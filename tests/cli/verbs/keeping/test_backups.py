"""`backup`, `restore` and `backup-key` as they are typed."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from typing import TYPE_CHECKING

from tests.cli.command import lotkin

if TYPE_CHECKING:
    from pathlib import Path


def test_a_backup_is_made_checked_and_restored(own_store: Path, tmp_path: Path) -> None:
    file = tmp_path / "works.backup"
    made = lotkin("backup", file, "--json", "--db", own_store).document()
    assert list(made) == [
        "file", "made", "events", "head", "documents", "missing_documents", "lost_documents",
        "bytes",
    ]  # fmt: skip
    assert made["events"] == 22

    checked = lotkin("restore", file, "--check", "--db", own_store)
    assert checked.status == 0
    assert checked.out.startswith("journal and documents sound: 22 events, 0 documents, ")
    assert "derived tables not compared" in checked.out
    target = tmp_path / "new.db"
    restored = lotkin("restore", file, "--head", made["head"], "--db", target)
    assert f"last hash {made['head']}\n" in restored.out
    assert lotkin("verify", "--json", "--db", target).document()["head"] == made["head"]


def test_a_folder_gets_a_file_named_after_the_time(own_store: Path, tmp_path: Path) -> None:
    (tmp_path / "backups").mkdir()
    recipient = lotkin("backup-key", tmp_path / "key", "--json").document()["recipient"]
    ended = lotkin("backup", tmp_path / "backups", "--encrypt-to", recipient, "--db", own_store)
    (file,) = (tmp_path / "backups").iterdir()
    assert ended.status == 0
    assert file.match("lotkin-2*Z.backup.age")
    options = ("--key", tmp_path / "key", "--db", tmp_path / "new.db")
    assert lotkin("restore", file, *options).status == 0


def test_what_cannot_be_done_is_an_error_and_changes_nothing(
    own_store: Path, tmp_path: Path
) -> None:
    file = tmp_path / "works.backup"
    lotkin("backup", file, "--db", own_store)
    again = lotkin("backup", file, "--json", "--db", own_store)
    assert (again.status, again.error()["kind"]) == (5, "backup-unusable")
    over = lotkin("restore", file, "--json", "--db", own_store)
    assert (over.status, over.error()["kind"]) == (5, "store-exists")
    file.write_bytes(file.read_bytes()[:-40])
    cut = lotkin("restore", file, "--json", "--db", tmp_path / "new.db")
    assert (cut.status, cut.error()["kind"]) == (3, "backup-refused")
    assert not (tmp_path / "new.db").exists()


def test_a_damaged_store_is_not_backed_up_and_the_words_say_so(
    own_store: Path, tmp_path: Path
) -> None:
    with closing(sqlite3.connect(own_store)) as connection, connection:
        connection.execute("UPDATE journal SET by = 'EVE' WHERE seq = 7")
    ended = lotkin("backup", tmp_path / "works.backup", "--json", "--db", own_store)
    error = ended.error()
    assert (ended.status, error["kind"]) == (3, "store-damaged")
    assert "is not backed up, because it is damaged: event 7 of its journal" in error["message"]
    assert "restored" not in error["message"]
    assert "lotkin verify" in error["hint"]
    assert not (tmp_path / "works.backup").exists()
