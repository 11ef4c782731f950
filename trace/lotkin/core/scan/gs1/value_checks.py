"""The checks that the GS1 Barcode Syntax Dictionary names for components of a value.

Each check takes the component and says what is wrong with it; "" if nothing is. Lists that change
often and mean nothing to a works (currencies, kinds of packages and of media, coupons) are not
looked into; such values are read as they are.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from lotkin.core.plan.countries import COUNTRIES
from lotkin.core.scan.days import date_problem
from lotkin.core.scan.gs1.check_digits import check_digit_problem, check_pair_problem
from lotkin.core.scan.gs1.country_numbers import COUNTRY_NUMBERS
from lotkin.core.values.codes import weighted_sum

if TYPE_CHECKING:
    from collections.abc import Callable, Container, Mapping

__all__ = ["NOT_LOOKED_INTO", "VALUE_CHECKS"]

NOT_LOOKED_INTO = frozenset({"iso4217", "packagetype", "mediatype", "couponcode", "couponposoffer"})

SHORTEST_PREFIX = 4
"""Digits of the shortest GS1 company prefix."""


def _matches(pattern: str, problem: str) -> Callable[[str], str]:
    compiled = re.compile(pattern)
    return lambda text: "" if compiled.fullmatch(text) else problem


def _listed(known: Container[str], problem: str) -> Callable[[str], str]:
    return lambda text: "" if text in known else problem


def _up_to(highest: int, problem: str) -> Callable[[str], str]:
    return lambda text: "" if text.isdecimal() and int(text) <= highest else problem


def _begins_with_prefix(text: str) -> str:
    return _matches(rf"[0-9]{{{SHORTEST_PREFIX}}}.*", "begins with no GS1 company prefix")(text)


def _piece_of_total(text: str) -> str:
    half = len(text) // 2
    piece, total = int(text[:half]), int(text[half:])
    return "" if 0 < piece <= total else "is no piece number and total, like 0203"


def _place_in_sequence(text: str) -> str:
    found = re.fullmatch(r"([1-9][0-9]*)/([1-9][0-9]*)", text)
    fits = found is not None and int(found[1]) <= int(found[2])
    return "" if fits else "is no place in a sequence, like 2/3"


def _iban(text: str) -> str:
    if not re.fullmatch(r"[A-Z]{2}[0-9]{2}[A-Z0-9]{10,30}", text) or text[:2] not in COUNTRIES:
        return "is no IBAN"
    turned = text[4:] + text[:4]
    digits = [int(digit) for character in turned for digit in str(int(character, 36))]
    return "" if weighted_sum(digits, 97, 10) == 1 else "is an IBAN with wrong check digits"


_HOUR = _matches("([01][0-9]|2[0-3])", "has no such hour")
_SIXTIETH = _matches("[0-5][0-9]", "has no such minute or second")

VALUE_CHECKS: Mapping[str, Callable[[str], str]] = {
    "csum": check_digit_problem,
    "csumalpha": check_pair_problem,
    "gcppos1": _begins_with_prefix,
    "gcppos2": lambda text: _begins_with_prefix(text[1:]),
    "hasnondigit": _matches(r".*[^0-9].*", "must have a character that is no digit"),
    "hh": _HOUR,
    "hhmi": _matches("([01][0-9]|2[0-3])[0-5][0-9]", "has no such time of day"),
    "hyphen": _matches("-", "must be a hyphen"),
    "iban": _iban,
    "importeridx": _matches("[-0-9A-Z_a-z]", "is no importer index"),
    "iso3166": _listed(COUNTRY_NUMBERS, "is no country number of ISO 3166"),
    "iso3166999": _listed(COUNTRY_NUMBERS | {"999"}, "is no country number of ISO 3166, nor 999"),
    "iso3166alpha2": _listed(COUNTRIES, "is no country of ISO 3166 in two letters"),
    "iso5218": _matches("[0129]", "is none of 0, 1, 2 and 9"),
    "latitude": _up_to(1_800_000_000, "is no latitude"),
    "longitude": _up_to(3_600_000_000, "is no longitude"),
    "mi": _SIXTIETH,
    "nonzero": _matches("0*[1-9][0-9]*", "must not be zero"),
    "nozeroprefix": _matches("[1-9][0-9]*", "must not begin with a zero"),
    "pcenc": _matches("([^%]|%[0-9A-Fa-f]{2})*", "has a % without two hexadecimal digits after it"),
    "pieceoftotal": _piece_of_total,
    "posinseqslash": _place_in_sequence,
    "ss": _SIXTIETH,
    "winding": _matches("[019]", "is none of 0, 1 and 9"),
    "yesno": _matches("[01]", "must be 0 or 1"),
    "yymmd0": lambda text: date_problem(text, day_zero=True),
    "yymmdd": lambda text: date_problem(text, day_zero=False),
    "yyyymmdd": lambda text: date_problem(text, day_zero=False),
    "zero": _matches("0", "must be 0"),
}
