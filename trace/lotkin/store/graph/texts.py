"""Texts written one after the other, looked at one by one."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy.typing import NDArray

__all__ = ["Texts"]


class Texts:
    """Texts by number."""

    def __init__(self, letters: NDArray[Any], at: NDArray[Any]) -> None:
        """Take letters in UTF-8, and where each text begins, in letters."""
        self._letters, self._at = letters, at

    @cached_property
    def _whole(self) -> str:
        return self._letters.tobytes().decode()

    def of(self, numbers: NDArray[Any]) -> list[str]:
        """List the texts of some numbers."""
        whole = self._whole
        begins = self._at[numbers].tolist()
        ends = self._at[numbers + 1].tolist()
        return [whole[begin:end] for begin, end in zip(begins, ends, strict=True)]
