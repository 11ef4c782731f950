"""Changing what is stored, byte by byte and bit by bit, and seeing whether it is noticed."""

from __future__ import annotations

import random
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from typing import TYPE_CHECKING

from faults.outcome import Outcome
from lotkin.core.errors import LotkinError
from lotkin.core.journal.chain import ChainRow
from lotkin.store.graph import snapshot as graphs
from lotkin.uses.asking.where import where_used
from lotkin.uses.evidence.back_up import back_up, restore
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from lotkin.wiring import open_store
from lotkin.wiring.backups import Backups

if TYPE_CHECKING:
    from pathlib import Path

__all__ = [
    "change_every_byte",
    "cut_short",
    "flipped",
    "hurt_backup",
    "hurt_copy_of_graph",
    "hurt_store",
]


def change_every_byte(path: Path, rows: int) -> Outcome:
    """Change every single byte of some journal rows, in every column, and verify each time."""
    times = noticed = 0
    numbers = {"at", "recorded_at", "plan", "seq", "reported"}
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.text_factory = bytes
        found = raw.execute(f"SELECT {_columns()} FROM journal WHERE seq <= ?", (rows,)).fetchall()
        store = open_store(str(path))
        for row in found:
            for name, value in zip(ChainRow._fields, row, strict=True):
                if name == "seq":
                    continue
                for changed in _changes(value, is_number=name in numbers):
                    times += 1
                    _set(raw, name, changed, row[0])
                    noticed += not verify(store).is_sound
                    _set(raw, name, value, row[0])
        assert verify(store).is_sound
        store.close()
    return Outcome("each byte of journal rows changed", times, noticed, 0, times - noticed)


def _columns() -> str:
    return ", ".join(f'"{name}"' for name in ChainRow._fields)


def _changes(value: bytes | int, *, is_number: bool) -> list[bytes | int]:
    if is_number:
        assert isinstance(value, int)
        return [value + 1] if value in (0, 1) else [value + 1, value ^ (1 << 20)]
    assert isinstance(value, bytes)
    return [
        value[:i] + bytes([value[i] ^ (1 << bit)]) + value[i + 1 :]
        for i in range(len(value))
        for bit in (0, 5)
    ]


def _set(raw: sqlite3.Connection, name: str, value: bytes | int, seq: int) -> None:
    shown = f"CAST(x'{value.hex()}' AS TEXT)" if isinstance(value, bytes) else str(value)
    raw.execute(f'UPDATE journal SET "{name}" = {shown} WHERE seq = ?', (seq,))


def flipped(content: bytes, chance: random.Random) -> bytes:
    """Flip one bit."""
    changed = bytearray(content)
    changed[chance.randrange(len(changed))] ^= 1 << chance.randrange(8)
    return bytes(changed)


def cut_short(content: bytes, chance: random.Random) -> bytes:
    """Take away the end."""
    return content[: chance.randrange(len(content))]


Hurt = Callable[[bytes, random.Random], bytes]
HOW: dict[Hurt, str] = {flipped: "a bit of {} flipped", cut_short: "{} cut short"}


def hurt_store(path: Path, folder: Path, times: int, hurt: Hurt, seed: int = 1) -> Outcome:
    """Damage a database file: told by SQLite, by verify or by rebuild, or harmless."""
    content, chance = path.read_bytes(), random.Random(seed)
    expected = _everything(path)
    noticed = harmless = failures = 0
    for _ in range(times):
        damaged = folder / "flipped.db"
        _clean(damaged)
        damaged.write_bytes(hurt(content, chance))
        try:
            store = open_store(str(damaged))
            try:
                is_told = not verify(store).is_sound
                is_told = is_told or bool(rebuild(store, check_only=True).difference)
            finally:
                store.close()
            if is_told:
                noticed += 1
            elif _everything(damaged) == expected:
                harmless += 1
            else:
                failures += 1
        except (LotkinError, sqlite3.DatabaseError, ValueError, KeyError):
            noticed += 1
    note = in_use(path)
    return Outcome(HOW[hurt].format("the database file"), times, noticed, harmless, failures, note)


def in_use(path: Path) -> str:
    """Tell how many events a store holds and how much of its file is in use.

    Source: sqlite.org, The DBSTAT Virtual Table; where SQLite has none, whole pages are told.
    """
    with closing(sqlite3.connect(path)) as raw:
        (events,) = raw.execute("SELECT count(*) FROM journal").fetchone()
        try:
            (share,) = raw.execute(
                "SELECT 1.0 - 1.0 * sum(unused) / sum(pgsize) FROM dbstat"
            ).fetchone()
            what = "of its bytes"
        except sqlite3.OperationalError:
            (pages,) = raw.execute("PRAGMA page_count").fetchone()
            (free,) = raw.execute("PRAGMA freelist_count").fetchone()
            share, what = 1 - free / pages, "of its pages"
    size = path.stat().st_size / 1e6
    return f"a store of {events:,} events, {size:.1f} MB, {share:.0%} {what} in use"


def _clean(path: Path) -> None:
    for ending in ("", "-wal", "-shm"):
        path.with_name(path.name + ending).unlink(missing_ok=True)


LEFT_OUT = {"sqlite_sequence", "alembic_version", "sign_in", "token", "credential"}


def _everything(path: Path) -> list[tuple[str, list[tuple[object, ...]]]]:
    """Give all rows of the tables that are evidence or follow from it."""
    with closing(sqlite3.connect(path)) as raw:
        tables = [
            row[0] for row in raw.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        ]
        return [
            (name, sorted(raw.execute(f'SELECT {_saying(raw, name)} FROM "{name}"'), key=repr))
            for name in sorted(tables)
            if name not in LEFT_OUT
        ]


def _saying(raw: sqlite3.Connection, table: str) -> str:
    """Name the columns that say something; running numbers do not."""
    columns = [row[1] for row in raw.execute(f'PRAGMA table_info("{table}")')]
    return ", ".join(f'"{name}"' for name in columns if name != "number")


def hurt_copy_of_graph(path: Path, code: str, times: int, hurt: Hurt, seed: int = 2) -> Outcome:
    """Damage the copy of the graph; every answer must be the same."""
    copy = path.with_name(f"{path.name}.graph")
    store = open_store(str(path))
    store.copy_graph()
    content, chance = copy.read_bytes(), random.Random(seed)
    expected = sorted(row.code for row in where_used(store, code).items)
    store.close()
    noticed = failures = 0
    few = graphs.FEW_COLD, graphs.FEW_WARM
    graphs.FEW_COLD = graphs.FEW_WARM = -1
    try:
        for _ in range(times):
            copy.write_bytes(hurt(content, chance))
            store = open_store(str(path))
            failures += sorted(row.code for row in where_used(store, code).items) != expected
            noticed += not copy.exists()
            store.close()
    finally:
        graphs.FEW_COLD, graphs.FEW_WARM = few
        copy.unlink(missing_ok=True)
    note = "the answer was right each time"
    return Outcome(
        HOW[hurt].format("the copy of the graph"),
        times,
        noticed,
        times - noticed,
        failures,
        note,
    )


def hurt_backup(path: Path, folder: Path, times: int, hurt: Hurt, seed: int = 3) -> Outcome:
    """Damage a backup; it is refused, or restores exactly what was backed up."""
    file = folder / "flipped.backup"
    file.unlink(missing_ok=True)
    head = back_up(Backups(str(path)), file, lambda: 0).head
    content, chance = file.read_bytes(), random.Random(seed)
    expected = _everything(path)
    noticed = harmless = failures = 0
    for _ in range(times):
        file.write_bytes(hurt(content, chance))
        target = folder / "restored.db"
        _clean(target)
        try:
            restore(Backups(str(target)), file)
        except LotkinError:
            noticed += 1
            failures += target.exists()
            continue
        store = open_store(str(target))
        same = verify(store).head == head and _everything(target) == expected
        store.close()
        harmless += same
        failures += not same
        shutil.rmtree(f"{target}.documents", ignore_errors=True)
    note = f"of {in_use(path)}"
    return Outcome(HOW[hurt].format("a backup"), times, noticed, harmless, failures, note)
