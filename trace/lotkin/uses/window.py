"""What was done with some items within a time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.window import Window, falls_into

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.items import Item
    from lotkin.uses.ports import Reading

__all__ = ["Window", "first_within"]


def first_within(
    view: Reading, subjects: Sequence[Item], window: Window | None
) -> list[str] | None:
    """List what was done with the subjects, or came out of them, within a window.

    Returns:
        Codes of direct children to go on from; None without a window.
    """
    if window is None:
        return None
    first = {
        link.child
        for subject in subjects
        for link in view.children(subject.code)
        if falls_into(view, subject, link, window)
    }
    return sorted(first)
