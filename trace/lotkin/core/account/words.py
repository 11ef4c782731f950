"""An account in words: its title, its lines, and how it ends, the same for every face."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.account.sheet import NOT_RECORDED
from lotkin.core.values.amounts import show_amount
from lotkin.core.values.places import NOWHERE, End

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from lotkin.core.account.sheet import Account, AccountLine

__all__ = ["NO_ACCOUNT", "LineWords", "account_title", "lines_in_words"]

NO_ACCOUNT = "No account: no quantity is recorded for what came from it."


class LineWords(NamedTuple):
    """A line as people read it: where, how much with its unit, and how that is known."""

    where: str
    quantity: str
    known: str


def account_title(account: Account) -> str:
    """Say what is accounted for, e.g. `Account of 59 pcs`."""
    part = f" of {account.part}" if account.part else ""
    return f"Account of {show_amount(account.quantity, account.unit)}{part}"


def lines_in_words(account: Account, titled: Callable[[str], str]) -> Sequence[LineWords]:
    """Write the lines of an account.

    Args:
        account: What to write.
        titled: Gives a place with its name.
    """
    is_over = bool(account.balance.over)
    return [_written(line, account.unit, titled, is_over=is_over) for line in account.lines]


def _written(
    line: AccountLine, unit: str, titled: Callable[[str], str], *, is_over: bool
) -> LineWords:
    """Write a line; what there is too much of is a surplus, and nothing lost."""
    if line.where == End.LOST and line.quantity < 0:
        return LineWords("surplus", show_amount(-line.quantity, unit), "more than there were")
    amount = show_amount(line.quantity, unit)
    if line.quantity < 0:
        known = "more used than there were" if is_over else "may be of another lot"
        return LineWords(titled(line.where), amount, known)
    if line.where == NOT_RECORDED:
        return LineWords("used, quantity not recorded", amount, "not known where")
    if line.where in NOWHERE:
        return LineWords("place not recorded", amount, "not known where")
    return LineWords(titled(line.where), amount, "counted" if line.exact else "calculated")
