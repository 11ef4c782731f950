"""Membership comes from the links, however small the numbers become."""

from __future__ import annotations

import itertools
import math

from lotkin.core.events.reading import parse_event
from lotkin.uses.recording.record import record
from tests.small_works import Works

LENGTH = 2000


def chain(kind: str, length: int = LENGTH) -> Works:
    """Mix half of each lot with as much of fresh material, again and again."""
    works = Works()
    works.receive("FRESH", 10 * length, unit="pcs" if kind == "pool" else "kg")
    works.receive("OLD", 10, unit="pcs" if kind == "pool" else "kg")
    codes = ["OLD", *(f"MIX-{i}" for i in range(length))]
    events = [
        works.data(
            kind,
            code=after,
            inputs=[{"item": before, "quantity": 5}, {"item": "FRESH", "quantity": 5}],
        )
        for before, after in itertools.pairwise(codes)
    ]
    record(works.store, [parse_event(event, "test") for event in events], works.clock)
    return works


def test_every_blend_of_a_powder_chain_is_found_though_its_share_is_nought() -> None:
    works = chain("blend")
    found = works.used("OLD")
    last = found[f"MIX-{LENGTH - 1}"]

    assert found.keys() == {f"MIX-{i}" for i in range(LENGTH)}
    assert all(row.certain and row.chance == 1.0 for row in found.values())
    assert last.content == math.ldexp(1.0, -LENGTH) == 0.0
    assert found["MIX-9"].content == 2.0**-10
    assert sum(works.lines("OLD").values()) == 10


def test_every_mixture_of_a_chain_of_bins_is_found_though_its_chance_is_nought() -> None:
    works = chain("pool")
    found = works.used("OLD")
    last = found[f"MIX-{LENGTH - 1}"]

    assert found.keys() == {f"MIX-{i}" for i in range(LENGTH)}
    assert not any(row.certain for row in found.values())
    assert last.chance == last.chance_low == last.chance_high == 0.0
    assert found["MIX-9"].chance == 2.0**-10
    assert sum(works.lines("OLD").values()) == 10


def test_the_whole_chain_is_behind_its_last_lot() -> None:
    works = chain("pool", 200)
    found = works.origin("MIX-199")

    assert found.keys() == {"OLD", "FRESH", *(f"MIX-{i}" for i in range(199))}
    assert found["OLD"].chance == 2.0**-200
    assert found["FRESH"].chance == 1.0
    assert found["MIX-198"].chance == 0.5
