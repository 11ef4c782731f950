"""What was done with some items within a time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.window import Window, was_within

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.items import Item
    from lotkin.uses.ports import Reading

__all__ = ["Window", "first_within"]


def first_within(
    view: Reading, subjects: Sequence[Item], window: Window | None, *, as_of: int | None = None
) -> list[str] | None:
    """List what was done with the subjects, or came out of them, within a window.

    Args:
        view: Where to look.
        subjects: The items asked about.
        window: The time asked about; None for all of it.
        as_of: Journal position; None for now.

    Returns:
        Codes of direct children to go on from; None without a window.
    """
    if window is None:
        return None
    first = {
        link.child
        for subject in subjects
        for link, child, at in view.children_then(subject.code, as_of)
        if was_within(subject, link, child, at=at, window=window)
    }
    return sorted(first)
