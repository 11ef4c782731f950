"""Reading files line by line, and writing them whole or not at all."""

from __future__ import annotations

import hashlib
import os
import threading
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lotkin.core.errors import BadFile
from lotkin.uses.exchange.files import read_lines, writing_text


@given(st.lists(st.sampled_from([b"a", b"bc", b"\n", b"\r\n", b"x" * 30])), st.integers(1, 20))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_lines_are_cut_and_all_bytes_are_hashed(
    tmp_path: Path, parts: list[bytes], longest: int
) -> None:
    data = b"".join(parts)
    path = tmp_path / "t.csv"
    path.write_bytes(data)
    digest = hashlib.sha256()
    lines = list(read_lines(path, longest, digest))
    whole = data.splitlines(keepends=True) if b"\r" not in data else data.split(b"\n")
    if b"\r" in data:
        whole = [line + b"\n" for line in whole[:-1]] + [line for line in whole[-1:] if line]
    assert lines == [line[: longest + 1] for line in whole]
    assert digest.digest() == hashlib.sha256(data).digest()


def test_a_file_takes_its_name_when_it_is_whole(tmp_path: Path) -> None:
    path = tmp_path / "items.csv"
    path.write_text("before")
    path.chmod(0o640)
    with writing_text(path) as file:
        file.write("after\n")
        file.flush()
        assert path.read_text() == "before"
    assert path.read_bytes() == b"after\n"
    assert path.stat().st_mode & 0o777 == 0o640
    assert [each.name for each in tmp_path.iterdir()] == ["items.csv"]


def test_a_file_that_was_not_finished_leaves_the_old_one(tmp_path: Path) -> None:
    path = tmp_path / "items.csv"
    path.write_text("before")
    with suppress(KeyError), writing_text(path) as file:
        file.write("half")
        raise KeyError
    assert path.read_text() == "before"
    assert [each.name for each in tmp_path.iterdir()] == ["items.csv"]


def test_a_link_to_a_file_stays_a_link(tmp_path: Path) -> None:
    path, link = tmp_path / "items.csv", tmp_path / "latest.csv"
    path.write_text("before")
    link.symlink_to(path)
    with writing_text(link) as file:
        file.write("after")
    assert link.is_symlink()
    assert path.read_text() == "after"


def test_a_pipe_is_written_into_and_not_replaced(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    read: list[str] = []
    reader = threading.Thread(target=lambda: read.append(pipe.read_text()))
    reader.start()
    with writing_text(pipe) as file:
        file.write("through\n")
    reader.join()
    assert read == ["through\n"]
    assert pipe.is_fifo()


def test_a_file_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    for path in (tmp_path / "no folder" / "items.csv", tmp_path):
        with pytest.raises(BadFile, match="cannot be written: "), writing_text(path):
            raise AssertionError
