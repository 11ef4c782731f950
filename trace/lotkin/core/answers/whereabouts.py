"""What lies at a place or with a customer, counted so that each thing counts once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.kinds import Family

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from lotkin.core.answers.rows import Row

__all__ = ["said_amount", "said_at_unknown_places", "serials_of"]


def serials_of(rows: Collection[Row]) -> set[str]:
    """Give the serials of the units among some rows, each once however many states it had."""
    return {row.serial or row.code for row in rows if row.kind == "unit"}


def said_amount(rows: Sequence[Row]) -> str:
    """Say what lies somewhere, e.g. `11 units and 2 lots, in 3 cartons`.

    A carton is no thing beside what is in it; it is counted alone only where it is all there is.
    """
    units = len(serials_of(rows))
    lots = len({row.code for row in rows if row.family == Family.MATERIAL and row.kind != "unit"})
    others = len({row.code for row in rows if row.family in (Family.RUN, Family.RESOURCE)})
    cartons = {row.code for row in rows if row.kind == "carton"}
    said = [_counted(units, "unit"), _counted(lots, "lot"), _counted(others, "other item")]
    things = " and ".join(filter(None, said))
    inside = _counted(len(cartons), "carton")
    return f"{things}, in {inside}" if things and inside else things or inside


def said_at_unknown_places(unknown: Mapping[str, Sequence[Row]]) -> str:
    """Say what is at places of which nobody knows whether they are customers; "" for nothing."""
    if not unknown:
        return ""
    things = said_amount([row for rows in unknown.values() for row in rows])
    places = "a place" if len(unknown) == 1 else "places"
    return f"{things} at {places} of unknown kind: {', '.join(unknown)}"


def _counted(number: int, one: str) -> str:
    return f"{number} {one if number == 1 else one + 's'}" if number else ""
