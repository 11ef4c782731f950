"""GS1 element strings: as a barcode carries them, and as they are printed with brackets."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from lotkin.core.scan.characters import GS, shown
from lotkin.core.scan.gs1.ai_table import application_identifiers, identifier_at
from lotkin.core.scan.gs1.associations import association_problem
from lotkin.core.scan.gs1.components import cut, value_problem
from lotkin.core.scan.gs1.elements import Element
from lotkin.core.scan.refusal import NotReadableError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.scan.gs1.ai_table import ApplicationIdentifier

__all__ = [
    "bracketed",
    "element_string",
    "read_bracketed",
    "read_element_string",
    "read_message_elements",
]

_BRACKETED = re.compile(r"\((?P<ai>[0-9]{2,4})\)(?P<value>(?:[^()\\]|\\[()])*)")


def read_element_string(text: str) -> tuple[Element, ...]:
    """Read an element string without symbology identifier; GS stands for FNC1.

    A separator where none is needed is tolerated after an element, but not an empty element.

    Raises:
        NotReadableError: It breaks a rule of the GS1 Barcode Syntax Dictionary.
    """
    return checked_together(_elements(text))


def read_message_elements(text: str) -> tuple[tuple[Element, ...], tuple[str, ...]]:
    """Read what a message of format 05 holds: (elements, warnings).

    Elements that others need in a GS1 barcode may be missing there; it is told in a warning.
    Source: ISO/IEC 15434 takes any Application Identifiers in format 05; MIL-STD-130N shows such
    a label without a GTIN.

    Raises:
        NotReadableError: It breaks another rule of the GS1 Barcode Syntax Dictionary.
    """
    elements = _elements(text)
    lacking = association_problem(elements)
    problem = association_problem(elements, may_lack=True)
    if problem:
        raise NotReadableError(problem)
    return tuple(elements), (lacking,) if lacking else ()


def _elements(text: str) -> list[Element]:
    if not text:
        raise NotReadableError("there is no data in it")
    elements: list[Element] = []
    while text:
        entry = identifier_at(text)
        if entry is None:
            msg = f"no GS1 Application Identifier begins {shown(text, 8)}"
            raise NotReadableError(msg)
        rest = text[len(entry.ai) :].partition(GS)[0]
        value = "".join(part for _, part in cut(entry.components, rest))
        text = text[len(entry.ai) + len(value) :]
        if entry.needs_separator and text and not text.startswith(GS):
            msg = f"AI ({entry.ai}) is too long, or a separator after it got lost"
            raise NotReadableError(msg)
        text = text.removeprefix(GS)
        elements.append(_checked(entry, value))
    return elements


def read_bracketed(text: str) -> tuple[Element, ...]:
    r"""Read an element string as it is printed: `(01)09521234543213(10)ABC`.

    A bracket that belongs to the data is written `\(` or `\)`; one that is not leaves open where
    an element ends, so it is refused. Blanks around a value are left out; no value may have any.

    Raises:
        NotReadableError: It breaks a rule, or is not clearly of this form.
    """
    elements: list[Element] = []
    at = 0
    while at < len(text):
        found = _BRACKETED.match(text, at)
        if found is None:
            msg = f"the brackets do not tell the elements apart at {shown(text[at:], 12)}"
            raise NotReadableError(msg)
        entry = application_identifiers().get(found["ai"])
        if entry is None:
            msg = f"({found['ai']}) is no GS1 Application Identifier"
            raise NotReadableError(msg)
        value = found["value"].replace("\\", "").strip(" ")
        elements.append(_checked(entry, value))
        at = found.end()
    return checked_together(elements)


def checked_together(elements: Sequence[Element]) -> tuple[Element, ...]:
    """Give the elements if they may stand together.

    Raises:
        NotReadableError: They may not.
    """
    problem = association_problem(elements)
    if problem:
        raise NotReadableError(problem)
    return tuple(elements)


def checked_element(ai: str, value: str) -> Element:
    """Make an element of a known identifier.

    Raises:
        NotReadableError: The value is none of it.
    """
    return _checked(application_identifiers()[ai], value)


def element_string(elements: Sequence[Element]) -> str:
    """Write elements as a barcode carries them, without symbology identifier.

    Raises:
        ValueError: An element is wrong by itself, or they must not stand together.

    Example:
        >>> element_string([Element("01", "09521234543213"), Element("10", "ABC123")])
        '010952123454321310ABC123'
    """
    checked_together([_known(each) for each in elements])
    written = ""
    for number, element in enumerate(elements, start=1):
        entry = application_identifiers()[element.ai]
        written += element.ai + element.value
        if entry.needs_separator and number < len(elements):
            written += GS
    return written


def bracketed(elements: Sequence[Element]) -> str:
    """Write elements as they are printed below a barcode, for people.

    Example:
        >>> bracketed([Element("01", "09521234543213"), Element("10", "ABC123")])
        '(01)09521234543213(10)ABC123'
    """
    escaped = {ord("("): r"\(", ord(")"): r"\)"}
    return "".join(f"({each.ai}){each.value.translate(escaped)}" for each in elements)


def _known(element: Element) -> Element:
    if element.ai not in application_identifiers():
        msg = f"({element.ai}) is no GS1 Application Identifier"
        raise NotReadableError(msg)
    return checked_element(element.ai, element.value)


def _checked(entry: ApplicationIdentifier, value: str) -> Element:
    problem = value_problem(entry.components, value)
    if problem:
        msg = f"AI ({entry.ai}) {problem}"
        raise NotReadableError(msg)
    return Element(entry.ai, value)
