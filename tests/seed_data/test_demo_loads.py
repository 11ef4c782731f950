"""The loads of the demo works: what one machine or bath holds at a time is one run."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

from lotkin.core.values.kinds import Family
from tests.demo_stores import demo_store

if TYPE_CHECKING:
    from lotkin.core.genealogy.items import Item, Link


class Runs:
    """All runs of the demo works, and what is made in each."""

    def __init__(self) -> None:
        store, self.works = demo_store()
        with store.reading() as view:
            self.items: dict[str, Item] = {item.code: item for item in view.all_items()}
            self.links: list[Link] = list(view.all_links())
        store.close()

    def behind(self, lot: str) -> tuple[set[str], set[str]]:
        """Name the finishing loads and the lots that a lot came out of."""
        parents = [self.items[link.parent] for link in self.links if link.child == lot]
        loads = {item.code for item in parents if item.kind == "finishing-load"}
        return loads, {item.code for item in parents if item.family is Family.MATERIAL}

    def by_resource(self) -> dict[str, set[str]]:
        """Name the runs of each machine, bath or other resource."""
        found: dict[str, set[str]] = {}
        for link in self.links:
            parent, child = self.items[link.parent], self.items[link.child]
            if child.family is Family.RUN and parent.family is Family.RESOURCE:
                found.setdefault(parent.code, set()).add(child.code)
        return found


@pytest.fixture(scope="module")
def runs() -> Runs:
    return Runs()


def test_no_machine_and_no_bath_does_two_runs_at_once(runs: Runs) -> None:
    """One cabinet that blasts two lots at the same time does one run, of both."""
    overlapping = []
    for resource, codes in runs.by_resource().items():
        spans = sorted(
            (run.started_at or run.made_at or 0, run.made_at or 0, run.code)
            for run in map(runs.items.__getitem__, codes)
        )
        overlapping += [
            (resource, one[2], other[2]) for one, other in pairwise(spans) if other[0] < one[1]
        ]

    assert {"BLAST-1", "OVEN-1", "MILL-1"} <= set(runs.by_resource())
    assert overlapping == []


def test_covers_and_cams_of_a_build_are_one_load_and_never_mixed(runs: Runs) -> None:
    cover = runs.works.last_cover_lot
    cam = cover.replace("COVER", "CAM")

    load = cover.removesuffix("-COVER") + "-RUN"
    assert runs.behind(cover) == ({load}, {cover.replace("-50-", "-40-")})
    assert runs.behind(cam) == ({load}, {cam.replace("-50-", "-40-")})
