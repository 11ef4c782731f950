"""What a window leaves out of what was named: a finding, never an empty answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.values.instants import show_local

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import tzinfo

    from lotkin.core.answers.window import Deed, Window

__all__ = ["LeftOut", "left_out", "said_of", "window_text"]


@dataclass(frozen=True, slots=True)
class LeftOut:
    """An item that was named, and nothing of what was done with it overlaps the window.

    Attributes:
        code: The item.
        runs: How many things were done with it at all.
        before: The last of them that ended before the window; None for none.
        after: The first of them that began after the window; None for none.
        not_recorded: How many have a time that is not recorded.
    """

    code: str
    runs: int
    before: Deed | None
    after: Deed | None
    not_recorded: int


def left_out(code: str, deeds: Sequence[Deed], window: Window) -> LeftOut:
    """Describe an item that a window leaves out."""
    before, after = [], []
    for deed in deeds:
        began, ended = deed.span
        if window.start is not None and ended is not None and ended < window.start:
            before.append((ended, deed.code, deed))
        elif window.end is not None and began is not None and began > window.end:
            after.append((began, deed.code, deed))
    return LeftOut(
        code,
        len({deed.code for deed in deeds}),
        max(before, key=lambda each: each[:2])[2] if before else None,
        min(after, key=lambda each: each[:2])[2] if after else None,
        sum(None in deed.span for deed in deeds),
    )


def said_of(one: LeftOut, window: Window, zone: tzinfo | None) -> str:
    """Say that no run overlaps, and which are the nearest."""
    said = [f"no run of {one.code} overlaps {window_text(window, zone)}"]
    if not one.runs:
        return f"{said[0]}: nothing that was done with it is recorded"
    if one.before is not None:
        said.append(f"the nearest before: {one.before.code}, ended "
                    f"{show_local(one.before.span.ended, zone)}")  # fmt: skip
    if one.after is not None:
        said.append(f"the nearest after: {one.after.code}, begun "
                    f"{show_local(one.after.span.began, zone)}")  # fmt: skip
    missing = one.not_recorded or "none"
    said.append(f"of {one.runs} on record {missing} with a time not recorded")
    return "; ".join(said)


def window_text(window: Window, zone: tzinfo | None) -> str:
    """Write a window in the time zone of the works."""
    if window.start is None:
        return f"the time to {show_local(window.end, zone)}"
    if window.end is None:
        return f"the time from {show_local(window.start, zone)}"
    return f"{show_local(window.start, zone)} to {show_local(window.end, zone)}"
