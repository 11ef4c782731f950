"""Accounts for people: where a quantity is now, and whether all of it is accounted for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.account.words import NO_ACCOUNT, account_title, lines_in_words
from lotkin_cli.output.streams import write
from lotkin_cli.text.form.table import Column, print_table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.account.sheet import Account
    from lotkin_answers.places import Places

__all__ = ["print_accounts"]

COLUMNS = (Column("where", wraps=True), Column("quantity", right=True), Column("known"))


def print_accounts(accounts: Sequence[Account], places: Places) -> None:
    """Print accounts, one for each unit and part."""
    if not accounts:
        write("")
        write(NO_ACCOUNT)
    for account in accounts:
        write("")
        write(account_title(account))
        if account.lines:
            print_table(COLUMNS, lines_in_words(account, places.titled))
        write(f"  {account.balance.text}")
