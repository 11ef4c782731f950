"""Texts made to fit: cleaned of what cannot be drawn, wrapped into lines, shortened."""

from __future__ import annotations

import unicodedata
from typing import NamedTuple

from lotkin_labels.paper.fonts import MISSING, Face, can_draw, width_mm

__all__ = ["CodeLines", "fit", "shown", "wrap", "wrap_code"]

_ELLIPSIS = "…"
_BREAKS = "-/._:+,;|"
"""A code is broken after one of these where there is one."""


def shown(text: str, face: Face = Face.TEXT) -> str:
    r"""Make a text of one line that a face can draw.

    Blanks of all kinds become one space, invisible format characters go, and what the face cannot
    draw (control characters, scripts that it does not have) is replaced by `MISSING`.

    >>> shown("Łódź\n Ελλάδα")
    'Łódź Ελλάδα'
    """
    joined = " ".join(unicodedata.normalize("NFC", text).split())
    visible = (char for char in joined if unicodedata.category(char) != "Cf")
    return "".join(char if can_draw(char, face) else MISSING for char in visible)


def fit(text: str, face: Face, size_pt: float, *, room_mm: float) -> str:
    """Shorten a text to a width, with an ellipsis where something is left out."""
    text = shown(text, face)
    return text if width_mm(text, face, size_pt) <= room_mm else _cut(text, face, size_pt, room_mm)


def _cut(text: str, face: Face, size_pt: float, room_mm: float) -> str:
    """Keep as much of a text as fits together with an ellipsis."""
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if width_mm(text[:middle].rstrip() + _ELLIPSIS, face, size_pt) <= room_mm:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + _ELLIPSIS


def wrap(
    text: str, face: Face, size_pt: float, *, room_mm: float, most: int | None = None
) -> list[str]:
    """Wrap a text into lines of a width.

    Words longer than a line are broken. With `most`, the last line allowed is shortened.

    Returns:
        No line for a text without visible characters.
    """
    text = shown(text, face)
    lines: list[str] = []
    while text:
        if most is not None and len(lines) == most - 1:
            lines.append(fit(text, face, size_pt, room_mm=room_mm))
            break
        line = _first_line(text, face, size_pt, room_mm)
        lines.append(line.rstrip())
        text = text[len(line) :].lstrip()
    return lines


def _first_line(text: str, face: Face, size_pt: float, room_mm: float) -> str:
    """Take the first line off a text: whole words if one fits, else as many letters as fit."""
    if width_mm(text, face, size_pt) <= room_mm:
        return text
    low, high = 1, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if width_mm(text[:middle], face, size_pt) <= room_mm:
            low = middle
        else:
            high = middle - 1
    if text[low : low + 1] == " ":
        return text[:low]
    space = text.rfind(" ", 0, low)
    return text[:space] if space > 0 else text[:low]


class CodeLines(NamedTuple):
    """A code in lines of one size; put together they are the code, nothing is ever left out."""

    size_pt: float
    lines: tuple[str, ...]


def wrap_code(code: str, *, room_mm: float, largest_pt: float, most: int = 4) -> CodeLines:
    """Set a code as large as the width allows, on few lines.

    A further line is begun only where the lettering would else be under two thirds of the largest
    size; with `most` lines the size is whatever fits.
    """
    code = shown(code, Face.CODE)
    for count in range(1, most + 1):
        lines = _break_code(code, count)
        widest = max(width_mm(line, Face.CODE, 1.0) for line in lines)
        size_pt = min(largest_pt, room_mm / widest)
        if size_pt >= largest_pt * 2 / 3 or count == most:
            break
    return CodeLines(size_pt, tuple(lines))


def _break_code(code: str, count: int) -> list[str]:
    """Break a code into at most `count` lines that are about equally long.

    Lines that end with a mark are worth having one half longer than the others.
    """
    shortest = -(-len(code) // count)
    tries = [_lines_up_to(code, length) for length in range(shortest, len(code) + 1)]
    fitting = [lines for lines in tries if len(lines) <= count]
    at_marks = [
        lines
        for lines in fitting
        if all(line[-1] in _BREAKS for line in lines[:-1])
        and max(map(len, lines)) <= 1.5 * shortest
    ]
    return (at_marks or fitting)[0]


def _lines_up_to(code: str, length: int) -> list[str]:
    lines = []
    while len(code) > length:
        at = max(code.rfind(mark, length // 2, length) for mark in _BREAKS) + 1
        lines.append(code[: at or length])
        code = code[at or length :]
    return [*lines, code]
