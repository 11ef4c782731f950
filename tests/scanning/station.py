"""A small works that is worked by scanning alone, for the tests of the dialogue."""

from __future__ import annotations

import uuid
from pathlib import Path
from typing import TYPE_CHECKING

from lotkin.core.events.reading import parse_event
from lotkin.core.values.instants import show_instant
from lotkin.uses.recording.load_plan import load_plan
from lotkin.uses.recording.record import record
from lotkin.uses.stations.local_station import Station
from tests.stores import fresh_store

if TYPE_CHECKING:
    from lotkin.core.dialogue import Reply
    from lotkin.core.genealogy.items import Item
    from lotkin.store.store import Store

PLAN = Path(__file__).parent / "works.toml"
MINUTE = 60_000_000
BAR_LABEL = "[)>\x1e06\x1dVNORD\x1dPBAR-8\x1d1TH4711\x1d7Q30MR\x1e\x04"
"""An ISO/IEC 15434 message as a supplier's label carries it; all its values are invented."""


class ScannedWorks:
    """A works with its stations, and a clock that goes on half a minute at every look."""

    def __init__(self, store: Store | None = None, plan: str = "") -> None:
        self.store: Store = store if store is not None else fresh_store()
        self.now = 1_772_438_400_000_000
        self.stations: dict[str, Station] = {}
        self.scans = 0
        self.made = 0
        load_plan(self.store, plan or PLAN.read_text(), PLAN.name, by="ida", clock=self.clock)
        self.event("receive", code="LATHE-1", item_kind="machine", part="LATHE-1", place="LATHE")
        self.event("receive", code="RIG-1", item_kind="gauge", part="RIG-1", place="RIG")
        for number in range(1, 5):
            self.event(
                "receive",
                code=f"M-{number}",
                serial=f"M-{number}",
                item_kind="purchased-lot",
                part="MOTOR",
                place="STORE",
                supplier="NORD",
            )
        self.event("issue", traveller="T-1", part="STEM", quantity=100)
        self.event("issue", traveller="T-2", part="BODY", quantity=24)

    def clock(self) -> int:
        self.now += MINUTE // 2
        return self.now

    def wait(self, minutes: int) -> None:
        self.now += minutes * MINUTE

    def event(self, kind: str, **fields: object) -> str:
        self.made += 1
        data = {
            "id": str(uuid.UUID(int=self.made)),
            "kind": kind,
            "by": "ida",
            "at": show_instant(self.clock()),
            **fields,
        }
        record(self.store, [parse_event(data, "test")], self.clock)
        return str(data["id"])

    def station(self, place: str) -> Station:
        if place not in self.stations:
            self.stations[place] = Station(self.store, place, self.clock)
            self.stations[place].begin()
            self.stations[place].take("ida")
        return self.stations[place]

    def scan(self, place: str, *texts: str) -> Reply:
        """Scan texts at a place; all but the last must be taken. Returns the last reply."""
        station = self.station(place)
        for text in texts[:-1]:
            reply = station.take(text)
            assert reply.tone != "refused", f"{place} {text}: {reply.say}"
        return station.take(texts[-1])

    def done(self, place: str, *texts: str) -> Reply:
        """Scan texts and confirm; it must be recorded."""
        reply = self.scan(place, *texts, "$CONFIRM")
        assert reply.tone == "done", f"{place}: {reply.say}"
        return reply

    def crash(self, place: str) -> Reply:
        """Lose the station's memory but for what it has written down, and begin again."""
        self.stations[place] = Station(self.store, place, self.clock)
        return self.stations[place].begin()

    def items(self) -> dict[str, Item]:
        with self.store.reading() as view:
            return {item.code: item for item in view.all_items()}

    def only(self, kind: str, part: str | None = None) -> str:
        """Give the code of the one item of a kind, and a part."""
        (code,) = [
            item.code
            for item in self.items().values()
            if item.kind == kind and part in (None, item.part)
        ]
        return code

    def stock(self, code: str) -> dict[str, int]:
        with self.store.reading() as view:
            return {str(spot): q // 1_000_000 for spot, q in view.stock(code).items()}

    def bar_and_blanks(self) -> tuple[str, str]:
        """Receive a bar lot and body blanks by scans."""
        self.done("STORE", BAR_LABEL, "STORE", "")
        self.done("STORE", "$RECEIVE", "BLANK", "NORD", "L77", "STORE", "25")
        return self.only("bar-lot"), self.only("purchased-lot", "BLANK")

    def stems(self, bar: str) -> None:
        self.done("LATHE", "T-1/10", bar, "LATHE-1", "98", "$SCRAP", "2", "", "5.98")

    def bodies(self, blanks: str) -> None:
        self.done("LATHE", "T-2/10", blanks, "24", "$SCRAP", "1")
        self.scan("OVEN", "T-2/20", "$START")
        self.wait(75)
        self.done("OVEN", "T-2/20", "T-2-10", "", "60")

    def anodised(self) -> str:
        self.done("STORE", "T-2/30", "T-2-20", "")
        batch = self.only("outside-batch")
        self.wait(24 * 60)
        self.done("STORE", batch, "T-2-20", "23", "$CLOSE")
        return batch

    def mounted(self) -> None:
        self.done("BENCH", "$AT B1 P1", "T-2-30", "$AT B1 P2", "T-1-10")
