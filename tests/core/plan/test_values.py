"""What may stand behind a key."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic_core import PydanticCustomError

from lotkin.core.plan.values import exact_number, is_code, plain_number
from tests.core.plan.small_shop import changed, only, said

POWDER = '\nkind = "powder-blend"\nused_share_max = '


@given(st.decimals(-(10**9), 10**9, places=6))
def test_a_number_keeps_its_value_and_has_one_spelling(value: Decimal) -> None:
    number = exact_number(value)
    assert number == value
    assert exact_number(plain_number(number)) == number
    assert plain_number(number) == plain_number(exact_number(f"{value:.6f}"))


@given(st.integers(-(10**9), 10**9))
def test_a_whole_number_has_no_point(value: int) -> None:
    assert plain_number(exact_number(value)) == str(value)
    assert plain_number(exact_number(Decimal(value).scaleb(3).normalize() / 1000)) == str(value)


@pytest.mark.parametrize(
    "text", ["1e3", " 1", "1 ", "+1", ".5", "5.", "\u0661", "NaN", "", "1_000"]
)
def test_only_digits_with_a_point_are_a_number_in_quotes(text: str) -> None:
    with pytest.raises(PydanticCustomError, match="must be a number"):
        exact_number(text)


@pytest.mark.parametrize("value", [10**9 + 1, -(10**9) - 1, 10**100, Decimal("1E+999999999")])
def test_more_than_any_works_holds_is_refused(value: int | Decimal) -> None:
    with pytest.raises(PydanticCustomError, match="from -1000000000 to 1000000000"):
        exact_number(value)


@pytest.mark.parametrize("text", ["0.0000001", "1E-999999999", "1.00000000000000000000000000001"])
def test_more_than_six_decimals_are_refused_and_not_rounded(text: str) -> None:
    with pytest.raises(PydanticCustomError, match="more than six decimals"):
        exact_number(Decimal(text))


@pytest.mark.parametrize("text", ["0", "-0", "0E+999999999", "0E-999999999"])
def test_zero_is_zero_however_it_is_written(text: str) -> None:
    assert plain_number(exact_number(Decimal(text))) == "0"


@pytest.mark.parametrize("code", ["A", "7", "a.b_c:d+e/f-g", "X" * 40])
def test_codes(code: str) -> None:
    assert is_code(code)


@pytest.mark.parametrize("code", ["", "-A", ".A", "A B", "A\n", "Ä", "A*", "X" * 41])
def test_what_is_no_code(code: str) -> None:
    assert not is_code(code)


@pytest.mark.parametrize("share", ["0", "0.5", "1", "1.0"])
def test_a_share_is_a_fraction(share: str) -> None:
    assert said(changed('\nkind = "bar-lot"', POWDER + share)) == []


@pytest.mark.parametrize("share", ["-0.1", "1.1", "50"])
def test_a_share_is_no_percentage(share: str) -> None:
    assert only(changed('\nkind = "bar-lot"', POWDER + share)).endswith(
        f"used_share_max {share} must be a fraction from 0 to 1"
    )


def test_cautions_may_have_several_lines() -> None:
    assert said(changed("serialised = true", 'cautions = ["Glue:\\n\\tirritant", "Ω"]')) == []


@pytest.mark.parametrize("caution", ["", " \\n ", "a\\u001bb", "x" * 2001])
def test_an_empty_or_unprintable_caution_is_refused(caution: str) -> None:
    (problem,) = said(changed("serialised = true", f'cautions = ["Hot", "{caution}"]'))
    assert "cautions entry 2" in problem
    assert "must be a text of 1 to 2000 characters" in problem
