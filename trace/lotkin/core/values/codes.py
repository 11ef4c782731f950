"""Our own codes: short, spoken without confusion, with a check character, and as a QR text.

A code is written in capital letters and digits without 0, 1, I, L and O, so that no character is
taken for another. It is grouped by hyphens, `N6XV-DQZK`; that is its one canonical form. On
reading, small letters are taken too, and the hyphens may be spaces or be left out. Nothing else is
guessed: a code with an O in it is no code, because a guess could lead to another item.

The last character checks the others. The system is a pure one in the manner of ISO 7064, of
modulus 31 and radix 3: the characters, weighted by powers of 3, sum to 1 modulo 31. As 31 is prime
and 3 has the full order of 30 modulo 31, every single wrong character and every exchange of two
characters, neighbours or not, changes the sum, in codes of up to 30 characters.
"""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import quote, urlsplit

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = [
    "ALPHABET",
    "check_value",
    "code_problem",
    "is_own_code",
    "new_code",
    "normalise",
    "number_of",
    "qr_payload",
    "weighted_sum",
]

ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""Characters by value; all of them are in GS1 character set 39 and in the QR alphanumeric mode."""

MODULUS = len(ALPHABET)
RADIX = 3
SHORTEST, LONGEST = 6, 16
GROUP = 4
QR_ALPHANUMERIC = frozenset("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")


def weighted_sum(values: Sequence[int], modulus: int, radix: int) -> int:
    """Sum values weighted by powers of the radix, the last one by 1, modulo the modulus.

    In a pure system of ISO 7064 it is 1 for a right string with its check characters.
    """
    total = 0
    for value in values:
        total = (total * radix + value) % modulus
    return total


def check_value(values: Sequence[int], modulus: int, radix: int, places: int = 1) -> int:
    """Give the check value, 0 <= value < modulus, of a pure system of ISO 7064.

    Args:
        values: Values of the characters without the check characters.
        modulus, radix: As in the name of the system: MOD 11-2, MOD 97-10.
        places: Check characters; two are the digits of the value in the radix.
    """
    return (1 - weighted_sum(values, modulus, radix) * pow(radix, places, modulus)) % modulus


def new_code(number: int, length: int = 8) -> str:
    """Make the code of a number: of a counter, or of a random integer.

    Different numbers give different codes of one length. Consecutive ones differ in most
    characters, so that a slip does not lead to the neighbour.

    Args:
        number: 0 <= number < 31 ** (length - 1).
        length: Characters with the check character, 6 to 16.

    Raises:
        ValueError: The number or the length is out of range.

    Example:
        >>> new_code(0), new_code(1)
        ('N6XV-DQZK', '9BVQ-SEYK')
    """
    count = _count(length)
    if not 0 <= number < count:
        msg = f"a code of {length} characters is of a number from 0 to {count - 1}, not of {number}"
        raise ValueError(msg)
    left = (number + 1) * _step(length) % count
    values: list[int] = []
    for _ in range(length - 1):
        left, value = divmod(left, MODULUS)
        values.insert(0, value)
    values.append(check_value(values, MODULUS, RADIX))
    return _grouped("".join(ALPHABET[value] for value in values))


def number_of(code: str) -> int:
    """Give the number that a code was made of.

    Raises:
        ValueError: It is none of our codes.
    """
    characters = normalise(code).replace("-", "")
    body = 0
    for character in characters[:-1]:
        body = body * MODULUS + ALPHABET.index(character)
    length = len(characters)
    return (body * pow(_step(length), -1, _count(length)) - 1) % _count(length)


def code_problem(text: str) -> str:
    """Say why a text is none of our codes; "" if it is one.

    Example:
        >>> code_problem("k7mx 4qxr")
        'the check character does not fit; one of the characters is wrong'
        >>> code_problem("K7MO-4QXR")
        'the character O does not occur in our codes'
    """
    # a few foreign letters have the capitals of ours; they are other letters all the same
    capitals = text.replace(" ", "-").upper() if text.isascii() else text
    characters = capitals.replace("-", "")
    for character in characters:
        if character not in ALPHABET:
            return f"the character {character} does not occur in our codes"
    if not SHORTEST <= len(characters) <= LONGEST:
        return f"our codes have {SHORTEST} to {LONGEST} characters, not {len(characters)}"
    if capitals not in (characters, _grouped(characters)):
        return f"the hyphens are not where ours are: {_grouped(characters)}"
    if weighted_sum([ALPHABET.index(each) for each in characters], MODULUS, RADIX) != 1:
        return "the check character does not fit; one of the characters is wrong"
    return ""


def is_own_code(text: str) -> bool:
    """Tell whether a text is one of our codes, in any of the ways it may be written."""
    return code_problem(text) == ""


def normalise(text: str) -> str:
    """Give the canonical form of one of our codes: capitals in groups of four.

    Raises:
        ValueError: It is none; the message says why.

    Example:
        >>> normalise("n6xvdqzk")
        'N6XV-DQZK'
    """
    problem = code_problem(text)
    if problem:
        msg = f"{text} is none of our codes: {problem}"
        raise ValueError(msg)
    return _grouped(text.upper().replace(" ", "").replace("-", ""))


def qr_payload(code: str, base_url: str | None = None) -> str:
    """Give the text that a QR code of an item holds: its address, or the bare code without one.

    The text stays within the QR alphanumeric mode, which takes 5.5 bits a character instead of 8;
    that is why the address is in capitals (scheme and host mean the same so; the server that
    answers takes the path in capitals).

    Args:
        code: Any code of an item, not only one of our own making.
        base_url: Where our pages are: `https://trace.example/shop` gives
            `HTTPS://TRACE.EXAMPLE/SHOP/I/CODE`. None or "" for the bare code.

    Raises:
        ValueError: A character has no place in that mode, or the address is none.

    Source: the 45 characters of the mode, ISO/IEC 18004.

    Example:
        >>> qr_payload("N6XV-DQZK", "https://trace.example/")
        'HTTPS://TRACE.EXAMPLE/I/N6XV-DQZK'
    """
    if not base_url:
        return _alphanumeric(code)
    parts = urlsplit(base_url)
    if parts.scheme.lower() not in ("http", "https") or not parts.netloc:
        msg = f"{base_url} is no web address like https://trace.example/shop"
        raise ValueError(msg)
    if parts.query or parts.fragment or not base_url.isascii():
        msg = f"{base_url} must end with its path, without ? or #, in plain letters"
        raise ValueError(msg)
    if "I" in parts.path.upper().split("/"):
        msg = f"{base_url} must not have /I/ in its path; it marks where the code begins"
        raise ValueError(msg)
    address = base_url.upper().rstrip("/")
    return f"{_alphanumeric(address)}/I/{quote(_alphanumeric(code), safe='$*+-./:')}"


def _count(length: int) -> int:
    """Give how many codes of a length there are."""
    if not SHORTEST <= length <= LONGEST:
        msg = f"our codes have {SHORTEST} to {LONGEST} characters, not {length}"
        raise ValueError(msg)
    return int(MODULUS ** (length - 1))


def _step(length: int) -> int:
    """Give the distance between the codes of consecutive numbers: the golden section of all.

    It is prime to the count of codes, so that no two numbers share one.
    """
    step = _count(length) * 618_034 // 1_000_000
    return step if step % MODULUS else step + 1


def _grouped(characters: str) -> str:
    """Put hyphens between groups of four; a last group of one joins the one before."""
    groups = [characters[at : at + GROUP] for at in range(0, len(characters), GROUP)]
    if len(groups) > 1 and len(groups[-1]) == 1:
        groups[-2:] = ["".join(groups[-2:])]
    return "-".join(groups)


def _alphanumeric(text: str) -> str:
    for character in text:
        if character not in QR_ALPHANUMERIC:
            msg = f"{text}: the character {character} has no place in the short form of a QR code"
            raise ValueError(msg)
    if not text:
        msg = "there is no code to print"
        raise ValueError(msg)
    return text
