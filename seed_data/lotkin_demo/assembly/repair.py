"""Repairs: a component of a pump is exchanged for one from the bench where it was built."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin_demo.assembly.bench import Bench, Position
    from lotkin_demo.assembly.pumps import Assembly, Unit
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["exchange", "exchange_motor"]


def exchange(
    floor: ShopFloor, assembly: Assembly, unit: Unit, *, part: str, note: str, **removed: object
) -> None:
    """Take the pieces of a part out of a unit and put new ones in from the bin at its bench.

    Args:
        floor: Where it is recorded.
        assembly: Knows the benches.
        unit: What is repaired; it becomes its next state.
        part: What is exchanged.
        note: Why.
        removed: What becomes of the old pieces; they are scrapped if nothing is said.
    """
    bench = assembly.bench_of(unit)
    position = next(p for p in bench.positions if p.part == part)
    new = _ready(bench, position)
    out = {"item": unit.lots[position.code], "position": position.code, **removed}
    put_in = {
        "item": new,
        "position": position.code,
        "quantity": str(position.per),
        "place": bench.place,
    }
    _swap(floor, bench, unit, note=note, remove=[out], add=[put_in])
    floor.shelves.take(new, bench.place, position.per)
    unit.lots[position.code] = new


def exchange_motor(floor: ShopFloor, assembly: Assembly, unit: Unit, *, note: str) -> None:
    """Give a unit another motor; the old one is scrapped."""
    new = floor.shelves.lots("MOTOR", "STORE")[0]
    out = {"item": unit.lots["MOTOR"], "position": "MOTOR"}
    put_in = {"item": new, "position": "MOTOR", "place": "STORE"}
    _swap(floor, assembly.bench_of(unit), unit, note=note, remove=[out], add=[put_in])
    floor.shelves.take(new, "STORE", 1)
    unit.lots["MOTOR"] = new


def _ready(bench: Bench, position: Position) -> str:
    """Name the lot at a position, filled if it is empty."""
    if bench.left(position) < position.per:
        bench.make_ready()
    return bench.mounted[position.code]


def _swap(floor: ShopFloor, bench: Bench, unit: Unit, **fields: object) -> None:
    said = {"unit": unit.serial, "station": bench.place, "to_place": bench.place, **fields}
    floor.record("swap", bench.person, said)
