"""Where to hold first, as a document and as rows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.shown.json_document import number
from lotkin.shown.places import Places

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin.core.holding_points import HoldingPoint
    from lotkin.shown.json_document import Data, Value
    from lotkin.shown.spreadsheet import Cell

__all__ = ["POINT_COLUMNS", "hold_first_document", "point_rows"]

POINT_COLUMNS = ("code", "kind", "part", "own", "unit", "units", "pieces", "items", "at")


def hold_first_document(codes: Sequence[str], points: Sequence[HoldingPoint]) -> dict[str, Value]:
    """Describe where to hold first."""
    return {"subjects": list(codes), "points": [_point(point) for point in points]}


def _point(point: HoldingPoint) -> Data:
    return {
        "code": point.code,
        "kind": point.kind,
        "part": point.part,
        "own": number(point.own),
        "unit": point.unit,
        "units": point.units,
        "pieces": number(point.pieces),
        "items": point.items,
        "at": [
            {
                "place": here.place,
                "place_kind": here.place_kind,
                "within": here.within,
                "quantity": number(here.quantity),
            }
            for here in point.at
        ],
    }


def point_rows(points: Sequence[HoldingPoint]) -> Iterator[tuple[Cell, ...]]:
    """Write a point a row."""
    for point in points:
        yield (
            *(point.code, point.kind, point.part, number(point.own), point.unit),
            *(point.units, number(point.pieces), point.items, Places.where(point.at)),
        )
