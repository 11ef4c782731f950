"""What printed cards and travellers say to a station's dialogue, besides codes of items."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

__all__ = [
    "BenchSpot",
    "ScanCommand",
    "TravellerStep",
    "read_bench_spot",
    "read_command",
    "read_traveller_step",
    "write_bench_spot",
    "write_traveller_step",
]

_BENCH_SPOT = "$AT"


class ScanCommand(StrEnum):
    """Commands as they stand in a code.

    They begin with `$`, which no code of a plan does, and use only characters that the small
    alphanumeric form of a QR code has (ISO/IEC 18004: 0-9, A-Z, space and `$%*+-./:`).
    """

    START = "$START"
    FINISH = "$FINISH"
    SCRAP = "$SCRAP"
    SAMPLE = "$SAMPLE"
    UNDO = "$UNDO"
    CONFIRM = "$CONFIRM"
    CANCEL = "$CANCEL"
    HELP = "$HELP"
    REPORT = "$REPORT"
    RECEIVE = "$RECEIVE"
    BLEND = "$BLEND"
    COUNT = "$COUNT"
    MOVE = "$MOVE"
    PACK = "$PACK"
    SHIP = "$SHIP"
    MIX = "$MIX"
    APART = "$APART"
    REPLACE = "$REPLACE"
    CLOSE = "$CLOSE"
    TAKEOVER = "$TAKEOVER"


_BY_TEXT = {str(command): command for command in ScanCommand}


class BenchSpot(NamedTuple):
    """A position of a bench, both by their codes in the plan."""

    bench: str
    position: str


class TravellerStep(NamedTuple):
    """A step of the route on a traveller."""

    traveller: str
    step: str


def read_command(scanned: str) -> ScanCommand | None:
    """Tell which command a scanned text is, in any case of letters; None if it is none.

    >>> read_command("$finish")
    <ScanCommand.FINISH: '$FINISH'>
    """
    return _BY_TEXT.get(scanned.strip().upper())


def write_bench_spot(bench: str, position: str) -> str:
    """Write a position of a bench as its card says it.

    The parts are told apart by spaces, since codes may have every other mark but no space.

    >>> write_bench_spot("BENCH-A", "A1")
    '$AT BENCH-A A1'
    """
    return f"{_BENCH_SPOT} {bench} {position}"


def read_bench_spot(scanned: str) -> BenchSpot | None:
    """Tell which position of a bench a scanned text means; None if it means none."""
    words = scanned.split()
    if len(words) != 3 or words[0].upper() != _BENCH_SPOT:
        return None
    return BenchSpot(words[1], words[2])


def write_traveller_step(traveller: str, step: str) -> str:
    """Write a step as its row on the traveller says it.

    >>> write_traveller_step("T-0042", "10")
    'T-0042/10'
    """
    return f"{traveller}/{step}"


def read_traveller_step(scanned: str) -> TravellerStep | None:
    """Split a scanned text at its last slash; None if there is nothing on one side of it.

    A unit's later state is written in the same form (`SERIAL/2`): look among the items first.
    """
    traveller, _, step = scanned.strip().rpartition("/")
    return TravellerStep(traveller, step) if traveller and step else None
