"""GS1 Digital Link: element data in a web address."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple
from urllib.parse import quote, unquote, unquote_plus

from lotkin.core.scan.gs1.ai_table import application_identifiers
from lotkin.core.scan.gs1.element_string import checked_element, checked_together, element_string
from lotkin.core.scan.refusal import NotReadableError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.scan.gs1.elements import Element

__all__ = ["CANONICAL_STEM", "digital_link", "holds_key", "read_digital_link"]

CANONICAL_STEM = "https://id.gs1.org"

_ADDRESS = re.compile(
    r"(?P<site>https?://[A-Za-z0-9.:\[\]-]+)(?P<path>/[^?#]*)(\?(?P<query>[^#]*))?(#.*)?",
    re.IGNORECASE | re.ASCII,
)
_CHARACTERS = re.compile(r"[A-Za-z0-9._~:/?#\[\]@!$&'()*+,;=%-]*")
_SHORT_GTIN = (8, 12, 13)


class LinkData(NamedTuple):
    """What a Digital Link holds: the address before the data, and the data."""

    stem: str
    elements: tuple[Element, ...]


def holds_key(url: str) -> bool:
    """Tell whether the path of an address ends with GS1 data, right or wrong."""
    found = _ADDRESS.fullmatch(url)
    return found is not None and _pairs(found["path"])[1] != []


def read_digital_link(url: str) -> LinkData:
    """Read a GS1 Digital Link URI, uncompressed.

    The path holds a key and its qualifiers in their order, the query all other elements. Keys of
    the query that are not all digits mean nothing here and are passed over. In the path a plus is
    a plus, in the query it is a blank.

    Raises:
        NotReadableError: It breaks a rule of GS1 Digital Link or of the syntax dictionary.

    Source: GS1 Digital Link Standard: URI Syntax, 1.x; the verdicts agree with those of the GS1
    Barcode Syntax Engine.
    """
    found = _ADDRESS.fullmatch(url)
    if found is None or not _CHARACTERS.fullmatch(url):
        raise NotReadableError("it is no web address with a path")
    before, pairs = _pairs(found["path"])
    if not pairs:
        raise NotReadableError("there is no GS1 key in its path")
    path = [checked_element(ai, unquote(value)) for ai, value in pairs]
    sequence = tuple(each.ai for each in path)
    paths = application_identifiers()[sequence[0]].paths
    if sequence[1:] not in paths:
        raise NotReadableError("the qualifiers in its path do not belong to the key, or in order")
    query = _query(found["query"] or "")
    _check_query(sequence, [each.ai for each in query])
    return LinkData(found["site"] + before, checked_together([*path, *query]))


def _pairs(path: str) -> tuple[str, list[tuple[str, str]]]:
    """Divide a path into what comes before the data, and the data from its last key on."""
    segments = path.split("/")[1:]
    at = len(segments) - 2
    while at >= 0:
        entry = application_identifiers().get(segments[at])
        if entry is None:
            break
        if entry.paths:
            pairs = list(zip(segments[at::2], segments[at + 1 :: 2], strict=True))
            return "".join(f"/{each}" for each in segments[:at]), pairs
        at -= 2
    return path, []


def _query(query: str) -> list[Element]:
    elements = []
    for parameter in query.split("&"):
        key, equals, value = parameter.partition("=")
        if not equals or not re.fullmatch(r"[0-9]+", key):
            continue
        if key not in application_identifiers():
            msg = f"{key[:8]} in its query is no GS1 Application Identifier"
            raise NotReadableError(msg)
        plain = unquote_plus(value)
        if key == "01" and len(plain) in _SHORT_GTIN:
            plain = plain.zfill(14)
        elements.append(checked_element(key, plain))
    return elements


def _check_query(path: tuple[str, ...], query: Sequence[str]) -> None:
    """Check that what stands in the query may, and does not belong into the path.

    Raises:
        NotReadableError: It does not, or an element is there twice.
    """
    key, *qualifiers = path
    paths = application_identifiers()[key].paths
    for number, ai in enumerate(query):
        if ai in path or ai in query[:number]:
            msg = f"AI ({ai}) is there twice"
            raise NotReadableError(msg)
        if not application_identifiers()[ai].in_query:
            msg = f"AI ({ai}) must not stand in the query"
            raise NotReadableError(msg)
        for place in range(len(qualifiers) + 1):
            if (*qualifiers[:place], ai, *qualifiers[place:]) in paths:
                msg = f"AI ({ai}) belongs into the path"
                raise NotReadableError(msg)


def digital_link(elements: Sequence[Element], stem: str = CANONICAL_STEM) -> str:
    """Write elements as a Digital Link.

    Args:
        elements: The first one that can be a key becomes it; qualifiers of it go into the path,
            all others into the query, those of fixed length first.
        stem: The address to begin with.

    Raises:
        ValueError: There is no key, an element has no place, or they must not stand together.

    Example:
        >>> from lotkin.core.scan.gs1.elements import Element
        >>> digital_link([Element("01", "09521234543213"), Element("10", "LOT/7")])
        'https://id.gs1.org/01/09521234543213/10/LOT%2F7'
    """
    element_string(elements)  # checks them
    values = {each.ai: each.value for each in elements}
    key = next((ai for ai in values if application_identifiers()[ai].paths), None)
    if key is None:
        raise NotReadableError("no element can be the key of a Digital Link")
    path, rest = _placed(key, list(values))
    query = "&".join(f"{ai}={quote(values[ai], safe='')}" for ai in rest)
    data = "".join(f"/{ai}/{quote(values[ai], safe='')}" for ai in path)
    return stem.rstrip("/") + data + (f"?{query}" if query else "")


def _placed(key: str, there: Sequence[str]) -> tuple[tuple[str, ...], list[str]]:
    """Divide identifiers into those of the path and those of the query.

    Raises:
        NotReadableError: One of them has no place beside the others.
    """
    table = application_identifiers()
    problem = NotReadableError("the elements have no place in one Digital Link")
    for qualifiers in sorted(table[key].paths, key=lambda each: (-len(each), each)):
        path = (key, *qualifiers)
        rest = sorted(
            {*there} - {*path}, key=lambda ai: (table[ai].needs_separator, there.index(ai))
        )
        if {*there}.issuperset(path):
            try:
                _check_query(path, rest)
            except NotReadableError as reason:
                problem = reason
            else:
                return path, rest
    raise problem
