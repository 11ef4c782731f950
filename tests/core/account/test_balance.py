"""How an account ends follows from its sums, and a gap in them is never passed over."""

from __future__ import annotations

import pytest

from lotkin.core.account.balance import Balance, Verdict


def test_what_the_sums_lack_of_the_whole_is_missing() -> None:
    balance = Balance("pcs", 100, 80, untold=10).settled()

    assert (balance.found, balance.missing) == (80.0, 10.0)
    assert balance.verdict is Verdict.MISSING


def test_what_the_sums_have_too_much_does_not_add_up() -> None:
    balance = Balance("pcs", 100, 110).settled()

    assert (balance.over, balance.missing) == (10.0, 0.0)
    assert balance.verdict is Verdict.DOES_NOT_ADD_UP


@pytest.mark.parametrize("found", [100.0, 100.0 + 4e-7, 100.0 - 4e-7])
def test_less_than_a_millionth_is_rounding_and_no_gap(found: float) -> None:
    assert Balance("m", 100, found).settled().is_complete


@pytest.mark.parametrize("unknown", ["untold", "nowhere", "doubtful", "unknown", "missing", "over"])
def test_an_account_with_any_piece_not_at_a_known_place_is_not_complete(unknown: str) -> None:
    assert not Balance("pcs", 100, 99, **{unknown: 1.0}).is_complete
