"""Which value stands under which heading."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from lotkin.core.certificates.words import Word

__all__ = ["align", "nearest", "stands_firmly"]

FIRMLY = 0.25
"""Of the way to the next column: a word that is off by more may belong to another one."""

SIDES: tuple[Callable[[Word], float], ...] = (
    lambda word: word.middle,
    lambda word: word.left,
    lambda word: word.right,
)


def align(headings: Sequence[Word], words: Sequence[Word]) -> list[int] | None:
    """Tell under which heading each word of a row stands.

    They are put under the headings that they are nearest to, by their middles or by the edges at
    which the columns are flush, whichever fits best. As many words as headings must stand in order,
    one under each: a column without a heading, or a value that is missing, shifts all others.

    Args:
        headings: n headings of columns, the leftmost first; n >= 1.
        words: m words, the leftmost first.

    Returns:
        m positions in `headings`, rising; None where it is not clear.
    """
    if not words or len(words) > len(headings):
        return None
    tried = [_align_by(side, headings, words) for side in SIDES]
    fitting = [found for found in tried if found is not None]
    return min(fitting, key=lambda found: found[0])[1] if fitting else None


def stands_firmly(headings: Sequence[Word], words: Sequence[Word], places: Sequence[int]) -> bool:
    """Tell whether each word stands so near to its heading that no other one can be meant."""
    if len(headings) < 2:
        return True
    return any(
        all(
            abs(side(word) - side(headings[place]))
            <= FIRMLY * _gap(list(map(side, headings)), place)
            for word, place in zip(words, places, strict=True)
        )
        for side in SIDES
    )


def _align_by(
    side: Callable[[Word], float], headings: Sequence[Word], words: Sequence[Word]
) -> tuple[float, list[int]] | None:
    """Give how far off all words are together, and where they stand; None if that is not clear."""
    places = [side(heading) for heading in headings]
    off = 0.0
    found: list[int] = []
    for word in words:
        at, distance = nearest(places, side(word))
        if distance > _reach(places, at) or (found and at <= found[-1]):
            return None
        off += distance
        found.append(at)
    return off, found


def nearest(places: Sequence[float], place: float) -> tuple[int, float]:
    """Give the position of the nearest place, and how far it is."""
    distances = [abs(each - place) for each in places]
    at = min(range(len(places)), key=distances.__getitem__)
    return at, distances[at]


def _reach(places: Sequence[float], at: int) -> float:
    """Give how far from a heading a word may be: less than half the way to the next one."""
    return _gap(places, at) * 0.45


def _gap(places: Sequence[float], at: int) -> float:
    """Give the way from a heading to the nearest other one."""
    gaps = [abs(places[at] - places[i]) for i in (at - 1, at + 1) if 0 <= i < len(places)]
    return min(gaps) if gaps else float("inf")
