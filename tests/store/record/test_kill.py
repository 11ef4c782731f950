"""What was acknowledged is never lost, and nothing is recorded twice, whenever a program dies."""

from __future__ import annotations

import random
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING

from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from lotkin.wiring import open_store
from tests.laws import check_conserved, check_graph, check_records
from tests.small_works import Works
from tests.store.record import recording_program
from tests.store.record.recording_program import SHARED, stream

if TYPE_CHECKING:
    from lotkin.store.store import Store

EVENTS = 2000
KILLS = 8


def start(url: str, name: str, count: int, *, pause_s: float = 0) -> subprocess.Popen[str]:
    program = Path(recording_program.__file__)
    return subprocess.Popen(
        [sys.executable, str(program), url, name, str(count), str(pause_s)],
        stdout=subprocess.PIPE,
        text=True,
    )


def acknowledged_until(program: subprocess.Popen[str], count: int, delay_s: float) -> list[str]:
    """Read so many acknowledgements, kill the program a moment later, and read the rest."""
    assert program.stdout is not None
    said = [line for _, line in zip(range(count), program.stdout, strict=False)]
    time.sleep(delay_s)
    program.kill()
    said += program.stdout.readlines()
    program.stdout.close()
    program.wait()
    return [line.strip() for line in said if line.endswith("\n")]


def recorded_ids(store: Store) -> list[str]:
    with store.reading() as view:
        return [entry.id for entry in view.entries()]


def test_a_program_killed_at_any_moment_loses_and_doubles_nothing(tmp_path: Path) -> None:
    url = str(tmp_path / "works.db")
    works = Works(url)
    works.receive(SHARED, EVENTS)
    chance = random.Random(20260302)
    acknowledged: set[str] = set()
    for kill in range(KILLS):
        program = start(url, "P", EVENTS)
        upto = chance.randrange(kill * EVENTS // KILLS + 1, (kill + 1) * EVENTS // KILLS)
        acknowledged |= set(acknowledged_until(program, upto, chance.random() * 0.02))
        store = open_store(url)
        found = recorded_ids(store)

        assert verify(store).is_sound
        assert acknowledged <= set(found)
        assert max(Counter(found).values()) == 1
        store.close()
    program = start(url, "P", EVENTS)
    said, _ = program.communicate()

    assert program.returncode == 0
    assert said.split() == [str(event.id) for event in stream("P", EVENTS)]
    assert recorded_ids(works.store)[1:] == said.split()
    check_records(works)
    check_conserved(works)


def test_what_was_recorded_after_kills_is_what_is_recorded_without(tmp_path: Path) -> None:
    interrupted, calm = Works(str(tmp_path / "a.db")), Works(str(tmp_path / "b.db"))
    for works in (interrupted, calm):
        works.receive(SHARED, 100)
    chance = random.Random(7)
    for upto in (3, 30, 80):
        program = start(str(tmp_path / "a.db"), "P", 120)
        acknowledged_until(program, upto, chance.random() * 0.01)
    for name in ("a.db", "b.db"):
        start(str(tmp_path / name), "P", 120).communicate()

    assert verify(interrupted.store) == verify(calm.store)
    assert rebuild(interrupted.store).difference == ""


def test_two_programs_record_into_one_store_at_once(tmp_path: Path) -> None:
    url = str(tmp_path / "works.db")
    works = Works(url)
    works.receive(SHARED, 1000)
    programs = {name: start(url, name, 240, pause_s=0.002) for name in ("P", "Q")}
    said = {name: program.communicate()[0].split() for name, program in programs.items()}
    ids = recorded_ids(works.store)

    assert [program.returncode for program in programs.values()] == [0, 0]
    for name, acknowledged in said.items():
        assert acknowledged == [str(event.id) for event in stream(name, 240)]
        assert [one for one in ids if one in set(acknowledged)] == acknowledged
    assert len(ids) == 481
    assert ids[1:] not in (said["P"] + said["Q"], said["Q"] + said["P"]), "they took no turns"
    check_records(works)
    check_conserved(works)
    check_graph(works)
