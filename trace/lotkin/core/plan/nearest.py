"""The known name that comes nearest to an unknown one."""

from __future__ import annotations

import difflib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["NearestNames"]

_ALIKE = 0.6
_LONGEST = 80


class NearestNames:
    """Suggests names of one list, whatever their letter case.

    Comparing is slow, and a broken file may hold thousands of unknown names: after `comparisons`
    no more names are suggested.
    """

    def __init__(self, known: Iterable[str], *, comparisons: int = 100_000) -> None:
        self._known = {name.casefold(): name for name in known}
        self._comparisons = comparisons
        self._said: dict[str, str] = {}

    def hint(self, name: str) -> str:
        """Ask whether the nearest name was meant; "" if none comes near.

        Example:
            >>> NearestNames(["SCREW-M3X8", "MOTOR"]).hint("SCREW-M3")
            ' (did you mean SCREW-M3X8?)'
        """
        if name not in self._said:
            self._said[name] = self._nearest(name)
        near = self._said[name]
        return f" (did you mean {near}?)" if near else ""

    def _nearest(self, name: str) -> str:
        if len(name) > _LONGEST or self._comparisons < len(self._known):
            return ""
        self._comparisons -= len(self._known)
        folded = name.casefold()
        near = difflib.get_close_matches(folded, self._known, n=1, cutoff=_ALIKE)
        return self._known[near[0]] if near else ""
