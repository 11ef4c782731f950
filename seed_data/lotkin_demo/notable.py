"""The codes worth knowing in the demo works: where each of its stories can be found."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["DemoWorks"]


@dataclass(frozen=True, slots=True)
class DemoWorks:
    """Codes by which tests and documents name what happened in the demo works."""

    events: int = 0
    units: tuple[str, ...] = ()
