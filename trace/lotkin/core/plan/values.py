"""What may stand behind a key of the plan: codes, names, notes, numbers; and how they are checked.

Every check raises pydantic's `PydanticCustomError` of type `PLAIN` with words that follow the key:
"must be above zero".
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Annotated, TypeAlias

from pydantic import AfterValidator, BeforeValidator, PlainSerializer, Strict
from pydantic_core import PydanticCustomError

from lotkin.core.plan.countries import COUNTRIES
from lotkin.core.plan.gtin import gtin_problem
from lotkin.core.plan.zones import is_timezone

__all__ = [
    "PLAIN",
    "Code",
    "Country",
    "Days",
    "Gtin",
    "Mask",
    "Millimetres",
    "Name",
    "Note",
    "Number",
    "Percent",
    "PositiveMillimetres",
    "PositiveNumber",
    "Readings",
    "Share",
    "Text",
    "Timezone",
    "UnsignedNumber",
    "YesNo",
    "exact_number",
    "is_code",
    "plain_number",
]

PLAIN = "plan_value"
"""Type of the errors raised here."""

_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._:+/-]{0,39}")
_MASK = re.compile(r"[A-Za-z0-9#@?][A-Za-z0-9._:+/#@?-]{0,39}")
_NUMBER = re.compile(r"-?[0-9]{1,20}(\.[0-9]{1,20})?")
_LARGEST = 10**9
_DECIMALS = 6
"""As many as quantities have everywhere in lotkin."""


def is_code(text: str) -> bool:
    """Tell whether a text can be a code: 1 to 40 ASCII letters, digits and `. _ : + / -`."""
    return _CODE.fullmatch(text) is not None


def exact_number(value: object) -> Decimal:
    """Make an exact number of an integer, a `Decimal` or a text of digits.

    Texts are allowed because JSON keeps a decimal number exact only in quotes.

    Returns:
        Without trailing zeros and never in powers of ten, so that equal numbers are written alike.

    Raises:
        PydanticCustomError: Not a number, beyond 10^9, or more than six decimals.
    """
    if isinstance(value, str) and _NUMBER.fullmatch(value):
        value = Decimal(value)
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise PydanticCustomError(PLAIN, "must be a number")
    is_finite = isinstance(value, int) or value.is_finite()
    # Compared before it is converted: Decimal takes long over an integer of a million digits.
    if not is_finite or not -_LARGEST <= value <= _LARGEST:
        raise PydanticCustomError(PLAIN, "must be a number from -1000000000 to 1000000000")
    return _shortest(Decimal(value))


def _shortest(value: Decimal) -> Decimal:
    if value.is_zero():
        return Decimal(0)
    _, digits, exponent = value.as_tuple()
    written = "".join(map(str, digits)).rstrip("0")
    decimals = -int(exponent) - (len(digits) - len(written))
    if decimals > _DECIMALS:
        raise PydanticCustomError(PLAIN, "must not have more than six decimals")
    text = format(value, "f")
    return Decimal(text.rstrip("0").rstrip(".") if "." in text else text)


def plain_number(value: Decimal) -> str:
    """Write a number in digits only: `0.000001`, never `1E-6`."""
    return format(value, "f")


def _code(value: str) -> str:
    if not is_code(value):
        raise PydanticCustomError(
            PLAIN,
            "must be a code: 1 to 40 letters, digits or . _ : + / - without spaces, "
            "beginning with a letter or digit",
        )
    return value


def _mask(value: str) -> str:
    if not _MASK.fullmatch(value) or not set(value) & set("#@?"):
        raise PydanticCustomError(
            PLAIN,
            "must be a code with # for a digit, @ for a capital letter or ? for either, "
            "like DP40-####",
        )
    return value


def _name(value: str) -> str:
    if not value.strip() or len(value) > 200 or not value.isprintable():
        raise PydanticCustomError(PLAIN, "must be one line of 1 to 200 characters")
    return value


def _note(value: str) -> str:
    lines = value.replace("\t", " ").split("\n")
    if not value.strip() or len(value) > 2000 or not all(line.isprintable() for line in lines):
        raise PydanticCustomError(PLAIN, "must be a text of 1 to 2000 characters")
    return value


def _country(value: str) -> str:
    if value not in COUNTRIES:
        raise PydanticCustomError(PLAIN, "must be a country of ISO 3166 in two letters, like CH")
    return value


def _gtin(value: str) -> str:
    problem = gtin_problem(value)
    if problem:
        raise PydanticCustomError(PLAIN, "{problem}", {"problem": problem})
    return value


def _timezone(value: str) -> str:
    if not is_timezone(value):
        raise PydanticCustomError(PLAIN, "must be a time zone by its IANA name, like Europe/Zurich")
    return value


def _above_zero(value: Decimal) -> Decimal:
    if value <= 0:
        raise PydanticCustomError(PLAIN, "must be above zero")
    return value


def _not_negative(value: Decimal) -> Decimal:
    if value < 0:
        raise PydanticCustomError(PLAIN, "must not be below zero")
    return value


def _share(value: Decimal) -> Decimal:
    if not 0 <= value <= 1:
        raise PydanticCustomError(PLAIN, "must be a fraction from 0 to 1")
    return value


def _percent(value: Decimal) -> Decimal:
    if not 0 < value <= 100:
        raise PydanticCustomError(PLAIN, "must be above 0 and at most 100 percent")
    return value


def _micrometres(value: Decimal) -> Decimal:
    if value != round(value, 3):
        raise PydanticCustomError(PLAIN, "must not have more than three decimals of a millimetre")
    return value


def _days(value: int) -> int:
    if not 1 <= value <= 36_525:
        raise PydanticCustomError(PLAIN, "must be a number of days from 1 to 36525")
    return value


def _readings(value: int) -> int:
    if not 1 <= value <= 1000:
        raise PydanticCustomError(PLAIN, "must be a whole number from 1 to 1000")
    return value


Text: TypeAlias = Annotated[str, Strict()]
Code: TypeAlias = Annotated[Text, AfterValidator(_code)]
Mask: TypeAlias = Annotated[Text, AfterValidator(_mask)]
Name: TypeAlias = Annotated[Text, AfterValidator(_name)]
Note: TypeAlias = Annotated[Text, AfterValidator(_note)]
Country: TypeAlias = Annotated[Text, AfterValidator(_country)]
Gtin: TypeAlias = Annotated[Text, AfterValidator(_gtin)]
Timezone: TypeAlias = Annotated[Text, AfterValidator(_timezone)]

Number: TypeAlias = Annotated[
    Decimal,
    BeforeValidator(exact_number),
    PlainSerializer(plain_number, return_type=str, when_used="json"),
]
PositiveNumber: TypeAlias = Annotated[Number, AfterValidator(_above_zero)]
UnsignedNumber: TypeAlias = Annotated[Number, AfterValidator(_not_negative)]
Share: TypeAlias = Annotated[Number, AfterValidator(_share)]
Percent: TypeAlias = Annotated[Number, AfterValidator(_percent)]
Millimetres: TypeAlias = Annotated[UnsignedNumber, AfterValidator(_micrometres)]
PositiveMillimetres: TypeAlias = Annotated[PositiveNumber, AfterValidator(_micrometres)]

YesNo: TypeAlias = Annotated[bool, Strict()]
Days: TypeAlias = Annotated[int, Strict(), AfterValidator(_days)]
Readings: TypeAlias = Annotated[int, Strict(), AfterValidator(_readings)]
