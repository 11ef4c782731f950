"""Documents are kept whole, once, under their hash, and never changed."""

from __future__ import annotations

import hashlib
import os
import signal
import stat
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lotkin.core.errors import DocumentDamaged, DocumentMissing, DocumentsUnusable
from lotkin.store.beside.documents import Documents

ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
"""SHA-256 of `abc`: the example of FIPS 180-4 by NIST."""


@pytest.fixture
def documents(tmp_path: Path) -> Documents:
    return Documents(tmp_path / "works.db.documents")


def files(documents: Documents, folder: Path) -> list[str]:
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())


def test_a_document_is_kept_under_its_hash(documents: Documents, tmp_path: Path) -> None:
    assert documents.put(b"abc") == ABC
    assert files(documents, tmp_path) == [f"works.db.documents/ba/{ABC}"]
    assert documents.get(ABC) == b"abc"
    assert list(documents.all()) == [ABC]


def test_the_same_content_is_kept_once_and_not_written_again(
    documents: Documents, tmp_path: Path
) -> None:
    documents.put(b"abc")
    path = tmp_path / "works.db.documents" / "ba" / ABC
    before = path.stat()
    assert documents.put(b"abc") == ABC
    assert (path.stat().st_mtime_ns, path.stat().st_ino) == (before.st_mtime_ns, before.st_ino)


def test_nothing_is_made_before_the_first_document_comes(
    documents: Documents, tmp_path: Path
) -> None:
    assert list(documents.all()) == []
    with pytest.raises(DocumentMissing):
        documents.get(ABC)
    assert list(tmp_path.iterdir()) == []


def test_a_kept_document_cannot_be_written(documents: Documents, tmp_path: Path) -> None:
    documents.put(b"abc")
    path = tmp_path / "works.db.documents" / "ba" / ABC
    assert stat.S_IMODE(path.stat().st_mode) & 0o222 == 0


def test_a_changed_document_is_told_and_left_as_it_is(documents: Documents, tmp_path: Path) -> None:
    documents.put(b"abc")
    path = tmp_path / "works.db.documents" / "ba" / ABC
    path.chmod(0o600)
    path.write_bytes(b"abd")
    with pytest.raises(DocumentDamaged, match="was changed after it was kept"):
        documents.get(ABC)
    with pytest.raises(DocumentDamaged):
        documents.put(b"abc")
    assert path.read_bytes() == b"abd"


@pytest.mark.parametrize(
    "name", ["", "..", "../../etc/passwd", ABC.upper(), ABC[:-1], ABC + "0", "ba/" + ABC, "\0", "é"]
)
def test_only_a_hash_leads_to_a_file(documents: Documents, name: str) -> None:
    documents.put(b"abc")
    with pytest.raises(DocumentMissing):
        documents.get(name)


def test_a_store_in_memory_keeps_no_documents() -> None:
    with pytest.raises(DocumentsUnusable, match="this store has no folder for them"):
        Documents(None).put(b"abc")
    assert list(Documents(None).all()) == []


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(DocumentsUnusable) as told:
        Documents(tmp_path / "file").put(b"abc")
    assert told.value.exit_status == 5
    assert "Not a directory" in told.value.message


def test_a_folder_without_permission_is_told(
    documents: Documents, monkeypatch: pytest.MonkeyPatch
) -> None:
    # whoever runs the tests may be allowed everything, so the refusal is made here
    def refuse(self: Path, *args: object, **more: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(DocumentsUnusable, match="Permission denied"):
        documents.put(b"abc")


def test_a_full_disk_leaves_nothing_behind(
    documents: Documents, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(file: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(DocumentsUnusable, match="No space left"):
        documents.put(b"abc")
    assert files(documents, tmp_path) == []
    assert list(documents.all()) == []


def test_without_hard_links_a_document_is_kept_all_the_same(
    documents: Documents, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_links(*args: object) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(os, "link", no_links)
    assert documents.get(documents.put(b"abc")) == b"abc"
    assert files(documents, tmp_path) == [f"works.db.documents/ba/{ABC}"]


def test_many_at_once_keep_one_document(documents: Documents, tmp_path: Path) -> None:
    content = b"x" * 200_000
    given: list[str] = []
    threads = [
        threading.Thread(target=lambda: given.append(documents.put(content))) for _ in range(8)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert given == [hashlib.sha256(content).hexdigest()] * 8
    assert len(files(documents, tmp_path)) == 1


KEEP_FOR_EVER = """
import itertools, pathlib, sys
from lotkin.store.beside.documents import Documents
documents = Documents(pathlib.Path(sys.argv[1]))
for number in itertools.count():
    print(documents.put(b"%d " % number * 40_000), flush=True)
"""


@pytest.mark.skipif(os.name == "nt", reason="processes are ended otherwise there")
def test_killed_at_any_moment_all_that_was_answered_is_whole(tmp_path: Path) -> None:
    folder = tmp_path / "documents"
    answered: list[str] = []
    for wait in (0.15, 0.2, 0.25, 0.31):
        with subprocess.Popen(
            [sys.executable, "-c", KEEP_FOR_EVER, folder], stdout=subprocess.PIPE, text=True
        ) as process:
            assert process.stdout is not None
            answered.append(process.stdout.readline().strip())
            time.sleep(wait)
            process.send_signal(signal.SIGKILL)
            answered += [line.strip() for line in process.stdout if line.endswith("\n")]
    documents = Documents(folder)
    kept = list(documents.all())
    assert set(answered) <= set(kept)
    assert len(answered) > 8
    for sha256 in kept:
        assert hashlib.sha256(documents.get(sha256)).hexdigest() == sha256


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(contents=st.lists(st.binary(min_size=1, max_size=200), max_size=5))
def test_what_is_kept_is_given_back(documents: Documents, contents: list[bytes]) -> None:
    names = [documents.put(content) for content in contents]
    assert [documents.get(name) for name in names] == contents
    assert set(names) <= set(documents.all())
