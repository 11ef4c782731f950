"""Reading the cells of plain tables: codes, kinds, quantities, units, moments."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, TypeVar

from lotkin.core.errors import did_you_mean
from lotkin.core.errors.problems import Problem, shown
from lotkin.core.values.instants import FIRST_YEAR, LAST_YEAR, parse_instant, to_us
from lotkin.core.values.kinds import FAMILY_OF, UNITS, Mixing
from lotkin.core.values.quantities import LARGEST, MICRO

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = [
    "BadCellError",
    "CellReader",
    "parse_code",
    "parse_group",
    "parse_kind",
    "parse_mixing",
    "parse_moment",
    "parse_part",
    "parse_per",
    "parse_quantity",
    "parse_unit",
]

USUAL_KIND = "purchased-lot"
LONGEST_TEXT = 200
LONGEST_NUMBER = 40

# Codes as `lotkin.core.events.base.Code` takes them.
CODE = re.compile(r"[!-~]{1,80}")
ALL_KINDS = f"kinds are {', '.join(FAMILY_OF)}"
CODE_RULE = "1 to 80 printable ASCII characters without spaces"
QUANTITY = re.compile(r"(?=\.?[0-9])0*([0-9]{0,13})(?:\.([0-9]{0,6})0*)?")
NEGATIVE = re.compile(r"-[0-9.,]+")
DECIMALS = re.compile(r"[0-9]*\.[0-9]+")
COMMA = re.compile(r"[0-9.]*,[0-9.,]*")
POWER = re.compile(r"[0-9.,]+[eE][+-]?[0-9]+")
# RFC 3339, section 5.6, in which the zone is left open here to say so if it is missing.
MOMENT = re.compile(
    r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
    r"(?P<time>[T ](?:[01][0-9]|2[0-3]):[0-9]{2}:[0-9]{2}(?:\.[0-9]+)?(?P<zone>Z|[+-][0-9:]{5})?)?"
)

_KINDS = {kind: kind for kind in FAMILY_OF}
_UNITS = {unit: unit for unit in UNITS}
_MIXINGS = {str(mixing): mixing for mixing in Mixing}

Value = TypeVar("Value")


class BadCellError(ValueError):
    """A cell that cannot be read; its text is the reason."""


class CellReader:
    """Reads cells of one table and notes the bad ones.

    Attributes:
        table: Name of the table.
        line: Line that is being read.
        problems: Receives what is wrong.
    """

    def __init__(self, table: str, problems: list[Problem]) -> None:
        self.table = table
        self.line = 0
        self.problems = problems

    def read(self, column: str, parse: Callable[[str], Value], text: str) -> Value | None:
        """Give what a cell says; None, with the problem noted, if it says nothing sensible."""
        try:
            return parse(text)
        except BadCellError as bad:
            self.note(column, str(bad))
            return None

    def note(self, column: str, reason: str) -> None:
        """Note that something is wrong on the line being read."""
        self.problems.append(Problem(self.table, self.line, column, reason))


def parse_code(text: str) -> str:
    """Read a code."""
    if CODE.fullmatch(text):
        return text
    raise BadCellError(f"{shown(text)} is no code: {CODE_RULE}" if text else "is empty")


def parse_part(text: str) -> str:
    """Read a part number, a code or nothing."""
    if not text or CODE.fullmatch(text):
        return text
    raise BadCellError(f"{shown(text)} is no part number: {CODE_RULE}")


def parse_kind(text: str) -> str:
    """Read a kind; an empty cell is a purchased lot."""
    kind = _KINDS.get(text) if text else USUAL_KIND
    if kind is None:
        raise BadCellError(_unknown_kind(text))
    return kind


@lru_cache(maxsize=512)
def _unknown_kind(text: str) -> str:
    near = did_you_mean(text, FAMILY_OF) if len(text) <= LONGEST_TEXT else ""
    return f"{shown(text)} is no kind of item; {near or ALL_KINDS}"


def parse_unit(text: str) -> str:
    """Read a unit; an empty cell stays empty."""
    if text and text not in _UNITS:
        raise BadCellError(f"{shown(text)} is no unit; units are {', '.join(UNITS)}")
    return _UNITS.get(text, "")


@lru_cache(maxsize=4096)
def parse_quantity(text: str) -> int | None:
    """Read a decimal number that is not below zero, as millionths; None for an empty cell."""
    if not text:
        return None
    found = QUANTITY.fullmatch(text)
    if found is None or len(text) > LONGEST_NUMBER:
        raise BadCellError(_why_no_quantity(text))
    micro = int(found[1] or 0) * MICRO + int((found[2] or "").ljust(6, "0"))
    if micro > LARGEST * MICRO:
        raise BadCellError(f"{shown(text)} is larger than any works holds")
    return micro


def _why_no_quantity(text: str) -> str:
    if len(text) > LONGEST_NUMBER:
        return f"{shown(text)} has more than {LONGEST_NUMBER} characters"
    if NEGATIVE.fullmatch(text):
        return f"{shown(text)} is below zero"
    if COMMA.fullmatch(text):
        return f"{shown(text)} has a comma; write it with a decimal point, like 1250.5"
    if POWER.fullmatch(text):
        return f"{shown(text)} is short for a number; write it out, like 125000"
    if DECIMALS.fullmatch(text) and len(text.partition(".")[2]) > 6:
        return f"{shown(text)} has more than six decimals"
    if text.isascii() and text.isdigit():
        return f"{shown(text)} is larger than any works holds"
    return f"{shown(text)} is not a number"


def parse_per(text: str) -> int:
    """Read how many are in one piece, as millionths; an empty cell is one."""
    per = parse_quantity(text)
    if per == 0:
        raise BadCellError("0 in one piece is no link; leave the row out")
    return MICRO if per is None else per


def parse_mixing(text: str) -> Mixing:
    """Read a mixing; an empty cell is `each`."""
    mixing = _MIXINGS.get(text) if text else Mixing.EACH
    if mixing is None:
        raise BadCellError(f"{shown(text)} is no mixing; it is one of {', '.join(_MIXINGS)}")
    return mixing


def parse_group(text: str) -> str:
    """Read the name of a group: any text."""
    if len(text) > LONGEST_TEXT:
        raise BadCellError(f"{shown(text)} has more than {LONGEST_TEXT} characters")
    return text


@lru_cache(maxsize=4096)
def parse_moment(text: str) -> int | None:
    """Read an RFC 3339 moment, or a date as its midnight UTC, as microseconds; None if empty."""
    if not text:
        return None
    found = MOMENT.fullmatch(text.upper())
    if found is None or len(text) > LONGEST_NUMBER:
        raise BadCellError(f"{shown(text)} is no moment; write it like 2026-03-01T07:30:00Z")
    if found["time"] and not found["zone"]:
        raise BadCellError(f"{text} has no time zone; write it like 2026-03-01T07:30:00Z")
    if not FIRST_YEAR <= int(text[:4]) <= LAST_YEAR:
        raise BadCellError(f"{text} is not a date that a works can have")
    try:
        return to_us(parse_instant(found[0] if found["time"] else f"{text}T00:00:00Z"))
    except ValueError:
        raise BadCellError(f"{text} is not in the calendar") from None
