"""Cells of tables on certificates: what a word says as a number, a limit, or nothing."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.materials.symbols import PROPERTIES

if TYPE_CHECKING:
    from lotkin.core.certificates.words import Word

__all__ = ["Cell", "cell_of", "element_of", "is_scale", "is_unit", "property_of"]

NUMBER = re.compile(r"(<|≤|<=|>|≥|>=)?(\d{1,4}(?:[.,]\d{1,6})?|[.,]\d{1,6})%?")
RANGE = re.compile(
    r"\d{1,4}(?:[.,]\d{1,6})?%?(?:-|\u2013|\u2014|\.\.\.|…|÷|/)\d{1,4}(?:[.,]\d{1,6})?%?"
)
NOTHING = re.compile(
    r"[-\u2013\u2014.·*/]{1,4}|n\.?[ad]\.?|r\.?|rest[eo]?|rem\.?|bal\.?|balance|remainder|"
    r"differenza|diff\.?|basis|base|zbytek|reszta",
    re.IGNORECASE,
)
SCALE = re.compile(
    r"(?:^|[\s(\[])"
    r"(?:[x\u00d7*·/] ?10{1,6}\b"
    r"|[x\u00d7*·]? ?10 ?\^? ?[-\u2013]\d(?!\d)"
    r"|10[⁻²³⁴]|ppm|ksi|psi|kgf?/mm)",
    re.IGNORECASE,
)
UNIT = re.compile(
    r"[\[(]?(?:%|mass-?%|wt\.?-?%|weight|mass|in|n/mm[2²]|mpa|hb[ws]?|hv(?:\d+)?|hrc|hrb)[\])]?",
    re.IGNORECASE,
)
EDGES = "[](){}:;,=*%"

ALLOYING = (
    "C Si Mn P S Cr Mo Ni Al Co Cu Nb Ti V W Pb Sn Zn Fe Mg Bi As Sb Be B N O H Zr Ca Ce Ta Te Se "
    "Ag Cd Ga Li Na Sr"
).split()
ELEMENT_BY_SPELLING = {s: e for e in ALLOYING for s in (e, e.upper())}
"""Elements that a certificate of metal names; some printers know capitals only."""

OTHER_SPELLINGS = {
    "RE": "ReH",
    "REH": "ReH",
    "RP02": "Rp0.2",
    "RE02": "Rp0.2",
    "R02": "Rp0.2",
    "RP10": "Rp1.0",
    "RP1": "Rp1.0",
    "A5": "A",
    "A50MM": "A50",
    "HB": "HBW",
    "HBS": "HBW",
    "BRINELL": "HBW",
}
PROPERTY_BY_SPELLING: dict[str, str] = {
    **{re.sub(r"[^0-9A-Z]", "", symbol.upper()): symbol for symbol in PROPERTIES},
    **OTHER_SPELLINGS,
}


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands at one place of a table.

    Attributes:
        word: As written.
        value: The number; None where nothing is stated or a limit stands.
        is_limit: It is a limit or a range, not a result.
    """

    word: Word
    value: Decimal | None
    is_limit: bool = False


def cell_of(word: Word) -> Cell | None:
    """Read a word as a cell; None if it is text.

    Below a limit of detection (`<0.001`) the limit is taken: no more than that is in it.
    """
    text = word.text.strip("[]()").rstrip(",;:")
    number = NUMBER.fullmatch(text)
    if number is not None:
        if number[1] not in (None, "<"):
            return Cell(word, None, is_limit=True)
        return Cell(word, Decimal(number[2].replace(",", ".")))
    if RANGE.fullmatch(text) is not None:
        return Cell(word, None, is_limit=True)
    return Cell(word, None) if NOTHING.fullmatch(text) is not None else None


def element_of(text: str) -> str | None:
    """Read a word as the symbol of an element, e.g. `Mn`, `MN` or `Mn%`; None if it is none."""
    return ELEMENT_BY_SPELLING.get(text.strip(EDGES))


def property_of(text: str) -> str | None:
    """Read a word as the symbol of a property, e.g. `Rp0,2`; None if it is none."""
    bare = text.partition("[")[0].partition("(")[0].strip(EDGES)
    if not bare or bare[0] not in "RAZH" or len(bare) > 12:
        return None
    found = PROPERTY_BY_SPELLING.get(re.sub(r"[^0-9A-Z]", "", bare.upper()))
    if found is None and bare.startswith("HV") and bare[2:].isdigit():
        return "HV"
    return found


def is_unit(text: str) -> bool:
    """Tell whether a word is a unit as it stands below a heading."""
    return UNIT.fullmatch(text) is not None


def is_scale(text: str) -> bool:
    """Tell whether a line says that numbers stand multiplied, or in a unit that is not read.

    >>> is_scale("x100 x1000"), is_scale("Rm [ksi]"), is_scale("Rm [MPa]")
    (True, True, False)
    """
    return SCALE.search(text[:1000]) is not None
