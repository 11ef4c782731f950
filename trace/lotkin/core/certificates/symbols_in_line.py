"""Symbols in a line of a certificate, and whether the line is the heading of a table."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.certificates.cells import is_unit
from lotkin.core.certificates.words import Word

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from decimal import Decimal

    from lotkin.core.certificates.words import Line

__all__ = ["Reader", "is_heading", "is_within", "parted", "symbols_of"]


COMPARING = frozenset({"<", ">", "≤", "≥", "<=", ">="})


@dataclass(frozen=True, slots=True)
class Reader:
    """How symbols of one kind of table are recognised.

    Attributes:
        symbol_of: Gives the symbol that a text is; None if it is none.
        longest: Words that a symbol may be torn into.
        least: Symbols that make a heading, or lines that make a list.
        least_pairs: Pairs of symbol and value that make a line of pairs.
        largest: Values above this are no values.
        takes_zero: Whether nothing at all is a value.
    """

    symbol_of: Callable[[str], str | None]
    longest: int
    least: int
    least_pairs: int
    largest: Decimal
    takes_zero: bool = True


def symbols_of(line: Line, reader: Reader) -> list[tuple[str, Word]]:
    """Find the symbols of a line and where they stand; one may be torn into several words."""
    found: list[tuple[str, Word]] = []
    words, start = parted(line), 0
    while start < len(words):
        step = 1
        for length in range(reader.longest, 0, -1):
            torn = words[start : start + length]
            if any(word.text[0] in "[(" for word in torn[1:]):
                continue  # a unit parts two symbols
            symbol = reader.symbol_of("".join(word.text for word in torn))
            if symbol is not None:
                found.append((symbol, Word(symbol, torn[0].left, torn[-1].right)))
                step = len(torn)
                break
        start += step
    return found


def parted(line: Line) -> list[Word]:
    """Part words like `C=0.08` at the sign, and put `≥` to the number behind it."""
    words: list[Word] = []
    for word in line.words:
        before, sign, after = word.text.replace("=", ":").partition(":")
        if words and words[-1].text in COMPARING:
            words[-1] = Word(words[-1].text + word.text, words[-1].left, word.right)
        elif sign and before and after and before not in COMPARING:
            width = (word.right - word.left) / len(word.text)
            middle = word.left + width * len(before)
            words += [Word(before, word.left, middle), Word(after, middle + width, word.right)]
        elif word.text not in (":", "="):
            words.append(word)
    return words


def is_heading(line: Line, found: Sequence[tuple[str, Word]], reader: Reader) -> bool:
    """Tell whether a line is the heading of a table: symbols side by side, and little else."""
    symbols = {symbol for symbol, _ in found}
    if len(symbols) < reader.least or len(symbols) < len(found):
        return False
    inside = [w for w in line.words if w.left >= found[0][1].left]
    others = [w for w in inside if not is_within(w, found) and not _is_of_unit(w.text)]
    return len(others) * 2 <= len(found)


def _is_of_unit(text: str) -> bool:
    return is_unit(text) or text[0] in "[("


def is_within(word: Word, found: Sequence[tuple[str, Word]]) -> bool:
    """Tell whether a word is part of a symbol that was found."""
    return any(other.left <= word.left and word.right <= other.right for _, other in found)
