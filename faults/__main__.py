"""Break everything, count, and write docs/reference/faults.md: `make soak`."""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

import lotkin_demo
from faults.damage import (
    change_every_byte,
    cut_short,
    flipped,
    hurt_backup,
    hurt_copy_of_graph,
    hurt_store,
)
from faults.kills import event, kill_recorders
from faults.outcome import Outcome
from faults.service_kills import kill_service
from faults.surroundings import clock_set_back, disk_full, locked, read_only
from faults.uploads import upload_hostile_files
from lotkin.uses.recording.record import record
from lotkin.wiring import create_store

PAGE = Path(__file__).parent.parent / "docs" / "reference" / "faults.md"

HEAD = """# Faults

<!-- Written by `make soak`; do not edit. -->

What was broken on purpose, how often, and what came of it.
*Told* means an error that names the fault, or a finding of `verify` or `rebuild --check`.
*Harmless* means that everything was as before all the same.
*Failures* must never be: an acknowledged event lost or doubled, a damaged journal, a wrong answer.
Bits are flipped anywhere in a file; how much of it is in use is told beside it.

"""


def main() -> None:
    """Break everything."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--kills", type=int, default=1_000, help="processes to kill")
    parser.add_argument("--page", type=Path, default=PAGE, help="where to write what came of it")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        outcomes = break_everything(Path(name), options.kills)
    rows = [
        f"| {o.fault} | {o.times:,} | {o.noticed:,} | {o.harmless:,} | {o.failures} | {o.note} |"
        for o in outcomes
    ]
    page = HEAD + "\n".join(
        ["| fault | times | told | harmless | failures | |", "|---|---:|---:|---:|---:|---|", *rows]
    )
    options.page.write_text(page + "\n", encoding="utf-8")
    sys.stdout.write(page + "\n")
    if any(outcome.failures for outcome in outcomes):
        sys.exit(1)


def break_everything(folder: Path, kills: int) -> list[Outcome]:
    """Do all faults, `kills` of the dearest and in proportion of the others."""
    small = folder / "small.db"
    store = create_store(str(small))
    for number in range(8):
        record(store, [event("S", number)], lambda: 0)
    store.close()
    demo = folder / "demo.db"
    store = create_store(str(demo))
    lotkin_demo.build(store)
    store.close()
    few = max(5, kills // 10)
    full = full_store(folder / "in-use.db", 2_000 if kills >= 100 else 100)
    return [
        kill_recorders(folder, kills),
        kill_service(folder, max(2, kills // 40)),
        disk_full(folder, few),
        read_only(folder, 5),
        locked(folder, max(3, few // 10)),
        clock_set_back(folder, few),
        change_every_byte(small, 8 if kills >= 100 else 2),
        hurt_store(full, folder, max(5, kills // 5), flipped),
        hurt_store(full, folder, few, cut_short),
        hurt_copy_of_graph(demo, "ANO-009", few, flipped),
        hurt_copy_of_graph(demo, "ANO-009", few, cut_short),
        hurt_backup(full, folder, max(5, kills // 5), flipped),
        hurt_backup(full, folder, few, cut_short),
        *upload_hostile_files(demo, folder, kills),
    ]


def full_store(path: Path, events: int) -> Path:
    """Make a store whose pages are in use: some thousand events, in one file."""
    store = create_store(str(path))
    record(store, [event("S", number) for number in range(events)], lambda: 0)
    store.close()
    return path


if __name__ == "__main__":
    main()
