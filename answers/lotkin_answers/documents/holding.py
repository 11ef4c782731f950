"""What to stop first, as a document, as rows, and as lines of a list to walk with."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.values.quantities import show_quantity
from lotkin_answers.documents.answers import outside_data
from lotkin_answers.json_document import number
from lotkin_answers.words import counted, shortened

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from lotkin.core.answers.stop_list import Feeder, Stop, StopList
    from lotkin_answers.json_document import Data, Value
    from lotkin_answers.spreadsheet import Cell

__all__ = [
    "STOP_COLUMNS",
    "StopLine",
    "feeding_text",
    "hold_first_document",
    "stop_lines",
    "stop_rows",
    "to_count_text",
]

STOP_COLUMNS = (
    "place", "place_kind", "within", "code", "kind", "part", "serial", "quantity", "unit", "held",
)  # fmt: skip


def hold_first_document(codes: Sequence[str], found: StopList) -> dict[str, Value]:
    """Describe what to stop, in order, and what to issue no more."""
    return {
        "outside_the_time": [outside_data(one) for one in found.outside],
        "subjects": list(codes),
        "pieces": number(found.pieces),
        "units": found.units,
        "stops": [dict(zip(STOP_COLUMNS, row, strict=True)) for row in stop_rows(found)],
        "feeders": [_feeder(each) for each in found.feeders],
    }


def _feeder(each: Feeder) -> Data:
    return {
        "code": each.code,
        "kind": each.kind,
        "part": each.part,
        "on_hand": number(each.own),
        "unit": each.unit,
        "descending_pieces": number(each.descending),
        "at": [
            {"place": here.place, "place_kind": here.place_kind, "quantity": number(here.quantity)}
            for here in each.at
        ],
    }


def stop_rows(found: StopList) -> Iterator[tuple[Cell, ...]]:
    """Write everything to stop as rows of `STOP_COLUMNS`, in order; no quantity: to be counted."""
    for stop in found.stops:
        yield (*stop[:7], number(stop.quantity), stop.unit, stop.held)


class StopLine(NamedTuple):
    """A line of the list: one lot, or the units of a part that lie together."""

    place: str
    within: str
    codes: str
    kind: str
    part: str
    quantity: str
    held: str


def stop_lines(found: StopList) -> list[StopLine]:
    """Write the list for people; no code is left out of it."""
    groups: dict[tuple[str, ...], list[Stop]] = {}
    for stop in found.stops:
        alone = "" if stop.kind == "unit" else stop.code
        key = (stop.place, stop.within, stop.kind, stop.part, alone)
        groups.setdefault(key, []).append(stop)
    return [_line(stops) for stops in groups.values()]


def _line(stops: Sequence[Stop]) -> StopLine:
    first = stops[0]
    held = sum(stop.held for stop in stops)
    said = "held" if held == len(stops) else f"{held} of {len(stops)} held" if held else ""
    return StopLine(
        first.place,
        first.within,
        shortened((stop.serial or stop.code for stop in stops), everything=True)
        if first.kind == "unit"
        else first.code,
        first.kind,
        first.part,
        _quantity(stops),
        said,
    )


def _quantity(stops: Sequence[Stop]) -> str:
    known = [stop.quantity for stop in stops if stop.quantity is not None]
    if not known:
        return "to be counted"
    said = show_quantity(sum(known), stops[0].unit)
    return said if len(known) == len(stops) else f"{said} and more to be counted"


def to_count_text(found: StopList) -> str:
    """Say that some of the list must be counted; "" if all is known."""
    if not found.to_count:
        return ""
    return (
        f"{counted(found.to_count, 'line')} to be counted: on record more was taken from there "
        "than came, so how much is there is not known"
    )


def feeding_text(found: StopList) -> str:
    """Say what to issue no more; "" if nothing is left to be issued."""
    if not found.feeders:
        return ""
    lots = counted(len(found.feeders), "lot")
    descending = sum(each.descending for each in found.feeders)
    said = f"issue nothing more from any lot on the list, first of all from {lots}"
    if not descending:
        return said
    return (
        f"{said}; {show_quantity(descending)} other pcs on the list came through them and are not "
        "stopped by that"
    )
