"""A plan as it stands in its file, checked or not: what rules across entries look at.

Rules must speak even where single entries are wrong, so that all problems of a file show at once;
therefore they read the bare data and pass over whatever is not of the right type.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple, get_args

from pydantic_core import PydanticCustomError

from lotkin.core.plan.kinds import ShopPlaceKind
from lotkin.core.plan.nearest import NearestNames
from lotkin.core.plan.values import exact_number, is_code

if TYPE_CHECKING:
    from decimal import Decimal

    from lotkin.core.plan.file.positions import Path, Positions

__all__ = ["PLACE_TABLES", "Finding", "Row", "Sheet"]

PLACE_TABLES = ("place", "supplier", "customer", "bench")
"""Tables that share one set of codes, because a scanned code must lead to one spot."""


class Finding(NamedTuple):
    """What a rule finds, at the path of the offending key."""

    path: Path
    message: str


@dataclass(frozen=True)
class Row:
    """One table of the file, with the path that leads to it."""

    path: Path
    cells: dict[object, object]

    def rows(self, key: str) -> list[Row]:
        """Give the tables of a list of tables."""
        listed = self.cells.get(key)
        if not isinstance(listed, list):
            return []
        return [
            Row((*self.path, key, number), cells)
            for number, cells in enumerate(listed)
            if isinstance(cells, dict)
        ]

    def text(self, key: str) -> str | None:
        """Give a text; None if there is none."""
        value = self.cells.get(key)
        return value if isinstance(value, str) else None

    def code(self, key: str) -> str | None:
        """Give a text that can be a code; None otherwise."""
        value = self.text(key)
        return value if value is not None and is_code(value) else None

    def codes(self, key: str) -> list[tuple[Path, str]]:
        """Give the codes of a list, each with its path."""
        listed = self.cells.get(key)
        if not isinstance(listed, list):
            return []
        return [
            ((*self.path, key, number), value)
            for number, value in enumerate(listed)
            if isinstance(value, str) and is_code(value)
        ]

    def number(self, key: str) -> Decimal | None:
        """Give a number; None if there is none."""
        value = self.cells.get(key)
        if value is None:
            return None
        try:
            return exact_number(value)
        except PydanticCustomError:
            return None

    def at(self, key: str) -> Path:
        """Give the path of a key."""
        return (*self.path, key)


class Sheet:
    """All rows of a plan, with the lines that they stand in."""

    def __init__(self, data: dict[object, object], positions: Positions) -> None:
        self.root = Row((), data)
        self.positions = positions

    @cached_property
    def parts(self) -> list[Row]:
        """The parts in the order of the file."""
        return self.root.rows("part")

    @cached_property
    def part_of(self) -> dict[str, Row]:
        """The first part of each code."""
        return {code: part for part in reversed(self.parts) if (code := part.text("code"))}

    @cached_property
    def place_kind_of(self) -> dict[str, str]:
        """What a place code names: a kind of place, `supplier`, `customer`, `bench`.

        "" where it cannot be told: the kind is wrong, or several entries have this code.
        """
        kinds: dict[str, set[str]] = {}
        for table in PLACE_TABLES:
            for row in self.root.rows(table):
                code = row.text("code")
                if code:
                    kind = _place_kind(row) if table == "place" else table
                    kinds.setdefault(code, set()).add(kind)
        return {code: min(found) if len(found) == 1 else "" for code, found in kinds.items()}

    @cached_property
    def near_parts(self) -> NearestNames:
        """Suggestions for part codes."""
        return NearestNames(self.part_of)

    @cached_property
    def near_places(self) -> dict[str, NearestNames]:
        """Suggestions for place codes, by the kind of place that is wanted."""
        kinds = set(self.place_kind_of.values())
        return {kind: NearestNames(self._codes_of_kind(kind)) for kind in kinds}

    def _codes_of_kind(self, wanted: str) -> list[str]:
        return [code for code, kind in self.place_kind_of.items() if kind == wanted]

    def spoken_line(self, path: Path) -> str:
        """Say where something else stands: `on line 12`, or `elsewhere` for data without lines."""
        line = self.positions.line_of(path)
        return "elsewhere" if line is None else f"on line {line}"


def _place_kind(row: Row) -> str:
    kind = row.text("kind")
    return kind if kind is not None and kind in get_args(ShopPlaceKind) else ""
