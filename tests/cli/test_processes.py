"""The command as a process of its own: pipes that break, terminals that show ASCII only."""

from __future__ import annotations

import json
import os
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.event_lines import receipt

PROGRAM = [sys.executable, "-c", "from lotkin_cli.main import run; run()"]


@pytest.mark.skipif(os.name == "nt", reason="pipes break otherwise there")
def test_a_reader_that_goes_away_is_no_error(small_store: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    try:
        ended = subprocess.run(
            [*PROGRAM, "contain", "ANO-1", "--json", "--db", small_store],
            stdout=writing,
            stderr=subprocess.PIPE,
            check=False,
        )
    finally:
        os.close(writing)

    assert (ended.returncode, ended.stderr) == (141, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="only some systems have it")
def test_a_full_disk_is_told(small_store: Path) -> None:
    with Path("/dev/full").open("w") as full:
        ended = subprocess.run(
            [*PROGRAM, "contain", "ANO-1", "--db", small_store],
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
        )

    assert ended.returncode == 5
    assert ended.stderr.startswith(b"error: ")
    assert ended.stderr.count(b"\n") == 1


@pytest.mark.skipif(os.name == "nt", reason="streams are closed otherwise there")
@pytest.mark.parametrize(
    ("closing", "words", "status"),
    [(">&-", "verify", 0), (">&- 2>&-", "verify", 0), ("<&-", "record", 3)],
)
def test_closed_streams_are_no_reason_to_fail(
    small_store: Path, closing: str, words: str, status: int
) -> None:
    command = f"{shlex.join(PROGRAM)} {words} --db {shlex.quote(str(small_store))} {closing}"

    ended = subprocess.run(["sh", "-c", command], capture_output=True, check=False)

    assert ended.returncode == status
    assert b"Traceback" not in ended.stderr
    assert b"internal error" not in ended.stderr


def test_json_is_valid_where_only_ascii_can_be_written(own_store: Path) -> None:
    environment = {**os.environ, "PYTHONIOENCODING": "ascii"}
    ended = subprocess.run(
        [*PROGRAM, "plan", "load", "-", "--json", "--db", own_store],
        input='[works]\nname = "Käfer"\ntimezone = "UTC"\n'.encode(),
        env=environment,
        capture_output=True,
        check=True,
    )
    shown = subprocess.run(
        [*PROGRAM, "plan", "show", "--json", "--db", own_store],
        env=environment,
        capture_output=True,
        check=True,
    )

    assert json.loads(ended.stdout)["unchanged"] is False
    assert json.loads(shown.stdout)["plan"]["works"]["name"] == "Käfer"
    assert shown.stdout.isascii()


def test_each_event_is_acknowledged_as_soon_as_it_is_kept(own_store: Path) -> None:
    with subprocess.Popen(
        [*PROGRAM, "record", "--each", "--db", own_store],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        for number in range(1, 4):
            process.stdin.write(receipt(f"L-{number}"))
            process.stdin.flush()
            # would wait for ever if the program waited for more
            assert process.stdout.readline() == f"{22 + number} receive: L-{number}\n"
        process.stdin.close()
        assert process.wait(timeout=60) == 0
