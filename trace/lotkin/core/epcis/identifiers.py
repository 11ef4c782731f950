"""Identifiers of GS1 in their two forms: EPC URNs, and Digital Link addresses.

`normal_form` brings both to the one that events are hashed in. Sources: EPC Tag Data Standard for
the URNs, GS1 Digital Link URI Syntax for the addresses, CBV 2.0 (ISO/IEC 19988) for the normal
form: `https://id.gs1.org`, the finest key alone, no attributes.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.scan.gs1.check_digits import check_digit

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["STEM", "normal_form", "parts_of"]

STEM = "https://id.gs1.org"

SHORT_NAMES = {
    "gtin": "01",
    "itip": "8006",
    "cpid": "8010",
    "gln": "414",
    "party": "417",
    "gsrnp": "8017",
    "gsrn": "8018",
    "gcn": "255",
    "sscc": "00",
    "gdti": "253",
    "ginc": "401",
    "gsin": "402",
    "grai": "8003",
    "giai": "8004",
    "cpv": "22",
    "lot": "10",
    "ser": "21",
}
KEYS = frozenset("00 01 253 255 401 402 414 417 8003 8004 8006 8010 8017 8018".split())
FINEST_FIRST = {
    "01": ("21", "235", "10"),
    "8006": ("21", "10"),
    "414": ("254",),
    "8010": ("8011",),
}
"""Qualifiers of a key that make it finer; the consumer variant (22) does not."""

GTIN_DIGITS = 14
ENCODED = str.maketrans(
    {"!": "%21", "(": "%28", ")": "%29", "*": "%2A", "+": "%2B", ",": "%2C", ":": "%3A"}
)
"""Characters that a URN may hold as they are, and a path of an address may not."""

URN = re.compile(r"urn:epc:(id|class|idpat):([a-z]+):(.+)")


def _digits(text: str) -> str:
    """Give digits with their check digit."""
    return text + str(check_digit(text))


def _indicator_first(prefix: str, reference: str) -> str:
    return reference[:1] + prefix + reference[1:]


def _gtin(prefix: str, reference: str) -> str:
    return f"/01/{_digits(_indicator_first(prefix, reference))}"


def _gln(ai: str, prefix: str, reference: str) -> str:
    return f"/{ai}/{_digits(prefix + reference)}"


class _Scheme(NamedTuple):
    """How the parts of a URN become a path.

    Attributes:
        digits: Of prefix and reference together; 0 if the second is no number.
        path: Makes it of the parts between the dots.
        parts: How many there are.
    """

    digits: int
    path: Callable[[list[str]], str]
    parts: int = 3


def _extended(path: str, ai: str, value: str) -> str:
    return path if value in ("", "*") else f"{path}/{ai}/{value.translate(ENCODED)}"


SCHEMES: dict[str, _Scheme] = {
    "sgtin": _Scheme(13, lambda p: _extended(_gtin(p[0], p[1]), "21", p[2])),
    "lgtin": _Scheme(13, lambda p: _extended(_gtin(p[0], p[1]), "10", p[2])),
    "upui": _Scheme(13, lambda p: _extended(_gtin(p[0], p[1]), "235", p[2])),
    "sscc": _Scheme(17, lambda p: f"/00/{_digits(_indicator_first(p[0], p[1]))}", 2),
    "sgln": _Scheme(
        12, lambda p: _extended(_gln("414", p[0], p[1]), "254", "" if p[2] == "0" else p[2])
    ),
    "pgln": _Scheme(12, lambda p: _gln("417", p[0], p[1]), 2),
    "grai": _Scheme(12, lambda p: f"/8003/0{_digits(p[0] + p[1])}{_tail(p[2])}"),
    "giai": _Scheme(0, lambda p: f"/8004/{p[0]}{_tail(p[1])}", 2),
    "gsrn": _Scheme(17, lambda p: f"/8018/{_digits(p[0] + p[1])}", 2),
    "gsrnp": _Scheme(17, lambda p: f"/8017/{_digits(p[0] + p[1])}", 2),
    "gdti": _Scheme(12, lambda p: f"/253/{_digits(p[0] + p[1])}{_tail(p[2])}"),
    "sgcn": _Scheme(12, lambda p: f"/255/{_digits(p[0] + p[1])}{_tail(p[2])}"),
    "cpi": _Scheme(0, lambda p: _extended(f"/8010/{p[0]}{_tail(p[1])}", "8011", p[2])),
    "ginc": _Scheme(0, lambda p: f"/401/{p[0]}{_tail(p[1])}", 2),
    "gsin": _Scheme(16, lambda p: f"/402/{_digits(p[0] + p[1])}", 2),
    "itip": _Scheme(
        13,
        lambda p: _extended(
            f"/8006/{_digits(_indicator_first(p[0], p[1]))}{p[2]}{p[3]}", "21", p[4]
        ),
        5,
    ),
}


def _tail(value: str) -> str:
    return "" if value == "*" else value.translate(ENCODED)


def normal_form(uri: str) -> str:
    """Give the canonical Digital Link of an identifier of GS1; any other text as it is.

    Example:
        >>> normal_form("urn:epc:id:sgtin:9521141.012345.4711")
        'https://id.gs1.org/01/09521141123454/21/4711'
        >>> normal_form("https://shop.example/gtin/9521141123454/lot/A7?11=260101")
        'https://id.gs1.org/01/09521141123454/10/A7'
    """
    return _of_urn(uri) or _of_address(uri) or uri


def parts_of(uri: str) -> dict[str, str]:
    """Give what an identifier of GS1 says, by application identifier; {} if it is none.

    Percent signs stay as they are.
    """
    normal = normal_form(uri)
    if not normal.startswith(f"{STEM}/"):
        return {}
    steps = normal.removeprefix(f"{STEM}/").split("/")
    return dict(zip(steps[::2], steps[1::2], strict=False))


def _of_urn(uri: str) -> str:
    found = URN.fullmatch(uri)
    scheme = SCHEMES.get(found[2]) if found else None
    if found is None or scheme is None:
        return ""
    # the last part may hold dots of its own
    parts = found[3].split(".", scheme.parts - 1)
    if len(parts) != scheme.parts or not parts[0].isdecimal() or not 6 <= len(parts[0]) <= 12:
        return ""
    reference = parts[1]
    if scheme.digits and (
        len(parts[0] + reference) != scheme.digits or not (parts[0] + reference).isdecimal()
    ):
        return ""
    return STEM + scheme.path(parts)


def _of_address(uri: str) -> str:
    if not re.match(r"https?://[^/?#]+/", uri):
        return ""
    path = re.split(r"[?#]", uri.split("://", 1)[1], maxsplit=1)[0]
    steps = [SHORT_NAMES.get(step, step) for step in path.split("/")[1:]]
    for at, key in enumerate(steps[:-1]):
        if key in KEYS and re.fullmatch(r"\d{4}[^/]+", steps[at + 1]):
            return _finest(key, steps[at + 1], steps[at + 2 :])
    return ""


def _finest(key: str, value: str, rest: list[str]) -> str:
    if key == "01":
        if not value.isdecimal() or len(value) not in (8, 12, 13, 14):
            return ""
        value = value.zfill(GTIN_DIGITS)
    said = dict(zip(rest[::2], rest[1::2], strict=False))
    for ai in FINEST_FIRST.get(key, ()):
        if ai in said:
            return f"{STEM}/{key}/{value}/{ai}/{said[ai]}"
    return f"{STEM}/{key}/{value}"
