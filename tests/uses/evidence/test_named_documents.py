"""A document that an event names is there as it was kept, or every check tells which is not."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING

import pytest

from lotkin.uses.asking.audit import audit
from lotkin.uses.evidence.back_up import back_up, restore
from lotkin.uses.evidence.verify import verify
from lotkin.wiring import open_documents
from lotkin.wiring.backups import Backups
from tests.cli.command import lotkin
from tests.small_works import PLAN, Works, minute

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

CONTENT = b"%PDF-1.4 an inspection certificate 3.1"
SHA256 = hashlib.sha256(CONTENT).hexdigest()
LATER = b"%PDF-1.4 the page that was forgotten"


def named(content: bytes, name: str = "3.1.pdf") -> dict[str, object]:
    return {
        "sha256": hashlib.sha256(content).hexdigest(),
        "name": name,
        "media_type": "application/pdf",
        "size": len(content),
    }


class Certified:
    """A works in a folder that received a lot with its certificate."""

    def __init__(self, folder: Path) -> None:
        self.db = folder / "works.db"
        self.works = Works(str(self.db), plan=PLAN)
        self.documents = open_documents(str(self.db))
        self.documents.put(CONTENT)
        self.received = self.works.receive("LOT-1", 100, documents=[named(CONTENT)])

    def file(self, content: bytes = CONTENT) -> Path:
        sha256 = hashlib.sha256(content).hexdigest()
        return self.db.with_name("works.db.documents") / sha256[:2] / sha256

    def gaps(self) -> list[tuple[str, str]]:
        found = audit(self.works.store, self.documents, minute(500))
        return [(gap.kind, gap.record) for gap in found.gaps if "document" in gap.kind]


@pytest.fixture
def certified(tmp_path: Path) -> Certified:
    return Certified(tmp_path)


def removed(certified: Certified) -> None:
    certified.file().unlink()


def altered(certified: Certified) -> None:
    certified.file().chmod(0o644)
    certified.file().write_bytes(CONTENT + b" ")


HARM: dict[str, Callable[[Certified], None]] = {"is missing": removed, "was altered": altered}


def test_documents_that_are_as_they_were_kept_are_no_finding(certified: Certified) -> None:
    found = verify(certified.works.store, documents=certified.documents)
    assert (found.is_sound, found.lost) == (True, ())
    assert [one.sha256 for one in found.named] == [SHA256]
    assert certified.gaps() == []
    told = lotkin("verify", "--db", certified.db)
    assert told.status == 0
    assert "documents sound: 1 document named by events, all as they were kept" in told.out


@pytest.mark.parametrize("why", HARM)
def test_a_document_that_is_missing_or_altered_is_never_called_sound(
    certified: Certified, why: str
) -> None:
    HARM[why](certified)
    found = verify(certified.works.store, documents=certified.documents)
    assert not found.is_sound
    assert [(one.document.name, one.document.event, one.why) for one in found.lost or ()] == [
        ("3.1.pdf", 2, why)
    ]
    told = lotkin("verify", "--db", certified.db)
    assert told.status == 1
    assert f"document 3.1.pdf ({SHA256[:12]}), named by event 2, {why}" in told.out
    assert "documents sound" not in told.out
    document = lotkin("verify", "--json", "--db", certified.db).document()
    assert document["sound"] is False
    assert document["lost_documents"][0]["document"] == SHA256


@pytest.mark.parametrize(
    ("why", "kind"), [("is missing", "document-missing"), ("was altered", "document-altered")]
)
def test_an_audit_lists_a_document_that_is_missing_or_altered(
    certified: Certified, why: str, kind: str
) -> None:
    HARM[why](certified)
    assert certified.gaps() == [(kind, SHA256)]
    told = lotkin("audit", "--kind", kind, "--db", certified.db)
    assert told.status == 1
    assert "3.1.pdf" in told.out


@pytest.mark.parametrize("why", HARM)
def test_a_backup_says_which_document_it_lacks_and_is_written(
    certified: Certified, why: str, tmp_path: Path
) -> None:
    HARM[why](certified)
    file = tmp_path / "b.backup"
    made = lotkin("backup", file, "--db", certified.db)
    assert made.status == 1
    assert f"not in it: document 3.1.pdf ({SHA256[:12]}), named by event 2, {why}" in made.out
    assert file.exists()

    checked = lotkin("restore", file, "--check", "--db", certified.db)
    assert checked.status == 1
    assert "3.1.pdf" in checked.out
    assert "sound" not in checked.out
    restored = lotkin("restore", file, "--db", tmp_path / "new.db")
    assert restored.status == 1
    assert (tmp_path / "new.db").exists()


def test_a_backup_is_asked_for_what_its_events_name_not_for_what_it_says(
    certified: Certified, tmp_path: Path
) -> None:
    """One that was made when nobody looked says that nothing is missing."""
    certified.file().unlink()
    backups = Backups(str(certified.db))
    back_up(backups, tmp_path / "b.backup", lambda: minute(500))
    done = restore(backups, tmp_path / "b.backup", check_only=True)
    assert [one.document.sha256 for one in done.lost] == [SHA256]


def test_a_document_that_an_amendment_adds_is_looked_for(certified: Certified) -> None:
    certified.works.amend(certified.received, documents=[named(CONTENT), named(LATER, "2.pdf")])
    found = verify(certified.works.store, documents=certified.documents)
    assert [(one.document.name, one.why) for one in found.lost or ()] == [("2.pdf", "is missing")]


def test_documents_nobody_looked_at_are_named_as_such(certified: Certified) -> None:
    removed(certified)
    assert verify(certified.works.store).not_looked_at == ("documents", "derived tables")


def test_taking_a_works_elsewhere_tells_which_document_was_not_there(
    certified: Certified, tmp_path: Path
) -> None:
    removed(certified)
    told = lotkin("transfer", tmp_path / "new.db", "--db", certified.db)
    assert told.status == 1
    assert "not copied: document 3.1.pdf" in told.out
