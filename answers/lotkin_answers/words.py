"""Words for people: quantities, chances, certainty, moments, lists of codes."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from lotkin.core.values.instants import show_local

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import tzinfo
    from decimal import Decimal

    from lotkin.core.answers.rows import Row

__all__ = [
    "certainty",
    "code_ranges",
    "counted",
    "listed",
    "moment",
    "percent",
    "percent_range",
    "plain_number",
    "sentence",
    "shortened",
]

NUMBERED = re.compile(r"(.*?)(\d{1,18})", re.ASCII)


def percent(share: float) -> str:
    """Write a share in percent, never rounded to none or to all where it is neither.

    >>> percent(0.25), percent(0.004), percent(1e-9), percent(0.99996)
    ('25 %', '0.4 %', 'under 0.01 %', 'over 99.99 %')
    """
    return f"{_in_percent(share)} %"


def percent_range(low: float, high: float) -> str:
    """Write a range of shares in percent.

    >>> percent_range(0.12, 0.4), percent_range(0.0, 1e-9), percent_range(0.5, 0.5)
    ('12 to 40 %', '0 to under 0.01 %', '50 %')
    """
    if low == high:
        return percent(low)
    return f"{_in_percent(low)} to {_in_percent(high)} %"


def _in_percent(share: float) -> str:
    """Write a share (0 to 1) in percent without the sign, exact enough near both ends.

    >>> _in_percent(0.25), _in_percent(0.004), _in_percent(1e-9), _in_percent(0.99996)
    ('25', '0.4', 'under 0.01', 'over 99.99')
    """
    if share <= 0:
        return "0"
    if share >= 1:
        return "100"
    if share < 0.0001:
        return "under 0.01"
    if share > 0.9999:
        return "over 99.99"
    nearest_end = min(share, 1 - share)
    decimals = 0 if nearest_end >= 0.1 else 1 if nearest_end >= 0.01 else 2
    text = f"{share * 100:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if decimals else text


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


def plain_number(value: Decimal) -> str:
    """Write a number without zeros behind it and never in powers of ten.

    >>> from decimal import Decimal
    >>> plain_number(Decimal("38.50")), plain_number(Decimal(120)), plain_number(Decimal("1E+3"))
    ('38.5', '120', '1000')
    """
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def sentence(said: str) -> str:
    """Write what is said as a sentence of its own.

    >>> sentence("no test of it is recorded")
    'No test of it is recorded.'
    """
    return f"{said[:1].upper()}{said[1:]}."


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
