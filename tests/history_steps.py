"""Steps of random histories: things that are done in a works, one kind of event each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.genealogy.draft import Draft, grouped
from lotkin.core.genealogy.unit_state import components
from lotkin.core.values.kinds import Mixing
from tests.histories import (
    BENCHES,
    CUSTOMERS,
    MICRO,
    PLACES,
    History,
    NothingToDoError,
)
from tests.small_works import moment

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.small_works import Data

__all__ = ["STEPS"]

PARTS = {
    "SCREW": ("purchased-lot", "pcs"),
    "TIP": ("machined-lot", "pcs"),
    "POWDER": ("powder-lot", "kg"),
    "BAR": ("bar-lot", "m"),
}


def receive(history: History) -> Data:
    """A lot comes in, perhaps of a heat or a supplier's lot seen before, perhaps on hold."""
    part = history.pick(tuple(PARTS))
    kind, unit = PARTS[part]
    fields: Data = {
        "code": history.new_code("L"),
        "item_kind": kind,
        "part": part,
        "unit": unit,
        "quantity": history.quantity(unit, 40 * MICRO),
        "place": history.pick(PLACES[:2]),
        "supplier": "MILL",
    }
    if history.once_in(3):
        source = "heat" if part == "BAR" else "source-lot"
        fields["source"] = {"kind": source, "number": history.pick(("N1", "N2"))}
    if history.once_in(10):
        fields["hold"] = "to be looked at"
    return history.event("receive", **fields)


def receive_resource(history: History) -> Data:
    """A tool, a gauge or the like begins a new period."""
    kind = history.pick(("machine", "tool", "gauge", "bath", "program", "fixture"))
    code = history.new_code("R")
    return history.event("receive", code=code, item_kind=kind, part=kind.upper(), place="FLOOR")


def make(history: History) -> Data:
    """A run: several inputs, some with loss, become several outputs, kept apart or not."""
    inputs = [_with_loss(history, code) for code in history.several(history.lots())]
    if history.once_in(10):
        inputs = []
    units = {history.items[str(row["item"])].unit for row in inputs}
    outputs: list[Data] = []
    for _ in range(history.whole(1, 3)):
        part = "POWDER" if units == {"kg"} and history.once_in(2) else "TIP"
        kind = "powder-blend" if part == "POWDER" else history.pick(("machined-lot", "treated-lot"))
        output: Data = {
            "code": history.new_code("M"),
            "item_kind": kind,
            "part": part,
            "unit": PARTS[part][1],
            "quantity": history.quantity(PARTS[part][1], 30 * MICRO),
            "place": history.pick(PLACES[:2]),
            "mass_kg": str(history.whole(1, 9)),
        }
        if len(inputs) > 1 and history.once_in(3):
            output["of"] = [row["item"] for row in history.several(inputs)]
        outputs.append(output)
    fields: Data = {"inputs": inputs, "outputs": outputs, "station": "FLOOR"}
    if history.once_in(3):
        fields["scrap"] = str(history.whole(0, 3))
        fields["samples"] = str(history.whole(0, 2))
    if history.once_in(2):
        fields["run"] = _run(history)
    if history.once_in(6):
        fields["mixing"] = history.pick(("one-of", "blend", "each", "either"))
    return history.event("make", **fields)


def _with_loss(history: History, code: str) -> Data:
    row = history.take(code)
    if history.once_in(4) and "quantity" in row:
        row["loss"] = row["quantity"] if history.once_in(4) else "0.5"
        if history.items[code].unit == "pcs":
            row["loss"] = "1"
    if history.once_in(6):
        row["per"] = str(history.whole(1, 4))
    return row


def _run(history: History) -> Data:
    resources = history.of_kind("machine", "tool", "bath", "program", "fixture")
    run: Data = {
        "code": history.new_code("RUN"),
        "run_kind": history.pick(("machining-run", "print-build", "finishing-load")),
    }
    if resources:
        run["resources"] = history.several(resources)
    if history.once_in(2):
        run["started"] = moment(history.works.minute - history.whole(0, 5))
    return run


def make_bath(history: History) -> Data:
    """A dye bath is filled with material; it is a resource from then on."""
    inputs = [history.take(code) for code in history.several(history.lots("kg"))]
    output: Data = {"code": history.new_code("R"), "item_kind": "bath", "part": "BATH"}
    output |= {"quantity": "1", "unit": "pcs", "place": "FLOOR"}
    return history.event("make", inputs=inputs, outputs=[output])


def blend(history: History) -> Data:
    """Powders are blended."""
    inputs = [history.take(code) for code in history.several(history.lots("kg"))]
    return history.event("blend", code=history.new_code("V"), inputs=inputs)


def pool(history: History) -> Data:
    """Lots of pieces of one part are tipped together."""
    part = history.pick(("SCREW", "TIP"))
    inputs = [history.take(code) for code in history.several(history.lots("pcs", part=part))]
    return history.event("pool", code=history.new_code("P"), inputs=inputs)


def split(history: History) -> Data:
    """A lot is split into one to three."""
    row = history.take(history.pick(history.lots()))
    row.pop("quantity", None)
    unit = history.items[str(row["item"])].unit
    parts = [
        {"code": history.new_code("S"), "quantity": history.quantity(unit, 8 * MICRO)}
        for _ in range(history.whole(1, 3))
    ]
    return history.event("split", parts=parts, **row)


def send(history: History) -> Data:
    """Lots go outside, as a new load or with one that is known."""
    inputs = [history.take(code) for code in history.several(history.lots("pcs", part="TIP"))]
    batch = history.new_code("OUT")
    if history.once_in(4):
        batch = history.pick(history.of_kind("outside-batch"))
    return history.event("send", batch=batch, supplier="ANODISER", inputs=inputs)


def take_back(history: History) -> Data:
    """Lots come back: apart or mixed, short or over, in parts, closed or not."""
    batch = history.pick(history.of_kind("outside-batch"))
    out = {
        code: micro
        for code, spots in history.stock.items()
        for spot, micro in spots.items()
        if spot.within == batch and micro > 0
    }
    if history.once_in(8):
        return history.event("take-back", batch=batch, close=True)
    lots = history.several(tuple(out))
    groups = [lots] if history.once_in(2) else [[lot] for lot in lots]
    returns, is_over = [], False
    for group in groups:
        there = sum(out[lot] for lot in group) // MICRO
        count = there if history.once_in(2) else history.whole(1, there + 3)
        is_over = is_over or count > there
        output = {
            "code": history.new_code("T"),
            "item_kind": "treated-lot",
            "part": "TIP",
            "quantity": str(count),
            "unit": "pcs",
            "place": history.pick(PLACES[:2]),
        }
        returns.append({"output": output, "of": [{"item": lot} for lot in group]})
    fields: Data = {"batch": batch, "returns": returns, "close": history.once_in(3)}
    if history.once_in(4):
        fields["scrap"] = [{"item": history.pick(lots), "quantity": "1"}]
    if is_over:
        fields["reported"] = True
    return history.event("take-back", **fields)


def mount(history: History) -> Data:
    """Lots go to positions of a bench, now or told late; a position may be emptied."""
    positions: list[Data] = []
    for position, part, per in (("P1", "TIP", 1), ("P2", "SCREW", 2)):
        if history.once_in(2):
            continue
        if history.once_in(10):
            positions.append({"position": position})
            continue
        lots = history.lots("pcs", part=part)
        if not lots:
            continue
        row = history.take(history.pick(lots))
        mounted: Data = {"position": position, "item": row["item"], "per": str(per)}
        if not history.once_in(4) and "within" not in row:
            mounted["origin"] = row["place"]
            mounted["quantity"] = row.get("quantity")
        positions.append(mounted)
    if not positions:
        raise NothingToDoError
    fields: Data = {"bench": history.pick(BENCHES), "positions": positions}
    if history.once_in(3):
        late = max(9, history.works.minute - history.whole(1, 12))
        return history.event("mount", at=late, reported=True, **fields)
    return history.event("mount", **fields)


def build(history: History) -> Data:
    """A unit is built at a bench, perhaps begun before it was changed, or from its own inputs."""
    part = "CLAMP" if history.once_in(4) else "PUMP"
    fields: Data = {"serial": history.new_code("U"), "part": part}
    if not history.once_in(5):
        fields["bench"] = history.pick(BENCHES)
    if "bench" not in fields or history.once_in(5):
        lots = history.several(history.lots("pcs"))
        fields["inputs"] = [history.take(lot, most=3 * MICRO) for lot in lots]
        fields.setdefault("place", "FLOOR")
    if history.once_in(4):
        fields["started"] = max(1, history.works.minute - history.whole(0, 12))
    if history.once_in(5):
        fields["resources"] = history.several(history.of_kind("tool", "fixture", "machine"))
    return history.event("build", reported=True, **fields)


def _removed(history: History, unit: str) -> list[Data]:
    with history.works.store.reading() as view:
        inside = components(Draft(view), unit)
    removed = []
    for one in history.several(inside, most=2):
        row: Data = {"item": one.lots[0], "position": one.position}
        if history.once_in(3) and one.per > MICRO:
            row["quantity"] = "1"
        if history.once_in(2):
            row["place"] = history.pick(PLACES)
        else:
            row["end"] = history.pick(("scrap", "lost", "sample"))
        if history.once_in(4):
            row["hold"] = "came out of a pump"
        removed.append(row)
    return removed


def swap(history: History) -> Data:
    """Components of a unit are exchanged, or it is only repaired."""
    unit = history.pick(history.units())
    fields: Data = {"unit": unit}
    if not history.once_in(4):
        fields["remove"] = _removed(history, unit)
    if history.once_in(2):
        lots = history.several(history.lots("pcs"), most=2)
        fields["add"] = [history.take(lot, most=2 * MICRO) for lot in lots]
    return history.event("swap", **fields)


def dismantle(history: History) -> Data:
    """A unit is taken apart."""
    unit = history.pick(history.units())
    recovered = [] if history.once_in(3) else _removed(history, unit)
    return history.event("dismantle", unit=unit, recovered=recovered)


def inspect(history: History) -> Data:
    """A lot or a unit is inspected, fresh or used in part."""
    item = history.pick([*history.lots(), *history.units()])
    spots = history.spots(item)
    result = history.pick(("accepted", "accepted", "rejected", "hold"))
    fields: Data = {"item": item, "inspection": history.new_code("I"), "result": result}
    fields["reason"] = "" if result == "accepted" else "burr"
    if spots:
        spot = history.pick(spots)
        fields |= {"place": spot.place, "within": spot.within or None}
    gauges = history.of_kind("gauge")
    if gauges:
        fields["resources"] = history.several(gauges)
    if history.once_in(4):
        fields["samples"] = "1"
    return history.event("inspect", **fields)


def test(history: History) -> Data:
    """A unit is tested, and passes or fails."""
    unit = history.pick(history.units())
    reading = str(history.whole(0, 2))
    return history.event("test", unit=unit, name="Leak", readings=[reading], max="1")


def move(history: History) -> Data:
    """Pieces, a unit or a carton go to another place."""
    row = history.take(history.pick([*history.lots(), *history.units(), *_cartons(history)]))
    return history.event("move", to_place=history.pick(PLACES), **row)


def _cartons(history: History) -> list[str]:
    return [code for code in history.of_kind("carton") if history.spots(code)]


def scrap(history: History) -> Data:
    """Pieces are scrapped, cut open, or lost."""
    row = history.take(history.pick([*history.lots(), *history.units()]))
    end = history.pick(("scrap", "sample", "process loss", "lost"))
    return history.event("scrap", end=end, reason="bent", **row)


def count(history: History) -> Data:
    """A shelf is counted."""
    code = history.pick(tuple(history.stock))
    spot = history.pick(tuple(history.stock[code]))
    counted = history.quantity(history.items[code].unit, 20 * MICRO)
    fields: Data = {"item": code, "place": spot.place, "within": spot.within or None}
    return history.event("count", counted="0" if history.once_in(4) else counted, **fields)


def find(history: History) -> Data:
    """Pieces are found that may be of several lots."""
    part = history.pick(("SCREW", "TIP", "POWDER"))
    lots = [
        code
        for code, item in history.items.items()
        if item.part == part and item.quantity and item.unit == PARTS[part][1]
    ]
    found = {
        "code": history.new_code("F"),
        "candidates": history.several(lots),
        "quantity": history.quantity(PARTS[part][1], 5 * MICRO),
        "mixing": history.pick(("either", "one-of")),
    }
    return history.event("count", place=history.pick(PLACES), found=found)


def identify(history: History) -> Data:
    """Pieces of a mixture are proven to be of certain of its parents."""
    with history.works.store.reading() as view:
        mixtures = [
            (code, [link.parent for link in group])
            for code in history.lots()
            for group in grouped(view.parents(code))
            if len(group) > 1 and group[0].mixing in (Mixing.ONE_OF, Mixing.EITHER)
        ]
    code, parents = history.pick(mixtures)
    row = history.take(code, most=4 * MICRO)
    row.setdefault("quantity", "1")
    return history.event(
        "identify",
        code=history.new_code("ID"),
        parents=history.several(parents, most=2),
        evidence="marked by the maker",
        **row,
    )


def pack(history: History) -> Data:
    """Units and spares go into a carton."""
    chosen = history.several([*history.units(), *history.lots("pcs")])
    contents = [history.take(code, most=3 * MICRO) for code in chosen]
    return history.event("pack", carton=history.new_code("C"), contents=contents, place="SHELF")


def unpack(history: History) -> Data:
    """Pieces are taken out of a carton."""
    inside = [
        (code, spot.within)
        for code, spots in history.stock.items()
        for spot, micro in spots.items()
        if spot.within in history.items
        and history.items[spot.within].kind == "carton"
        and micro > 0
    ]
    item, carton = history.pick(inside)
    fields: Data = {"carton": carton, "item": item}
    if history.once_in(2):
        fields["quantity"] = "1"
    return history.event("unpack", **fields)


def ship(history: History) -> Data:
    """Cartons and pieces in the open leave for a customer."""
    chosen = history.several([*_cartons(history), *history.units(), *history.lots("pcs")], most=2)
    return history.event(
        "ship",
        shipment=history.new_code("SHIP"),
        customer=history.pick(CUSTOMERS),
        contents=[history.take(code) for code in chosen],
    )


def come_back(history: History) -> Data:
    """Pieces come back from a customer."""
    out = [
        (code, spot)
        for code, spots in history.stock.items()
        for spot, micro in spots.items()
        if spot.place in CUSTOMERS and micro > 0 and history.items[code].kind != "carton"
    ]
    item, spot = history.pick(out)
    fields: Data = {"item": item, "customer": spot.place, "within": spot.within or None}
    if history.once_in(2):
        fields["quantity"] = "1"
    return history.event("return", reason="leaks", to_place="RED-BOX", **fields)


STEPS: tuple[Callable[[History], Data], ...] = (
    *(receive, receive, receive_resource, count, find, move, scrap, inspect),
    *(make, make, make_bath, blend, pool, pool, split),
    *(send, send, take_back, take_back, take_back, identify, identify),
    *(mount, mount, mount, build, build, build, swap, swap, dismantle, test),
    *(pack, pack, unpack, unpack, ship, come_back, come_back),
)
"""All steps, those that others rest on several times."""
