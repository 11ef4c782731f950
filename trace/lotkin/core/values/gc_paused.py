"""Holding off the search for cycles while much is made that has none."""

from __future__ import annotations

import gc
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["paused_collector"]


@contextmanager
def paused_collector() -> Iterator[None]:
    """Hold off the cyclic garbage collector while many tuples are made, none of them in cycles."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
