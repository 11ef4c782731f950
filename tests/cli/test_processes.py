"""The command as a process of its own: pipes that break, terminals that show ASCII only."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from tests.cli.event_lines import receipt

if TYPE_CHECKING:
    from pathlib import Path

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


def test_json_is_valid_where_only_ascii_can_be_written(own_store: Path) -> None:
    import json

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
