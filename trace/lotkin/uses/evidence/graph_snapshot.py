"""Keeping the copy of the graph new, from which large questions are answered at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import Protocol

    class HasGraph(Protocol):
        """A store beside which a copy of its graph can be."""

        def copy_graph(self, *, only_if_due: bool = False) -> int:
            """Make the copy anew; gives the event that it is of, 0 if none was made."""


__all__ = ["copy_graph"]


def copy_graph(store: HasGraph, *, only_if_due: bool = False) -> int:
    """Make the copy of the graph anew, others reading and recording meanwhile.

    Args:
        store: Whose graph.
        only_if_due: Not if the works is small, or the copy is new enough.

    Returns:
        Number of the event that it is of; 0 if none was made.

    Raises:
        StoreUnreadable: It cannot be written.
    """
    return store.copy_graph(only_if_due=only_if_due)
