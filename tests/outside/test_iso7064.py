"""Pure check character systems of ISO 7064, against examples published for each of them.

Sources: ORCID's support pages (0000-0002-1825-0097, MOD 11-2); the IBAN registry's example for the
United Kingdom (MOD 97-10); the documentation of python-stdnum for MOD 37-2, MOD 11-2 and MOD 97-10;
the documentation of the Rust crate iso-7064 for MOD 1271-36.
"""

from __future__ import annotations

import math

import pytest

from lotkin.core.values.codes import MODULUS, RADIX, check_value, weighted_sum

CHARACTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"


def values(text: str, alphabet: str = CHARACTERS) -> list[int]:
    return [alphabet.index(character) for character in text.replace(" ", "").replace("-", "")]


MOD_11 = "0123456789X"


@pytest.mark.parametrize("published", ["0000-0002-1825-0097", "079X", "07940"])
def test_mod_11_2(published: str) -> None:
    digits = values(published, MOD_11)

    assert check_value(digits[:-1], 11, 2) == digits[-1]
    assert weighted_sum(digits, 11, 2) == 1


def test_mod_37_2() -> None:
    characters = values("G123489654321Y")

    assert check_value(characters[:-1], 37, 2) == characters[-1]


@pytest.mark.parametrize(
    "published", ["9999123456789012141490", "435411161155111431", "2218132140253432144670161135"]
)
def test_mod_97_10(published: str) -> None:
    digits = values(published)

    assert check_value(digits[:-2], 97, 10, places=2) == int(published[-2:])
    assert weighted_sum(digits, 97, 10) == 1


def test_mod_97_10_of_an_iban() -> None:
    """The first four characters go to the end, and letters count as 10 to 35."""
    iban = "GB82 WEST 1234 5698 7654 32".replace(" ", "")
    turned = "".join(str(value) for value in values(iban[4:] + iban[:2]))

    assert check_value(values(turned), 97, 10, places=2) == 82


def test_mod_1271_36() -> None:
    characters = values("ISO 793W")

    value = check_value(characters[:-2], 1271, 36, places=2)

    assert [*divmod(value, 36)] == characters[-2:]


def test_the_system_of_our_codes_meets_the_conditions_of_a_pure_system() -> None:
    """Source: ISO 7064 (from memory): the radix, and the radix less 1, share no factor with it.

    Then a single wrong character and an exchange of neighbours always change the sum.
    """
    assert math.gcd(RADIX, MODULUS) == math.gcd(RADIX - 1, MODULUS) == 1
    assert all(MODULUS % factor for factor in range(2, MODULUS))
