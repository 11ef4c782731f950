"""Rules: what is said of an entry fits its kind and unit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.plan.file.sheet import Finding
from lotkin.core.plan.values import plain_number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.plan.file.sheet import Row, Sheet

__all__ = ["find_misfits"]

_POWDERS = frozenset({"powder-lot", "powder-blend"})


def find_misfits(sheet: Sheet) -> Iterator[Finding]:
    """Find keys that mean nothing for this kind or unit, and routes that start from nothing."""
    for resource in sheet.root.rows("resource"):
        kind = resource.text("kind")
        if "calibration_days" in resource.cells and kind not in {"gauge", None}:
            yield Finding(
                resource.at("calibration_days"),
                "calibration_days is for gauges only; remove it, or make kind a gauge",
            )
    for part in sheet.parts:
        kind = part.text("kind")
        if "used_share_max" in part.cells and kind is not None and kind not in _POWDERS:
            yield Finding(
                part.at("used_share_max"),
                "used_share_max is for powders only; remove it, "
                "or make kind a powder-lot or powder-blend",
            )
        yield from _serials_that_cannot_be(part)
        yield from _broken_pieces(sheet, part, "need")
        yield from _route_from_nothing(part)
    for bench in sheet.root.rows("bench"):
        yield from _broken_pieces(sheet, bench, "position")


def _serials_that_cannot_be(part: Row) -> Iterator[Finding]:
    serialised = part.cells.get("serialised")
    unit = part.text("unit")
    if serialised is True and unit in {"kg", "m"}:
        yield Finding(
            part.at("serialised"),
            f"serialised is for what is counted in pcs, this is kept in {unit}; remove it",
        )
    if serialised is False and part.text("kind") == "unit":
        yield Finding(
            part.at("serialised"),
            "serialised is false, but a unit always has a serial; remove it, or make it true",
        )
    if serialised is False and part.cells.get("serials"):
        yield Finding(
            part.at("serialised"),
            "serialised is false, but serials says how they are written; remove one of them",
        )


def _broken_pieces(sheet: Sheet, owner: Row, table: str) -> Iterator[Finding]:
    for row in owner.rows(table):
        code, per = row.code("part"), row.number("per")
        part = sheet.part_of.get(code) if code is not None else None
        if part is None or per is None or part.text("unit") != "pcs":
            continue
        if per != per.to_integral_value():
            yield Finding(
                row.at("per"),
                f"per {plain_number(per)} is not a whole number, but {code} is counted in pcs; "
                "write whole pieces",
            )


def _route_from_nothing(part: Row) -> Iterator[Finding]:
    steps = part.cells.get("step")
    first = part.rows("step")[:1]
    if not isinstance(steps, list) or not first or first[0].path != (*part.path, "step", 0):
        return
    if not first[0].cells.get("inputs") and not part.cells.get("need"):
        yield Finding(
            first[0].path,
            "the first step has no inputs; add inputs with the code of the material "
            "that it starts from, or a [[part.need]] to the part",
        )
