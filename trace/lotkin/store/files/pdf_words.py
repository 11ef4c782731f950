"""The words of a PDF and where they stand; run as a program, it reads one from standard input.

The reading is done in a process of its own with little memory and time, so that a damaged or
hostile document can take nothing else down.
"""

from __future__ import annotations

import json
import sys
from contextlib import suppress
from typing import TYPE_CHECKING, Any, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["BROKEN", "ENCRYPTED", "MOST_PAGES", "SECONDS", "words_of_pdf"]

BROKEN = "broken"
ENCRYPTED = "encrypted"

SECONDS = 10
"""Of processor time; a certificate takes a few hundredths."""

MEMORY = 768 * 1024**2
"""Bytes of address space, the program itself included."""

MOST_PAGES = 20
MOST_CHARACTERS = 60_000
"""More is left unread: certificates have a page or two."""

GAP = 0.25
"""Of the height of a character: more room than that parts words."""

FEW_WORDS = 8

TURNS = {0: (1, 0, 0, 1), 90: (0, 1, -1, 0), 180: (-1, 0, 0, -1), 270: (0, -1, 1, 0)}
"""Degrees that a page is turned clockwise -> how across and upwards follow from x and y."""

HYPHENS = str.maketrans({"\ufffe": "-", "\u00ad": "-", "\u2010": "-", "\u2011": "-", "\u2212": "-"})

Placed: TypeAlias = "tuple[str, float, float, float, float]"
"""Text, left, right, low, high; in points, growing to the right and upwards."""


def words_of_pdf(content: bytes) -> list[list[Placed]]:
    """Give the words of each page, at most `MOST_PAGES`.

    Raises:
        PdfiumError: It is no PDF, or encrypted.
    """
    # slow to load; and it brings no types of its own
    import pypdfium2  # type: ignore[import-untyped]  # noqa: PLC0415

    left_over = MOST_CHARACTERS
    pages = []
    document = pypdfium2.PdfDocument(content)
    for number in range(min(len(document), MOST_PAGES)):
        page = document[number]
        text = page.get_textpage()
        count = min(text.count_chars(), left_over)
        left_over -= count
        turn = TURNS[page.get_rotation()]
        pages.append(_page_of(text, count, turn))
    return pages


# the library has no types: hence `Any`
def _page_of(text: Any, count: int, turn: tuple[int, int, int, int]) -> list[Placed]:
    """Read a page; one whose text lies on its side is read as it is when the page is turned.

    Characters of lying text are above each other: each of them would be a word.
    """
    words = list(_words(text, count, turn))
    single = sum(len(word[0]) == 1 for word in words)
    if len(words) < FEW_WORDS or single * 2 < len(words):
        return words
    turned = [list(_words(text, count, other)) for other in TURNS.values()]
    return min(turned, key=len)


def _words(text: Any, count: int, turn: tuple[int, int, int, int]) -> Iterator[Placed]:
    word: Placed | None = None
    for at in range(count):
        character = text.get_text_range(at, 1).translate(HYPHENS)
        if not character.strip() or not character.isprintable():
            if word is not None:
                yield word
            word = None
            continue
        left, low, right, high = _turned(text.get_charbox(at, loose=True), turn)
        if word is not None and _follows(word, left, low, high):
            word = (word[0] + character, word[1], right, min(low, word[3]), max(high, word[4]))
        else:
            if word is not None:
                yield word
            word = (character, left, right, low, high)
    if word is not None:
        yield word


def _turned(
    box: tuple[float, float, float, float], turn: tuple[int, int, int, int]
) -> tuple[float, float, float, float]:
    """Give the edges of a character as the page is looked at: left, low, right, high."""
    left, low, right, high = box
    across = [turn[0] * x + turn[1] * y for x, y in ((left, low), (right, high))]
    upwards = [turn[2] * x + turn[3] * y for x, y in ((left, low), (right, high))]
    return min(across), min(upwards), max(across), max(upwards)


def _follows(word: Placed, left: float, low: float, high: float) -> bool:
    """Tell whether a character goes on a word: right behind it and beside it."""
    _, first, right, below, above = word
    height = max(high - low, above - below)
    is_beside = min(high, above) - max(low, below) > 0
    return is_beside and left > first and -GAP * height * 2 < left - right < GAP * height


def _limit() -> None:
    """Take little of the machine; where the system cannot limit that, the caller's clock does."""
    try:
        import resource  # noqa: PLC0415 - not on every system
    except ImportError:
        return
    for what, most in (
        (resource.RLIMIT_CPU, SECONDS),
        (resource.RLIMIT_AS, MEMORY),
        (resource.RLIMIT_FSIZE, 0),
        (resource.RLIMIT_CORE, 0),
    ):
        with suppress(ValueError, OSError):
            resource.setrlimit(what, (most, most))


def _main() -> None:
    _limit()
    content = sys.stdin.buffer.read()
    import pypdfium2  # noqa: PLC0415 - after the limits are set

    try:
        answer: object = words_of_pdf(content)
    except pypdfium2.PdfiumError as error:
        encrypted = getattr(error, "err_code", None) in (
            pypdfium2.raw.FPDF_ERR_PASSWORD,
            pypdfium2.raw.FPDF_ERR_SECURITY,
        )
        answer = ENCRYPTED if encrypted else BROKEN
    sys.stdout.write(json.dumps(answer))


if __name__ == "__main__":
    _main()
