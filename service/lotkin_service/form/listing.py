"""Long lists, a part at a time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Generic, TypeVar
from urllib.parse import urlencode

if TYPE_CHECKING:
    from fastapi import Request

__all__ = ["Listing", "part_of"]

Row = TypeVar("Row")
PER_PAGE = 100


@dataclass(frozen=True, slots=True)
class Listing(Generic[Row]):
    """A part of a list.

    Attributes:
        rows: The part.
        total: Rows of the whole list.
        number: Which part, from 1; `last` of them.
        path, query: Address of the page, less the number.
    """

    rows: Sequence[Row]
    total: int
    number: int
    path: str
    query: tuple[tuple[str, str], ...]

    @property
    def last(self) -> int:
        """The number of the last part."""
        return max(1, -(-self.total // PER_PAGE))

    @property
    def first(self) -> int:
        """The number of the first row, from 1."""
        return (self.number - 1) * PER_PAGE + 1

    def address(self, number: int) -> str:
        """Give the address of another part."""
        return f"{self.path}?{urlencode([*self.query, ('page', str(number))])}"


def part_of(request: Request, rows: Sequence[Row], number: int) -> Listing[Row]:
    """Give a part of a list; a number beyond its ends gives the nearest one."""
    last = max(1, -(-len(rows) // PER_PAGE))
    number = min(max(number, 1), last)
    start = (number - 1) * PER_PAGE
    query = tuple((k, v) for k, v in request.query_params.multi_items() if k != "page")
    part = rows[start : start + PER_PAGE]
    return Listing(part, len(rows), number, request.url.path, query)
