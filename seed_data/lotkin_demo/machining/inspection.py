"""The inspection room: lots are measured before they go to the store."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lotkin_demo.shop_floor import ShopFloor

__all__ = ["accept", "judge"]


def accept(
    floor: ShopFloor,
    lot: str,
    *,
    gauge: str,
    measure: tuple[str, float, float],
    samples: int = 0,
) -> str:
    """Measure five pieces of a lot and accept it.

    Args:
        floor: Where it is recorded.
        lot: Code of the lot.
        gauge: Number of the gauge.
        measure: Name, nominal value and half of the tolerance, in mm.
        samples: Pieces cut open for it.

    Returns:
        The code of the inspection.
    """
    name, nominal, half = measure
    values = [f"{nominal + floor.rng.uniform(-0.6, 0.6) * half:.4f}" for _ in range(5)]
    limits = {"min": f"{nominal - half:.4f}", "max": f"{nominal + half:.4f}"}
    return judge(
        floor,
        lot,
        "accepted",
        resources=[gauge],
        checked=5,
        samples=samples or None,
        measures=[{"name": name, "unit": "mm", "values": values, **limits}],
    )


def judge(floor: ShopFloor, lot: str, result: str, **fields: object) -> str:
    """Record an inspection with its result: accepted, rejected or hold.

    Returns:
        The code of the inspection.
    """
    inspection = floor.code("QC", 4)
    said = {"item": lot, "inspection": inspection, "result": result, **fields}
    floor.record("inspect", "quinn", said, station="GAUGES")
    return inspection
