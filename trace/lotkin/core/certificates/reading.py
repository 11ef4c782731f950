"""Reading a certificate: what it seems to say, for somebody to confirm."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.certificates.cells import element_of, property_of
from lotkin.core.certificates.fields import (
    Found,
    find_diameter,
    find_grades,
    find_heats,
    find_length,
    find_type,
)
from lotkin.core.certificates.powder import (
    EXPIRY_UNCLEAR,
    find_batches,
    find_expiries,
    find_moisture,
)
from lotkin.core.certificates.symbols_in_line import Reader
from lotkin.core.certificates.tables import Row, read_rows

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.certificates.words import Line

__all__ = ["CertificateReading", "read_certificate"]

COMPOSITION = Reader(element_of, longest=1, least=3, least_pairs=3, largest=Decimal(100))
STRENGTH = Reader(
    property_of, longest=3, least=2, least_pairs=1, largest=Decimal(3500), takes_zero=False
)
MOST_PERCENT = 100
SUM_AT_MOST = Decimal(101)
OTHER = re.compile(r"[^0-9A-Z]")
NUMBERED = re.compile(r"(?=[A-Z/-]*\d)[A-Z0-9/-]{4,}", re.IGNORECASE)
"""A word in a label that can be the number of a heat."""

PART = re.compile(r"[\s/:;,()]+")
BY_POSITION = re.compile(
    r"\b(?:pos|position|posizione|poste|pozice|poz|item|line|lot|los|lotto|size|dim\w*|ø)\b",
    re.IGNORECASE,
)
OF_PRODUCT = re.compile(r"\b(?:product|piece|check|stück\w*)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class CertificateReading:
    """What a certificate seems to say. It is a proposal: nothing of it counts unseen.

    Attributes:
        lines: All that stands on it; empty for a picture.
        certificate_type: By EN 10204; None if it is not clear.
        heats: All heats named.
        grades: All grades named.
        diameter_mm, length_mm: Of the bars; None if it is not clear.
        batches: All numbers of the supplier's own lots named.
        expiries: All days of expiry named, like 2028-11-07.
        moisture_percent: By mass; None if it is not clear.
        analyses, tests: Rows of results: mass % by element, results by property.
        notes: What could not be read, in words.
    """

    lines: tuple[str, ...] = ()
    certificate_type: Found | None = None
    heats: tuple[Found, ...] = ()
    grades: tuple[Found, ...] = ()
    diameter_mm: Found | None = None
    length_mm: Found | None = None
    batches: tuple[Found, ...] = ()
    expiries: tuple[Found, ...] = ()
    moisture_percent: Found | None = None
    analyses: tuple[Row, ...] = ()
    tests: tuple[Row, ...] = ()
    notes: tuple[str, ...] = field(default=())

    @property
    def names_expiry(self) -> bool:
        """Tell whether an expiry stands on it, be it clear or not."""
        return bool(self.expiries) or any(note.startswith(EXPIRY_UNCLEAR) for note in self.notes)

    def names(self, number: str) -> bool:
        """Tell whether a number or name stands anywhere on it, spaces and dashes aside.

        It may be torn into a few words, or be a part of a longer one, `48213/2`.
        """
        wanted = _bare(number)
        return bool(wanted) and any(wanted in _joined(line) for line in self.lines)

    def composition_of(self, heat: str = "") -> dict[str, Decimal]:
        """Give the composition of a heat, or of the only one; {} if that is not clear."""
        ladle = [row for row in self.analyses if not OF_PRODUCT.search(row.label)]
        rows = self._rows_of(heat, ladle)
        values: dict[str, Decimal] = {}
        for row in rows or self._rows_of(heat, self.analyses):
            for element, value in row.values.items():
                if values.setdefault(element, value) != value:
                    return {}
        return values if sum(values.values()) <= SUM_AT_MOST else {}

    def results_of(self, heat: str = "") -> dict[str, tuple[Decimal, ...]]:
        """Give the results of a heat, or of the only one, in the order of the rows."""
        values: dict[str, list[Decimal]] = {}
        for row in self._rows_of(heat, self.tests):
            for name, value in row.values.items():
                values.setdefault(name, []).append(value)
        return {name: tuple(results) for name, results in values.items()}

    def _rows_of(self, heat: str, rows: Sequence[Row]) -> Sequence[Row]:
        """Choose the rows of a heat; none where several heats or materials are on one paper.

        There, and where rows are told apart by position or item, a row that does not name its heat
        may be that of another.
        """
        named = [row for row in rows if heat and _bare(heat) in _bare(row.label)]
        if named:
            return named
        by_position = {_bare(row.label) for row in rows if BY_POSITION.search(row.column)}
        if len(self.heats) > 1 or len(self.grades) > 1 or len(by_position) > 1:
            return []
        return _rows_of(heat, rows)


def read_certificate(lines: Sequence[Line]) -> CertificateReading:
    """Read what a certificate says of type, heat, grade, dimensions, composition and strength.

    Never raises, whatever the text; what is not clear is left out and noted.
    """
    notes: list[str] = []
    analyses = _results("composition", read_rows(lines, COMPOSITION), notes)
    tests = _results("strength", read_rows(lines, STRENGTH), notes)
    expiries, moisture = find_expiries(lines, notes), find_moisture(lines, notes)
    return CertificateReading(
        lines=tuple(line.text for line in lines),
        certificate_type=find_type(lines),
        heats=tuple(find_heats(lines)),
        grades=tuple(find_grades(lines)),
        diameter_mm=find_diameter(lines),
        length_mm=find_length(lines),
        batches=tuple(find_batches(lines)),
        expiries=tuple(expiries),
        moisture_percent=moisture,
        analyses=analyses,
        tests=tests,
        notes=tuple(notes),
    )


def _results(what: str, rows: Sequence[Row], notes: list[str]) -> tuple[Row, ...]:
    """Leave rows of limits out, and note those that could not be read."""
    results = [_possible(row) for row in rows if not row.is_limit]
    notes += [f"{what}: {row.problem}: {row.line[:80]}" for row in results if row.problem]
    return tuple(row for row in results if row.values)


def _possible(row: Row) -> Row:
    """Refuse results that no test gives: their columns were taken for one another.

    A proof strength is a stress during the test and the tensile strength the largest of them.
    Source: ISO 6892-1, terms and definitions.
    """
    strongest = row.values.get("Rm")
    for symbol in ("Rp0.2", "Rp1.0", "ReH"):
        value = row.values.get(symbol)
        if strongest is not None and value is not None and value > strongest:
            return Row(row.label, line=row.line, problem=f"{symbol} above Rm cannot be")
    for symbol in ("A", "A50", "Z"):
        if row.values.get(symbol, 0) > MOST_PERCENT:
            return Row(row.label, line=row.line, problem=f"{symbol} above 100 % cannot be")
    return row


def _rows_of(heat: str, rows: Sequence[Row]) -> Sequence[Row]:
    """Choose the rows that name no heat, where none names the one wanted.

    Rows with several labels are of several heats or pieces: without a heat nobody can choose.
    """
    without = [row for row in rows if not NUMBERED.search(row.label)]
    if without:
        return without
    labels = {_bare(row.label) for row in rows}
    return rows if len(labels) == 1 and not heat else []


def _joined(line: str) -> set[str]:
    """Give the words of a line, their parts, and up to four neighbours in one."""
    words = [_bare(word) for word in line.split()]
    whole = {
        "".join(words[start:end])
        for start in range(len(words))
        for end in range(start + 1, min(start + 5, len(words) + 1))
    }
    return whole | {_bare(part) for part in PART.split(line)}


def _bare(text: str) -> str:
    return OTHER.sub("", text.upper())
