"""Words for people: quantities, chances, certainty, moments, lists of codes."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from lotkin.core.values.instants import show_local
from lotkin.core.values.percent import in_percent

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import tzinfo

    from lotkin.core.answers.rows import Row

__all__ = [
    "certainty",
    "code_ranges",
    "counted",
    "listed",
    "moment",
    "percent",
    "percent_range",
    "shortened",
]

NUMBERED = re.compile(r"(.*?)(\d{1,18})", re.ASCII)


def percent(share: float) -> str:
    """Write a share in percent, never rounded to none or to all where it is neither.

    >>> percent(0.25), percent(0.004), percent(1e-9), percent(0.99996)
    ('25 %', '0.4 %', 'under 0.01 %', 'over 99.99 %')
    """
    return f"{in_percent(share)} %"


def percent_range(low: float, high: float) -> str:
    """Write a range of shares in percent, e.g. 12 to 40 with one sign behind."""
    if low == high:
        return percent(low)
    return f"{in_percent(low)}\u2013{in_percent(high)} %"


def certainty(row: Row) -> str:
    """Say how sure it is that a piece of an item contains what was asked about.

    With the chance go its bounds, in brackets, where these differ. What only an earlier state of a
    repaired unit had, it has no longer. What may have begun within the time asked about, because
    its start is not on record, is marked.
    """
    mark = ", start not recorded" if row.start_not_recorded else ""
    return f"{_how_sure(row)}{mark}"


def _how_sure(row: Row) -> str:
    if row.removed:
        return "no longer"
    if row.certain:
        return "certain"
    if row.chance is None:
        return f"possible, {percent_range(row.chance_low, row.chance_high)}"
    bounds = percent_range(row.chance_low, row.chance_high)
    said = percent(row.chance)
    return f"possible, {said}" if bounds == said else f"possible, {said} ({bounds})"


def moment(us: int | None, zone: tzinfo | None) -> str:
    """Write a moment to the second in the time zone of the works; "" if it is not known."""
    return show_local(us, zone)


def counted(number: int, one: str, many: str = "") -> str:
    """Write a number of things.

    >>> counted(1, "event"), counted(1200, "event")
    ('1 event', '1200 events')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"


def listed(counts: Iterable[tuple[str, int]]) -> str:
    """Write counts by name, e.g. `unit 212, treated-lot 4`."""
    return ", ".join(f"{name} {count}" for name, count in counts)


def code_ranges(codes: Iterable[str]) -> list[str]:
    """Write codes compactly: runs of three or more that count up by one as `FIRST to LAST`.

    >>> code_ranges(["P-8", "P-9", "P-10", "P-12", "X"])
    ['P-8 to P-10', 'P-12', 'X']
    """
    return [_written(run) for run in _runs(codes)]


def shortened(codes: Iterable[str], *, everything: bool, most: int = 6) -> str:
    """Write codes compactly, and how many more there are unless everything is wanted."""
    runs = _runs(codes)
    shown = runs if everything else runs[:most]
    more = sum(len(run) for run in runs[len(shown) :])
    return ", ".join(map(_written, shown)) + (f" and {more} more" if more else "")


def _runs(codes: Iterable[str]) -> list[list[str]]:
    """Divide codes into runs that count up by one, shorter ones than three taken apart."""
    runs: list[list[str]] = []
    last: tuple[str, int] | None = None
    for code, place in sorted(((code, _place(code)) for code in set(codes)), key=lambda x: x[1]):
        stem, value, _ = place
        if last == (stem, value - 1) and _follows(runs[-1][-1], code):
            runs[-1].append(code)
        else:
            runs.append([code])
        last = (stem, value) if value >= 0 else None
    return [part for run in runs for part in ([run] if len(run) > 2 else [[one] for one in run])]


def _written(run: Sequence[str]) -> str:
    return run[0] if len(run) == 1 else f"{run[0]} to {run[-1]}"


def _place(code: str) -> tuple[str, int, str]:
    found = NUMBERED.fullmatch(code)
    return (code, -1, code) if found is None else (found[1], int(found[2]), code)


def _follows(before: str, after: str) -> bool:
    """Tell whether a reader who counts on from one code comes to the other."""
    found, then = NUMBERED.fullmatch(before), NUMBERED.fullmatch(after)
    if found is None or then is None or found[1] != then[1]:
        return False
    return str(int(found[2]) + 1).zfill(len(found[2])) == then[2]
