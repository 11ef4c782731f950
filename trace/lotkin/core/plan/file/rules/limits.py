"""Rules: a lower limit is not above the upper one, and a test can be failed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.plan.file.sheet import Finding
from lotkin.core.plan.values import plain_number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.plan.file.sheet import Row, Sheet

__all__ = ["find_crossed_limits"]


def find_crossed_limits(sheet: Sheet) -> Iterator[Finding]:
    """Find limits that nothing can meet, and tests without any."""
    for part in sheet.parts:
        for step in part.rows("step"):
            yield from _crossed(step, "min_minutes", "max_minutes")
            yield from _crossed(step, "min_celsius", "max_celsius")
            for measure in step.rows("measure"):
                yield from _crossed(measure, "min", "max")
        for test in part.rows("test"):
            yield from _crossed(test, "min", "max")
            if "min" not in test.cells and "max" not in test.cells:
                yield Finding(test.path, "the test has no limit; add min, max or both")


def _crossed(row: Row, lower: str, upper: str) -> Iterator[Finding]:
    least, most = row.number(lower), row.number(upper)
    if least is not None and most is not None and least > most:
        yield Finding(
            row.at(lower),
            f"{lower} {plain_number(least)} is above {upper} {plain_number(most)}; "
            "swap them or correct one",
        )
