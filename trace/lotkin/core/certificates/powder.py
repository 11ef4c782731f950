"""What the certificate of a powder says besides: batch, expiry and moisture."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.certificates.fields import LONGEST_LINE, Found

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.certificates.words import Line

__all__ = ["EXPIRY_UNCLEAR", "find_batches", "find_expiries", "find_moisture"]

BATCH = re.compile(
    r"\b(?:batch|lot|lotto|los|charge|chargen?|partita)"
    r"(?:[\s./-]{0,3}(?:number|numero|numéro|nummer|no|nr|n[°ºo])(?!\w))?[\s.:#°º]{1,4}"
    r"([A-Z0-9][A-Z0-9/-]{2,29})(?!\w|[.,]\d)",
    re.IGNORECASE,
)
EXPIRY = re.compile(
    r"\b(?:best before(?: end)?|use[ -]by|to be used (?:by|before|until)|"
    r"exp(?:iry|iration)(?:[ -]date)?|expires(?: on)?|shelf life until|"
    r"mindestens haltbar bis|haltbar bis|haltbarkeitsdatum|verwendbar bis|verfallsdatum|"
    r"(?:data di )?scadenza|da consumarsi (?:preferibilmente )?entro(?: il)?|"
    r"utilizzare entro(?: il)?|à (?:utiliser|consommer) (?:de préférence )?avant(?: le)?|"
    r"date (?:de péremption|limite d['\u2019]utilisation|d['\u2019]expiration))"
    r"(?: date)?(?![\w-])",
    re.IGNORECASE,
)
OF_OTHERS = re.compile(
    r"certifi|zertifi|zeugnis|iso\b|calibrat|kalibrier|accredit|akkredit|approval|licen[cs]e",
    re.IGNORECASE,
)
"""In front of the word for expiry: it is that of a paper or a gauge, not of the powder."""

BEHIND = r"[\s:.()]{0,4}"
ISO_DAY = re.compile(rf"{BEHIND}(\d{{4}})-(\d{{2}})-(\d{{2}})(?![\w-]|[.,/]\d)")
NUMBERS = re.compile(rf"{BEHIND}(\d{{1,2}})([./])(\d{{1,2}})\2(\d{{4}})(?![\w-]|[.,/]\d)")
NAMED = re.compile(
    rf"{BEHIND}(\d{{1,2}})\.?[ -]([^\W\d_]{{3,10}})\.?[ -](\d{{4}})(?![\w-]|[.,/]\d)"
)
MONTHS: dict[str, int] = {
    name: number
    for number, names in enumerate(
        (
            "jan january januar gennaio gen janvier janv",
            "feb february februar febbraio février févr",
            "mar march märz mrz marzo mars",
            "apr april aprile avril avr",
            "may mai maggio mag",
            "jun june juni giugno giu juin",
            "jul july juli luglio lug juillet juil",
            "aug august agosto ago août",
            "sep sept september settembre set septembre",
            "oct october okt oktober ottobre ott octobre",
            "nov november novembre",
            "dec december dez dezember dicembre dic décembre déc",
        ),
        1,
    )
    for name in names.split()
}
MOISTURE = re.compile(
    r"\b(?:moisture|water content|(?:rest)?feuchte\b|(?:rest)?feuchtigkeit|feuchtegehalt|"
    r"wassergehalt|umidità|contenuto d['\u2019]acqua|humidité|teneur en eau)",
    re.IGNORECASE,
)
OF_THE_AIR = re.compile(
    r"relativ|\br\.? ?[hf]\.?\b|stor(?:e|age)|lager|conserv|stock", re.IGNORECASE
)
METHOD = re.compile(r"\b(?:ISO|DIN|EN|ASTM|IEC)\b[\s/-]*(?:[A-Z]{1,4}[\s/-]*)*\d[\d:.-]*")
PERCENT = re.compile(r"%|percent|prozent")
VALUE = re.compile(r"(?<![\w.,])(\d{1,3}(?:[.,]\d{1,6})?)(?![\w.,])")
LIMITED = re.compile(
    r"[<>≤≥±]|\b(?:max|min|spec|soll|limit|grenz|required|requirement|massimo|target|typical)",
    re.IGNORECASE,
)
MEASURED = re.compile(
    r"\b(?:result|actual|ist(?:wert)?\b|value|wert|found|measured|risultat|résultat)", re.IGNORECASE
)
EXPIRY_UNCLEAR = "expiry: its day is not clear"

COLUMNS = 8
"""Lines above a value in which the heading of its column may stand."""


def find_batches(lines: Sequence[Line]) -> list[Found]:
    """Find all numbers of batches, each once, behind the word for it."""
    found: dict[str, Found] = {}
    for line in lines:
        for match in BATCH.finditer(line.text[:LONGEST_LINE]):
            if any(c.isdigit() for c in match[1]):
                found.setdefault(match[1].upper(), Found(match[1], line.text, line.page))
    return list(found.values())


def find_expiries(lines: Sequence[Line], notes: list[str]) -> list[Found]:
    """Find all days of expiry, each once; what stands there and is not clear is noted.

    A day that two people may read as two days, 07/11/2028, and a month alone are not clear.
    """
    found: dict[str, Found] = {}
    for line in lines:
        text = line.text[:LONGEST_LINE]
        for match in EXPIRY.finditer(text):
            if OF_OTHERS.search(text[: match.start()]):
                continue
            day = _day(text, match.end())
            if day is not None:
                found.setdefault(day.isoformat(), Found(day.isoformat(), line.text, line.page))
            elif any(c.isdigit() for c in text[match.end() :]):
                notes.append(f"{EXPIRY_UNCLEAR}: {line.text[:80]}")
    return list(found.values())


def _day(text: str, start: int) -> date | None:
    """Read the day that stands at a place of a text, if it can be one day only."""
    if iso := ISO_DAY.match(text, start):
        return _date(int(iso[1]), int(iso[2]), int(iso[3]))
    if numbers := NUMBERS.match(text, start):
        first, second = int(numbers[1]), int(numbers[3])
        if numbers[2] == "/" and first != second and first <= 12:
            return None  # 07/11: November in Europe, July in America
        return _date(int(numbers[4]), second, first)
    if named := NAMED.match(text, start):
        return _date(int(named[3]), MONTHS.get(named[2].casefold(), 0), int(named[1]))
    return None


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def find_moisture(lines: Sequence[Line], notes: list[str]) -> Found | None:
    """Find the moisture in percent by mass; None if none is named, or several.

    A limit, a value `< 0.1 %`, one in ppm, and two numbers in one line are no result.
    """
    found: dict[Decimal, Found] = {}
    for at, line in enumerate(lines):
        text = line.text[:LONGEST_LINE]
        named = MOISTURE.search(text)
        if named is None or OF_THE_AIR.search(text):
            continue
        rest = METHOD.sub(" ", text[named.end() :])
        values = VALUE.findall(rest.replace("%", " "))
        is_result = len(values) == 1 and PERCENT.search(rest) and not _is_limit(lines, at)
        value = Decimal(values[0].replace(",", ".")) if is_result else None
        if value is not None and value <= 100:
            found.setdefault(value, Found(f"{value:f}", line.text, line.page))
        elif any(c.isdigit() for c in rest):
            notes.append(f"moisture: its value is not clear: {line.text[:80]}")
    return next(iter(found.values())) if len(found) == 1 else None


def _is_limit(lines: Sequence[Line], at: int) -> bool:
    """Tell whether a line says what is allowed, or stands under such a heading alone."""
    if LIMITED.search(lines[at].text):
        return True
    for line in reversed(lines[max(0, at - COLUMNS) : at]):
        if MEASURED.search(line.text):
            return False
        if LIMITED.search(line.text) and not any(c.isdigit() for c in line.text):
            return True
    return False
