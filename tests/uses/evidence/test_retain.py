"""What is old and no evidence goes by its rule; the record stays whatever the rules say."""

from __future__ import annotations

import os
import uuid
from typing import TYPE_CHECKING

import pytest

from lotkin.core.access.sign_in import SignedIn
from lotkin.core.cases.letters import CASE_OPENED, Notice
from lotkin.core.errors import BadFile, DocumentMissing
from lotkin.core.journal.retention import DAY_US, Retention, read_retention
from lotkin.uses.evidence.retain import retain
from lotkin.uses.evidence.verify import verify
from lotkin.wiring import open_documents
from tests.cli.command import lotkin
from tests.small_works import PLAN, Works, dump

if TYPE_CHECKING:
    from pathlib import Path

NOW = 4_000 * DAY_US


def filled(path: Path) -> Works:
    """A works with sign-ins, notices and documents, each old, and new."""
    works = Works(str(path), plan=PLAN)
    works.receive("BAD", 5)
    for name, days in (("old", 91), ("new", 89)):
        with works.store.access_notes() as access:
            seen = NOW - days * DAY_US
            access.keep_session(SignedIn(name, "ANN", "", "", seen, seen))
    for name, days in (("old", 367), ("waiting", 367), ("new", 300)):
        made = NOW - days * DAY_US
        with works.store.notice_notes() as notes:
            number = str(uuid.uuid5(uuid.NAMESPACE_OID, name))
            notes.keep_notice(
                Notice(number, CASE_OPENED, name, "{}", made), ["h"] if name == "waiting" else []
            )
    documents = open_documents(str(path))
    for content, days in ((b"old", 91), (b"new", 89)):
        name = documents.put(content)
        moment = (NOW - days * DAY_US) / 1e6
        os.utime(path.parent / f"{path.name}.documents" / name[:2] / name, (moment, moment))
    return works


def test_what_is_old_goes_and_what_waits_or_is_new_stays(tmp_path: Path) -> None:
    path = tmp_path / "works.db"
    works = filled(path)
    documents = open_documents(str(path))
    before = dump(works.store)
    expected = {"scans": 0, "notices": 1, "sign_ins": 1, "documents": 1}
    assert retain(works.store, documents, Retention(), lambda: NOW, dry_run=True) == expected
    assert dump(works.store) == before
    assert retain(works.store, documents, Retention(), lambda: NOW, dry_run=False) == expected
    after = dump(works.store)
    assert len(after["notice"]) == 2
    assert len(after["sign_in"]) == 1
    assert len(list(documents.all())) == 1
    for table in ("journal", "item", "link", "movement", "fact", "stock"):
        assert after[table] == before[table]
    assert verify(works.store).is_sound
    assert set(
        retain(works.store, documents, Retention(), lambda: NOW, dry_run=False).values()
    ) == {0}


def test_a_document_that_an_event_names_stays_however_old(tmp_path: Path) -> None:
    path = tmp_path / "works.db"
    works = Works(str(path), plan=PLAN)
    documents = open_documents(str(path))
    name = documents.put(b"certificate")
    works.receive("BAD", 5, note=f"see {name}")
    os.utime(tmp_path / "works.db.documents" / name[:2] / name, (1, 1))
    gone = retain(works.store, documents, Retention(documents="1 day"), lambda: NOW, dry_run=False)
    assert gone["documents"] == 0
    assert documents.get(name) == b"certificate"
    with pytest.raises(DocumentMissing):
        documents.kept_since("0" * 64)


def test_rules_are_read_and_bad_ones_told() -> None:
    rules = read_retention('scans = "10 years"', "rules.toml")
    assert (rules.scans, rules.notices) == ("10 years", "1 year")
    assert rules.before("scans", NOW) == NOW - 3660 * DAY_US
    for bad in ('scans = "soon"', 'scans = "0 days"', "scans = 3", 'journal = "1 day"', "scans = "):
        with pytest.raises(BadFile):
            read_retention(bad, "rules.toml")


def test_the_command_tells_what_would_go(tmp_path: Path) -> None:
    path = tmp_path / "works.db"
    filled(path)
    told = lotkin("retain", "--dry-run", "--db", path)
    assert told.status == 0
    assert "notices to other programs: 2 would go, kept for 1 year" in told.out
    rules = tmp_path / "rules.toml"
    rules.write_text('notices = "90 years"')
    said = lotkin("retain", "--rules", rules, "--json", "--db", path).document()
    assert said["removed"]["notices"] == 0
    assert lotkin("retain", "--rules", tmp_path / "nowhere", "--db", path).status == 3
