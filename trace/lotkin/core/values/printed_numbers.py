"""Numbers of suppliers as they print them: blanks, umlauts and small letters are kept."""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from urllib.parse import quote

__all__ = ["folded", "in_ascii", "is_code", "is_found_by_case"]

DASHES = dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2212"), "-")
PRINTABLE = frozenset(map(chr, range(0x21, 0x7F)))


@lru_cache(maxsize=65536)
def folded(number: str) -> str:
    """Write a number so that spellings of the same one are equal: case, blanks and dashes aside.

    >>> folded("26 118/73") == folded("26118/73"), folded("äb-1") == folded("ÄB-1")
    (True, True)
    >>> folded("ÄB-1") == folded("AB-1")
    False
    """
    plain = unicodedata.normalize("NFKC", number).translate(DASHES)
    return "".join(plain.split()).upper()


def in_ascii(number: str) -> str:
    """Write a number without blanks in letters that a code may have; two may become one.

    >>> in_ascii("ÄB 1234"), in_ascii("плавка 7")
    ('AB1234', '%D0%9F%D0%9B%D0%90%D0%92%D0%9A%D0%907')
    """
    parted = unicodedata.normalize("NFKD", folded(number))
    letters = (c for c in parted if not unicodedata.combining(c))
    return "".join(c if c in PRINTABLE else quote(c) for c in letters)


def is_code(number: str) -> bool:
    """Tell whether a number has only letters that a code may have.

    >>> is_code("b48213"), is_code("26 118/73")
    (True, False)
    """
    return PRINTABLE.issuperset(number)


def is_found_by_case(number: str) -> bool:
    """Tell whether its folded spelling is the number itself in one case of letters.

    >>> is_found_by_case("b48213"), is_found_by_case("26 118/73")
    (True, False)
    """
    return number in (folded(number), folded(number).lower())
