"""`lotkin scan`: what is in hand is kept in the store, for each place and name."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from lotkin.uses.stations.local_station import Station
from lotkin.wiring import create_store, open_store
from tests.cli.command import lotkin
from tests.scanning.station import ScannedWorks

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def db(tmp_path: Path) -> Path:
    path = tmp_path / "works.db"
    works = ScannedWorks(create_store(str(path)))
    works.bar_and_blanks()
    works.store.close()
    return path


def scan(db: Path, *lines: str, session: str = "") -> str:
    words: list[str | Path] = ["scan", "--station", "LATHE", "--db", db]
    words += ["--session", session] if session else []
    ended = lotkin(*words, given="".join(f"{line}\n" for line in lines))
    assert (ended.status, ended.err) == (0, "")
    return ended.out


def bar_in(db: Path) -> str:
    store = open_store(str(db))
    with store.reading() as view:
        (bar,) = [item.code for item in view.all_items() if item.kind == "bar-lot"]
    store.close()
    return bar


def test_work_in_hand_is_there_for_the_next_command_and_nothing_lies_beside_the_store(
    db: Path,
) -> None:
    files = sorted(file.name for file in db.parent.iterdir())
    scan(db, "ida", "T-1/10", bar_in(db), "LATHE-1", "98")
    assert "m of " in scan(db)
    scan(db, "", "5.98")
    assert "recorded T-1-10" in scan(db, "$CONFIRM")
    kept = {file.name for file in db.parent.iterdir()} - set(files)
    assert {name for name in kept if not name.startswith("works.db-")} == set()


def test_a_session_with_a_name_has_work_of_its_own(db: Path) -> None:
    scan(db, "ida", "T-1/10")
    assert "scan your badge" in scan(db, session="second")
    scan(db, "ida", "T-2/10", session="second")
    assert "scan what goes in: BAR-8" in scan(db)
    assert "scan what goes in: BLANK" in scan(db, session="second")


def test_a_terminal_whose_work_another_one_changed_is_told(db: Path) -> None:
    store = open_store(str(db))
    one, other = (Station(store, "LATHE", lambda: 1_772_500_000_000_000) for _ in range(2))
    one.begin()
    other.begin()
    one.take("ida")
    reply = other.take("ida")
    assert reply.tone == "refused"
    assert "ida is not taken" in reply.say
    assert other.take("T-1/10").tone == "ask"
    store.close()


def test_a_store_that_is_busy_ends_no_session(db: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("lotkin.store.connection.sqlite_settings.BUSY_MS", 50)
    store = open_store(str(db))
    station = Station(store, "LATHE", lambda: 1_772_500_000_000_000)
    station.begin()
    with open_store(str(db)).source.writing():
        assert station.take("ida").tone == "refused"
    assert station.take("ida").say == "hello Ida Quell"
    store.close()
