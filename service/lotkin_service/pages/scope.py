"""What a page asks about: codes and a span of time, as they were typed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC
from typing import TYPE_CHECKING, Annotated
from urllib.parse import urlencode

from fastapi import Depends, Query

from lotkin.core.errors import BadEvent
from lotkin.core.values.instants import parse_spoken, to_us
from lotkin.uses.asking.where import Question
from lotkin.uses.asking.window import Window

if TYPE_CHECKING:
    from datetime import tzinfo

__all__ = ["Scope", "Scoped"]


@dataclass(frozen=True, slots=True)
class Scope:
    """What is asked about, as it was typed."""

    codes: tuple[str, ...]
    start: str
    end: str

    def question(self, zone: tzinfo | None) -> Question:
        """Give what narrows it; moments are in the time zone of the works.

        Raises:
            BadEvent: A moment is none.
            BadQuestion: They are the wrong way round.
        """
        start = self._moment(self.start, zone)
        end = self._moment(self.end, zone, is_end=True)
        return Question(window=None if start is None and end is None else Window(start, end))

    @staticmethod
    def _moment(text: str, zone: tzinfo | None, *, is_end: bool = False) -> int | None:
        if not text:
            return None
        try:
            return to_us(parse_spoken(text, zone or UTC, is_end=is_end))
        except (ValueError, OverflowError):
            raise BadEvent(text[:40], "is no moment") from None

    @property
    def query(self) -> str:
        """Give it as part of an address."""
        pairs = [("code", " ".join(self.codes)), ("from", self.start), ("to", self.end)]
        return urlencode([(name, value) for name, value in pairs if value])


def _scope(
    code: Annotated[str, Query(max_length=4000)] = "",
    start: Annotated[str, Query(alias="from", max_length=40)] = "",
    end: Annotated[str, Query(alias="to", max_length=40)] = "",
) -> Scope:
    return Scope(tuple(code.split()), start, end)


Scoped = Annotated[Scope, Depends(_scope)]
