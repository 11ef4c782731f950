"""How batches came back from the anodiser: in trays, tipped together, short, over, in parts.

Each way gives what it stored as (lot, pieces). Most batches come back in their trays; the plan's
traveller warns not to tip them together, and now and then it happens all the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin_demo.machining.milling import Tray
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["Out", "treated_code", "way_back"]


@dataclass(slots=True)
class Out:
    """A batch at the anodiser.

    Attributes:
        batch: Code of the batch.
        trays: What was sent.
        sent_by: Id of the event that sent it.
        taken_back_by: Ids of the events that took it back.
    """

    batch: str
    trays: tuple[Tray, ...]
    sent_by: str
    taken_back_by: tuple[str, ...] = ()


def treated_code(lot: str, letter: str = "") -> str:
    """Name the anodised lot after the traveller of the milled one."""
    return f"{lot.partition('-20')[0]}-30{letter}"


def _returned(code: str, pieces: int, of: list[dict[str, object]]) -> dict[str, object]:
    output = {"code": code, "part": "HEAD", "quantity": pieces, "place": "GAUGES"}
    return {"output": output, "of": of}


def _take_back(floor: ShopFloor, out: Out, **fields: object) -> None:
    event = floor.record("take-back", "mara", {"batch": out.batch, **fields})
    out.taken_back_by = (*out.taken_back_by, event)


def in_trays(floor: ShopFloor, out: Out, store: Callable[[Tray], None]) -> None:
    """Every tray by itself: A and B go out, A' and B' come back."""
    returns = [_returned(treated_code(lot), pieces, [{"item": lot}]) for lot, pieces in out.trays]
    _take_back(floor, out, returns=returns, close=True)
    for lot, pieces in out.trays:
        store((treated_code(lot), pieces))


def tipped_together(floor: ShopFloor, out: Out, store: Callable[[Tray], None]) -> None:
    """All trays in one box: nobody knows which head is from which."""
    code = treated_code(out.trays[0][0], "M")
    total = sum(pieces for _, pieces in out.trays)
    returned = _returned(code, total, [{"item": lot} for lot, _ in out.trays])
    _take_back(floor, out, returns=[returned], close=True, note="trays came back tipped together")
    floor.note_first(mixed_return_lot=code)
    store((code, total))


def tipped_and_told_apart(floor: ShopFloor, out: Out, store: Callable[[Tray], None]) -> None:
    """Tipped together; a nick of the fixture proves of some heads which tray they are from."""
    code = treated_code(out.trays[0][0], "M")
    total = sum(pieces for _, pieces in out.trays)
    nicked = out.trays[1][0]
    returned = _returned(code, total, [{"item": lot} for lot, _ in out.trays])
    _take_back(floor, out, returns=[returned], close=True)
    proven = treated_code(nicked, "I")
    pieces = out.trays[1][1] // 2
    floor.record(
        "identify",
        "quinn",
        station="GAUGES",
        item=code,
        quantity=pieces,
        code=proven,
        parents=[nicked],
        evidence=f"nick of the fixture, which was on the machine for {nicked} only",
    )
    floor.note(identified_lot=proven, mixture_of_the_identified=code)
    store((code, total - pieces))
    store((proven, pieces))


def short(floor: ShopFloor, out: Out, store: Callable[[Tray], None]) -> None:
    """Two heads of the first tray are missing when the batch is closed."""
    (first, pieces), *others = out.trays
    back = [(first, pieces - 2), *others]
    returns = [_returned(treated_code(lot), some, [{"item": lot}]) for lot, some in back]
    _take_back(floor, out, returns=returns, close=True, note="two short, the anodiser has none")
    floor.note_first(short_batch=out.batch)
    for lot, some in back:
        store((treated_code(lot), some))


def over(floor: ShopFloor, out: Out, store: Callable[[Tray], None]) -> None:
    """One head more than was sent: the tray was miscounted before it left."""
    (first, pieces), *others = out.trays
    back = [(first, pieces + 1), *others]
    returns = [
        _returned(treated_code(lot), some, [{"item": lot, "quantity": some}]) for lot, some in back
    ]
    note = "one more than on the delivery note, counted twice"
    _take_back(floor, out, returns=returns, close=True, note=note, reported=True)
    floor.note_first(over_count_batch=out.batch)
    for lot, some in back:
        store((treated_code(lot), some))


def in_two_parts(floor: ShopFloor, out: Out, store: Callable[[Tray], None]) -> None:
    """Part of the first tray now, the rest two days later."""
    (first, pieces), *others = out.trays
    now = pieces // 3
    early = _returned(treated_code(first, "A"), now, [{"item": first, "quantity": now}])
    _take_back(floor, out, returns=[early], note="the rest is still on the racks")
    store((treated_code(first, "A"), now))
    floor.note_first(batch_in_two_parts=out.batch)
    floor.later(2, partial(_the_rest, floor, out, store, (first, pieces - now), others))


def _the_rest(
    floor: ShopFloor, out: Out, store: Callable[[Tray], None], rest: Tray, others: list[Tray]
) -> None:
    first, pieces = rest
    back = [(treated_code(first, "B"), first, pieces)]
    back += [(treated_code(lot), lot, some) for lot, some in others]
    returns = [_returned(code, some, [{"item": lot}]) for code, lot, some in back]
    _take_back(floor, out, returns=returns, close=True)
    for code, _, some in back:
        store((code, some))


def some_spoilt(floor: ShopFloor, out: Out, store: Callable[[Tray], None]) -> None:
    """Three heads fell off the rack into the bath and are scrapped there."""
    (first, pieces), *others = out.trays
    back = [(first, pieces - 3), *others]
    returns = [_returned(treated_code(lot), some, [{"item": lot}]) for lot, some in back]
    _take_back(floor, out, returns=returns, scrap=[{"item": first, "quantity": 3}], close=True)
    for lot, some in back:
        store((treated_code(lot), some))


WAYS = {
    "ANO-003": tipped_together,
    "ANO-004": short,
    "ANO-006": in_two_parts,
    "ANO-007": over,
    "ANO-015": some_spoilt,
    "ANO-017": tipped_and_told_apart,
    "ANO-019": in_two_parts,
    "ANO-021": short,
    "ANO-023": tipped_together,
}


def way_back(batch: str) -> Callable[[ShopFloor, Out, Callable[[Tray], None]], None]:
    """Tell how a batch comes back."""
    return WAYS.get(batch, in_trays)
