"""Threads of one program record and ask at once."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from lotkin.uses.asking.where import where_used
from lotkin.uses.recording.record import record
from tests.laws import check_conserved, check_records
from tests.small_works import Works
from tests.store.record.recording_program import SHARED, stream

THREADS = 4


def test_four_threads_record_into_one_store(tmp_path: Path) -> None:
    works = Works(str(tmp_path / "works.db"))
    works.receive(SHARED, 1000)

    def work(name: str) -> list[int]:
        return [record(works.store, [event], lambda: 0)[0].seq for event in stream(name, 60)]

    with ThreadPoolExecutor(THREADS) as pool:
        numbers = list(pool.map(work, "ABCD"))

    assert sorted(seq for seqs in numbers for seq in seqs) == list(range(2, 2 + 60 * THREADS))
    assert all(seqs == sorted(seqs) for seqs in numbers)
    check_records(works)
    check_conserved(works)


def test_who_asks_while_others_record_sees_one_state(tmp_path: Path) -> None:
    works = Works(str(tmp_path / "works.db"))
    works.receive(SHARED, 1000)

    def work(name: str) -> None:
        for event in stream(name, 60):
            record(works.store, [event], lambda: 0)

    def ask(_: int) -> tuple[int, int, int]:
        with works.store.reading() as view:
            made = sum(1 for item in view.all_items() if item.code.endswith("-S"))
            left = next(q for spot, q in view.stock(SHARED).items() if spot.place == "SHELF")
            return made, left // 1_000_000, len(list(view.entries()))

    seen = [ask(0)]
    with ThreadPoolExecutor(THREADS) as pool:
        writers = [pool.submit(work, name) for name in "AB"]
        while not all(writer.done() for writer in writers):
            seen += pool.map(ask, range(4))
        for writer in writers:
            writer.result()
    seen.append(ask(0))

    assert all(made + left == 1000 for made, left, _ in seen)
    counts = [entries for _, _, entries in seen]
    assert (counts[0], counts[-1]) == (1, 121)
    assert len(list(where_used(works.store, SHARED).items)) == 40
