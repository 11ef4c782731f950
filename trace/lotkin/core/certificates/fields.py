"""What stands on a certificate beside its tables: type, heats, grade, dimensions."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.certificates.en10204 import types_in
from lotkin.core.materials.grades import grades_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin.core.certificates.words import Line

__all__ = ["Found", "find_diameter", "find_grades", "find_heats", "find_length", "find_type"]

LONGEST_LINE = 1000
LABEL_OF_HEAT = re.compile(
    r"\b(?:heat|cast|melt|charge|schmelzen?|coul[ée]e|colata)\b", re.IGNORECASE
)
HEAT = re.compile(
    r"\b(?:heat|cast|melt|charge|schmelzen?|coul[ée]e|colata)\b[\s./-]{0,3}"
    r"(?:(?:heat|cast|melt|charge|schmelze|lot|batch)\b[\s./-]{0,3})?"
    r"(?:(?:number|nummer|no|nr|n[°ºo])[\s.°º]{0,3})?[:#]?\s{0,3}"
    r"([A-Z0-9][A-Z0-9/-]{2,19})(?!\w|[.,]\d)",
    re.IGNORECASE,
)
WORD_OF_HEAT = re.compile(r"[A-Z0-9][A-Z0-9/-]{2,19}", re.IGNORECASE)
LABEL_OF_TYPE = re.compile(
    r"10204|certificate|prüfzeugnis|werkszeugnis|zeugnis|certificat|declaration|test report",
    re.IGNORECASE,
)
LABEL_OF_GRADE = re.compile(
    r"\b(?:(?:steel )?grade|material|alloy|quality|werkstoff|güte|nuance|legierung)\b"
    r"[\s.:]{0,3}(?:no|nr|number)?[.:\s]{0,3}([A-Z0-9][\w .+/-]{2,30})",
    re.IGNORECASE,
)
NUMBER = r"(\d{1,4}(?:[.,]\d{1,3})?)"
DIAMETERS = (
    re.compile(
        rf"(?:[ØøΦ⌀∅]|\b(?:dia|diameter|durchmesser)\b[.:]?)\s{{0,2}}{NUMBER}", re.IGNORECASE
    ),
    re.compile(rf"\b(?:round|rund|rond)\w*(?: bars?)?[\s:]{{1,3}}{NUMBER}", re.IGNORECASE),
    re.compile(
        rf"(?<![\d.,]){NUMBER}\s?(?:mm)?\s?(?:h\d{{1,2}})?\s?[x\u00d7]\s?\d{{3,4}}(?![\d.,])",
        re.IGNORECASE,
    ),
)
LENGTH = re.compile(rf"[x\u00d7]\s?{NUMBER}\s?(?:mm)?(?![\d.,])", re.IGNORECASE)
BAR_MM = (Decimal(500), Decimal(9999))
THICKEST_MM = Decimal(600)


@dataclass(frozen=True, slots=True)
class Found:
    """Something read, and the line that it was read from.

    Attributes:
        value: As it would be recorded.
        line: For whoever confirms it.
        page: Number of the page, from 1.
    """

    value: str
    line: str
    page: int


def find_type(lines: Sequence[Line]) -> Found | None:
    """Find the type of the document; None if it names none, or several."""
    found: dict[str, Found] = {}
    for at, line in enumerate(lines):
        if not LABEL_OF_TYPE.search(line.text[:LONGEST_LINE]):
            continue
        # a form names the standard in one line and the type in the next
        for near in lines[at : at + 2]:
            for kind in types_in(near.text):
                found.setdefault(kind, Found(kind, near.text, near.page))
            if found:
                break
    return next(iter(found.values())) if len(found) == 1 else None


def find_heats(lines: Sequence[Line]) -> list[Found]:
    """Find all numbers of heats, each once, behind the word for it or in the column below it."""
    found: dict[str, Found] = {}
    for at, line in enumerate(lines):
        text = line.text[:LONGEST_LINE]
        for match in HEAT.finditer(text):
            if _is_heat(match[1]):
                found.setdefault(match[1].upper(), Found(match[1], line.text, line.page))
        if LABEL_OF_HEAT.search(text):
            for value, below in _below(lines, at):
                found.setdefault(value.upper(), Found(value, below.text, below.page))
    return list(found.values())


def _is_heat(text: str) -> bool:
    """Tell whether a word can be the number of a heat: a year or a standard is none."""
    return any(c.isdigit() for c in text) and text not in ("10204", "2004", "9001", "100")


def _below(lines: Sequence[Line], at: int) -> Iterable[tuple[str, Line]]:
    """Yield what stands in the column below a word for heat, as long as it can be a number."""
    labels = [word for word in lines[at].words if LABEL_OF_HEAT.fullmatch(word.text.strip(".:"))]
    for label in labels:
        for line in lines[at + 1 : at + 12]:
            under = [w for w in line.words if w.left < label.right and w.right > label.left]
            if line.page != lines[at].page or not under:
                break
            if WORD_OF_HEAT.fullmatch(under[0].text) and _is_heat(under[0].text):
                if len(under[0].text) >= 4:
                    yield under[0].text, line
            elif not under[0].text.strip(".:").isalpha():
                break


def find_grades(lines: Sequence[Line]) -> list[Found]:
    """Find the grades named, by lotkin's own name; else what stands behind the word for it."""
    known: dict[str, Found] = {}
    other: dict[str, Found] = {}
    for line in lines:
        text = line.text[:LONGEST_LINE]
        for grade in grades_in(text):
            known.setdefault(grade.id, Found(grade.id, line.text, line.page))
        for match in LABEL_OF_GRADE.finditer(text):
            name = match[1].strip(" .-/")
            if any(c.isdigit() for c in name):
                other.setdefault(name, Found(name, line.text, line.page))
    return list((known or other).values())


def find_diameter(lines: Sequence[Line]) -> Found | None:
    """Find the diameter of a round bar in mm; None if none is named, or several."""
    for pattern in DIAMETERS:
        found: dict[Decimal, Found] = {}
        for line in lines:
            for match in pattern.finditer(line.text[:LONGEST_LINE]):
                value = Decimal(match[1].replace(",", "."))
                if 0 < value <= THICKEST_MM:
                    found.setdefault(value, Found(_plain(value), line.text, line.page))
        if found:
            return next(iter(found.values())) if len(found) == 1 else None
    return None


def _plain(value: Decimal) -> str:
    """Write a number without zeros at its end and without an exponent: 20, not 2E+1."""
    return f"{value.normalize():f}"


def find_length(lines: Sequence[Line]) -> Found | None:
    """Find the length of a bar in mm, as in `8 x 3000`; None if none is named, or several."""
    found: dict[Decimal, Found] = {}
    for line in lines:
        for match in LENGTH.finditer(line.text[:LONGEST_LINE]):
            value = Decimal(match[1].replace(",", "."))
            if BAR_MM[0] <= value <= BAR_MM[1]:
                found.setdefault(value, Found(format(value, "f"), line.text, line.page))
    return next(iter(found.values())) if len(found) == 1 else None
