"""Anodising outside: trays of heads go to Lindmoor as one batch and come back, mostly in order.

Batch 9 was sealed badly: its heads seep under pressure. They pass the flow test all the same, a
little low, and come back from customers months later. Batches 12 and 13 were run as one load,
which Lindmoor told us weeks after. A lot of batch 11 was too thin, stripped, and anodised again.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from lotkin_demo.machining.inspection import accept, judge
from lotkin_demo.outside.anodising_returns import Out, treated_code, way_back

if TYPE_CHECKING:
    from lotkin_demo.machining.milling import Milling, Tray
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Anodising"]

TRAYS = 2
BAD = "ANO-009"
TOO_THIN = "ANO-011"
ONE_LOAD = ("ANO-012", "ANO-013")
DAYS_UNTIL_TOLD = 24


class Anodising:
    """Sends trays off and takes them back.

    Attributes:
        sent: Batches in the order of their dispatch.
        bad_lots: Lots of the badly sealed batch.
    """

    def __init__(self, floor: ShopFloor, milling: Milling) -> None:
        self.floor = floor
        self.milling = milling
        self.sent: list[Out] = []
        self.bad_lots: set[str] = set()

    def work(self) -> None:
        """Send the trays that are ready once there are two; batches 12 and 13 a tray each."""
        if len(self.milling.waiting) < TRAYS:
            return
        trays = tuple(self.milling.waiting[:TRAYS])
        del self.milling.waiting[:TRAYS]
        if len(self.sent) == int(ONE_LOAD[0][-3:]) - 1:
            self.send(trays[:1], days=8)
            self.floor.later(1, partial(self.send, trays[1:], days=8))
        else:
            self.send(trays, days=self.floor.rng.randint(6, 9))

    def send(self, trays: tuple[Tray, ...], *, days: int) -> Out:
        """Send trays as one batch that comes back after some working days."""
        batch = self.floor.code("ANO")
        event = self._record_send(batch, trays, service="anodising")
        out = Out(batch, trays, event)
        self.sent.append(out)
        if batch == BAD:
            self.floor.note(bad_anodise_batch=batch)
        self.floor.later(days, partial(self.take_back, out))
        return out

    def _record_send(self, batch: str, trays: tuple[Tray, ...], **fields: object) -> str:
        inputs = [{"item": lot, "quantity": pieces} for lot, pieces in trays]
        said = {"batch": batch, "supplier": "LINDMOOR", "step": "30", "inputs": inputs, **fields}
        return self.floor.record("send", "mara", said)

    def take_back(self, out: Out) -> None:
        """Take a batch back, or the first part of it."""
        self.milling.under_way -= sum(pieces for _, pieces in out.trays)
        store = self.send_back_or_store if out.batch == TOO_THIN else self.store
        way_back(out.batch)(self.floor, out, store)
        if out.batch == ONE_LOAD[1]:
            self.floor.later(DAYS_UNTIL_TOLD, self._merge)
        if out.batch == BAD:
            self.bad_lots = {treated_code(lot) for lot, _ in out.trays}
            self.floor.note(bad_head_lots=tuple(sorted(self.bad_lots)))

    def store(self, tray: Tray) -> None:
        """Measure the coating and store the lot; of large lots one head is cut open."""
        floor = self.floor
        lot, pieces = tray
        cut = int(pieces > 27)
        measure = ("Coating", 0.012, 0.004)
        accept(floor, lot, gauge="LAYER-1", measure=measure, samples=cut)
        floor.record("move", "quinn", item=lot, to_place="STORE")
        floor.shelves.put(lot, "HEAD", "STORE", pieces - cut)

    def send_back_or_store(self, tray: Tray) -> None:
        """Hold the first lot of the thin batch; the other one is as it should be."""
        if self.floor.works.reworked_from:
            self.store(tray)
            return
        lot, pieces = tray
        self.floor.note(reworked_from=lot)
        judge(self.floor, lot, "hold", reason="coating 7 micrometres instead of 12")
        self.floor.record("move", "quinn", item=lot, to_place="QUAR")
        self.milling.under_way += pieces
        self.floor.later(3, partial(self._send_again, tray))

    def _send_again(self, tray: Tray) -> None:
        """Send the thin lot to be stripped and anodised again: one more batch of its own."""
        floor = self.floor
        lot, pieces = tray
        judge(
            floor,
            lot,
            "accepted",
            reason="good to be stripped and anodised again, for no other use",
        )
        batch = f"{TOO_THIN}R"
        self._record_send(batch, (tray,), service="strip and anodise")
        floor.note(rework_batch=batch, reworked_lot=treated_code(_milled(lot), "R"))
        floor.later(7, partial(self._take_back_again, batch, lot, pieces))

    def _take_back_again(self, batch: str, lot: str, pieces: int) -> None:
        code = treated_code(_milled(lot), "R")
        output = {"code": code, "part": "HEAD", "quantity": pieces, "place": "GAUGES"}
        returns = [{"output": output, "of": [{"item": lot}]}]
        self.floor.record("take-back", "mara", batch=batch, returns=returns, close=True)
        self.milling.under_way -= pieces
        self.store((code, pieces))

    def _merge(self) -> None:
        """Lindmoor's letter: both trays hung in one load; both dispatches become one batch."""
        kept, gone = (next(o for o in self.sent if o.batch == batch) for batch in ONE_LOAD)
        changed = (gone.sent_by, *gone.taken_back_by)
        self.floor.record(
            "amend",
            "quinn",
            reason=f"letter of Lindmoor: {gone.batch} hung in the same load as {kept.batch}",
            changes=[{"event": event, "patch": {"batch": kept.batch}} for event in changed],
        )
        self.floor.note(merged_batch=kept.batch, batch_merged_away=gone.batch)


def _milled(lot: str) -> str:
    return lot.partition("-30")[0] + "-20"
