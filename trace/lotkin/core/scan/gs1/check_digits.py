"""The check digit of the numeric GS1 keys, and the check pair of the alphanumeric ones."""

from __future__ import annotations

from lotkin.core.scan.characters import CHARSET_32, CHARSET_82, DIGITS

__all__ = ["check_digit", "check_digit_problem", "check_pair", "check_pair_problem"]

PAIR_MODULUS = 1021


def check_digit(body: str) -> int:
    """Give the check digit of the digits before it; of GTIN, GLN, SSCC, GSIN and GSRN alike.

    Source: GS1 General Specifications, section 7.9 (section number from memory): weights 3, 1, 3 …
    from the digit next to the check digit; check digit = (10 - sum mod 10) mod 10.

    Example:
        >>> check_digit("952123454321")
        3
    """
    digits = [int(digit) for digit in reversed(body)]
    return -(3 * sum(digits[0::2]) + sum(digits[1::2])) % 10


def check_digit_problem(text: str) -> str:
    """Say what is wrong with digits of which the last one is a check digit; "" if nothing is."""
    if not text:
        return "is too short for a check digit"
    if not DIGITS.issuperset(text):
        return "must be digits only"
    right = check_digit(text[:-1])
    if int(text[-1]) != right:
        return f"has a wrong check digit; the last digit should be {right}"
    return ""


def check_pair(body: str) -> str:
    """Give the two check characters of a GMN.

    Source: GS1 General Specifications, check character calculation for alphanumeric keys: the
    positions in character set 82, weighted by the primes from 2 on from the right, modulo 1021;
    ten bits, written as two characters of set 32.
    """
    places = [CHARSET_82.index(character) for character in reversed(body)]
    total = sum(w * v for w, v in zip(_primes(len(places)), places, strict=True)) % PAIR_MODULUS
    return CHARSET_32[total >> 5] + CHARSET_32[total & 31]


def check_pair_problem(text: str) -> str:
    """Say what is wrong with a text that ends with a check pair; "" if nothing is."""
    if len(text) < 2:
        return "is too short for a check pair"
    if not set(CHARSET_82).issuperset(text[:-2]):
        return "has a character outside of GS1 character set 82"
    right = check_pair(text[:-2])
    if text[-2:] != right:
        return f"has a wrong check pair; the last two characters should be {right}"
    return ""


def _primes(count: int) -> list[int]:
    """List the first primes."""
    primes: list[int] = []
    number = 2
    while len(primes) < count:
        if all(number % prime for prime in primes):
            primes.append(number)
        number += 1
    return primes
