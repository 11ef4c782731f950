"""Every library is pinned by version and hash, and what is installed is what is pinned."""

from __future__ import annotations

import pytest

from libraries.pins import Pin, not_in, not_pinned, other_than_locked, read_lock
from tests.layout.source_tree import ROOT

LOCK = """\
# resolved
One_Two==1.2.3 ; python_version < "3.12" \\
    --hash=sha256:{0} \\
    --hash=sha256:{0}
    # via three
loose>=2 \\
    --hash=sha256:{0}
bare==4
""".format("a" * 64)


def test_a_lock_is_read_with_all_its_hashes() -> None:
    assert read_lock(LOCK) == [Pin("one-two", "1.2.3", 2), Pin("loose", "", 1), Pin("bare", "4", 0)]


def test_what_is_left_open_is_named() -> None:
    assert not_pinned(read_lock(LOCK)) == ["loose", "bare"]


def test_another_version_than_the_locked_one_is_named() -> None:
    (said,) = other_than_locked([Pin("pytest", "0.1", 1), Pin("nowhere-to-be-found", "1", 1)])

    assert said.startswith("pytest ")
    assert said.endswith("locked is 0.1")


def test_what_is_locked_to_run_in_another_version_is_named() -> None:
    (said,) = not_in([Pin("one", "1", 1), Pin("two", "2", 1)], [Pin("one", "1", 1)])

    assert said == "two 2 is locked to run"


@pytest.mark.parametrize("lock", ["requirements.lock", "requirements-dev.lock"])
def test_the_locks_of_the_project_pin_everything(lock: str) -> None:
    pins = read_lock((ROOT / lock).read_text("utf-8"))

    assert len(pins) > 50
    assert not_pinned(pins) == []
    assert other_than_locked(pins) == []
