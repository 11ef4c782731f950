"""Our own codes: what they are made of, which slips they catch, what a QR code holds."""

from __future__ import annotations

from itertools import combinations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.scan.characters import CHARSET_39
from lotkin.core.values.codes import (
    ALPHABET,
    check_value,
    code_problem,
    is_own_code,
    new_code,
    normalise,
    number_of,
    qr_payload,
    weighted_sum,
)

LENGTHS = st.integers(6, 16)
CODES = st.builds(
    lambda length, share: new_code(share % 31 ** (length - 1), length),
    LENGTHS,
    st.integers(0, 31**15 - 1),
)


def with_hyphens_where_they_were(characters: list[str], code: str) -> str:
    left = iter(characters)
    return "".join("-" if each == "-" else next(left) for each in code)


# --- the alphabet


def test_the_alphabet_has_31_characters_none_of_which_is_taken_for_another() -> None:
    assert len(set(ALPHABET)) == 31
    assert not set(ALPHABET) & set("01ILO")
    assert list(ALPHABET) == sorted(ALPHABET)


def test_codes_stay_in_gs1_character_set_39_and_in_the_short_form_of_a_qr_code() -> None:
    # Source of the set of QR: ISO/IEC 18004, alphanumeric mode.
    assert set(ALPHABET + "-") <= set(CHARSET_39)
    assert set(ALPHABET + "-") <= set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")


# --- making codes


def test_a_code_has_its_length_in_groups_that_can_be_spoken() -> None:
    shapes = {
        length: [len(group) for group in new_code(7, length).split("-")] for length in range(6, 17)
    }

    assert all(sum(groups) == length for length, groups in shapes.items())
    assert all(2 <= group <= 5 for groups in shapes.values() for group in groups)
    assert shapes[8] == [4, 4]
    assert shapes[9] == [4, 5]


@given(LENGTHS, st.data())
def test_a_code_gives_its_number_back(length: int, data: st.DataObject) -> None:
    number = data.draw(st.integers(0, 31 ** (length - 1) - 1))

    code = new_code(number, length)

    assert number_of(code) == number
    assert is_own_code(code)
    assert normalise(code) == code


def test_ten_thousand_numbers_give_ten_thousand_codes() -> None:
    assert len({new_code(number) for number in range(10_000)}) == 10_000


@given(st.integers(0, 31**7 - 2))
def test_consecutive_codes_differ_in_most_characters(number: int) -> None:
    pairs = zip(new_code(number), new_code(number + 1), strict=True)

    assert sum(a != b for a, b in pairs) >= 5


@pytest.mark.parametrize(("number", "length"), [(-1, 8), (31**7, 8), (31**5, 6), (0, 5), (0, 17)])
def test_a_number_or_length_out_of_range_makes_no_code(number: int, length: int) -> None:
    with pytest.raises(ValueError, match="characters"):
        new_code(number, length)


# --- catching slips


def test_every_slip_in_every_code_of_three_characters_is_caught() -> None:
    """Exhaustive: 961 codes, each with 90 wrong characters and three exchanges."""
    for body in product(range(31), repeat=2):
        right = [*body, check_value(body, 31, 3)]
        assert weighted_sum(right, 31, 3) == 1
        for place, value in product(range(3), range(31)):
            wrong = [*right[:place], value, *right[place + 1 :]]
            assert (weighted_sum(wrong, 31, 3) == 1) is (wrong == right)
        for one, other in combinations(range(3), 2):
            wrong = [*right]
            wrong[one], wrong[other] = right[other], right[one]
            assert (weighted_sum(wrong, 31, 3) == 1) is (wrong == right)


@given(CODES)
def test_every_single_wrong_character_is_caught(code: str) -> None:
    characters = list(code.replace("-", ""))
    for place, character in product(range(len(characters)), ALPHABET):
        wrong = [*characters[:place], character, *characters[place + 1 :]]
        written = with_hyphens_where_they_were(wrong, code)
        assert is_own_code(written) is (written == code)


@given(CODES)
def test_every_exchange_of_two_characters_is_caught(code: str) -> None:
    characters = list(code.replace("-", ""))
    for one, other in combinations(range(len(characters)), 2):
        wrong = [*characters]
        wrong[one], wrong[other] = characters[other], characters[one]
        written = with_hyphens_where_they_were(wrong, code)
        assert is_own_code(written) is (written == code)


@given(CODES)
def test_a_doubled_character_that_became_another_doubled_one_is_caught(code: str) -> None:
    characters = code.replace("-", "")
    for place in range(len(characters) - 1):
        if characters[place] == characters[place + 1]:
            for character in set(ALPHABET) - {characters[place]}:
                wrong = characters[:place] + 2 * character + characters[place + 2 :]
                assert not is_own_code(wrong)


# --- reading codes


@given(CODES)
def test_small_letters_blanks_and_no_hyphens_are_read_too(code: str) -> None:
    assert normalise(code.lower()) == code
    assert normalise(code.replace("-", " ")) == code
    assert normalise(code.replace("-", "").lower()) == code


@given(CODES, st.sampled_from("01ILO"), st.integers(0, 5))
def test_a_character_that_ours_never_have_is_not_taken_for_one_that_looks_like_it(
    code: str, character: str, place: int
) -> None:
    characters = code.replace("-", "")
    misread = characters[:place] + character + characters[place + 1 :]

    assert code_problem(misread) == f"the character {character} does not occur in our codes"
    with pytest.raises(ValueError, match="none of our codes"):
        normalise(misread)


def test_hyphens_elsewhere_are_not_ours() -> None:
    assert code_problem("N6-XVDQZK") == "the hyphens are not where ours are: N6XV-DQZK"


def test_a_code_has_6_to_16_characters() -> None:
    assert code_problem("N6XV") == "our codes have 6 to 16 characters, not 4"
    assert code_problem("2" * 17) == "our codes have 6 to 16 characters, not 17"


def test_a_foreign_letter_with_the_capital_of_ours_is_none_of_ours() -> None:
    code = new_code(3)
    assert "S" in "S" + code
    assert "\u017f".upper() == "S"
    assert not is_own_code("\u017f" + code[1:])


@given(st.text())
def test_any_text_is_a_code_or_has_a_problem(text: str) -> None:
    assert is_own_code(text) is (code_problem(text) == "")


# --- the QR code


def test_a_qr_code_holds_the_address_of_the_item_in_capitals() -> None:
    assert qr_payload("N6XV-DQZK", "https://trace.example/shop/") == (
        "HTTPS://TRACE.EXAMPLE/SHOP/I/N6XV-DQZK"
    )
    assert qr_payload("PUMP-001/2", "http://10.0.0.7:8080") == "HTTP://10.0.0.7:8080/I/PUMP-001/2"


@pytest.mark.parametrize("nothing", [None, ""])
def test_without_an_address_it_holds_the_bare_code(nothing: str | None) -> None:
    assert qr_payload("N6XV-DQZK", nothing) == "N6XV-DQZK"


def test_a_percent_sign_in_a_code_survives_in_an_address() -> None:
    assert qr_payload("A%B", "https://trace.example") == "HTTPS://TRACE.EXAMPLE/I/A%25B"


@pytest.mark.parametrize(
    ("code", "base_url", "character"),
    [
        ("lot-7", None, "l"),
        ("LOT_7", None, "_"),
        ("LOT-7", "https://trace.example/our_shop", "_"),
        ("LOT#7", "https://trace.example", "#"),
    ],
)
def test_a_character_without_a_place_in_the_short_form_is_named(
    code: str, base_url: str | None, character: str
) -> None:
    with pytest.raises(ValueError, match=f"the character {character} has no place"):
        qr_payload(code, base_url)


@pytest.mark.parametrize(
    "base_url",
    ["trace.example", "ftp://trace.example", "https://", "https://a.example/?x=1",
     "https://a.example/#top", "https://a.example/i/", "https://stra\u00dfe.example"],
)  # fmt: skip
def test_what_is_no_address_to_print_is_refused(base_url: str) -> None:
    with pytest.raises(ValueError, match="https://"):
        qr_payload("N6XV-DQZK", base_url)


def test_no_code_is_refused() -> None:
    with pytest.raises(ValueError, match="no code"):
        qr_payload("")
