"""The root of the tree of errors, and the nearest names for hints."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["LotkinError", "did_you_mean"]


class LotkinError(Exception):
    """Root of the tree: what is wrong, on which record, what to do now.

    Attributes:
        kind: Stable kebab-case name of the situation.
        message: What is wrong, naming the record.
        record: Code, event id or path that it is about; "" if none.
        hint: What to do now; "" if nothing sensible can be said.
    """

    kind: ClassVar[str] = "error"
    exit_status: ClassVar[int] = 3

    def __init__(self, message: str, *, record: str = "", hint: str = "") -> None:
        super().__init__(message)
        self.message = _as_unicode(message)
        self.record = _as_unicode(record)
        self.hint = _as_unicode(hint)


def _as_unicode(text: str) -> str:
    r"""Spell out what is no Unicode, so that any face can send the text on.

    >>> print(_as_unicode("a" + chr(0xD800)))
    a\ud800
    """
    return text if text.isascii() else text.encode(errors="backslashreplace").decode()


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """Say which known names come nearest to `name`; "" if none does."""
    import difflib  # noqa: PLC0415 - most commands need none

    near = difflib.get_close_matches(name, list(known), n=3, cutoff=0.6)
    return f"did you mean {', '.join(near)}?" if near else ""
