"""Accounts for people: where a quantity is now, and whether all of it was found."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.account import NOT_RECORDED
from lotkin_cli.shown.table import Column, print_table
from lotkin_cli.streams import write

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.account import Account
    from lotkin.shown.places import Places

__all__ = ["plain", "print_accounts"]

COLUMNS = (Column("where", wraps=True), Column("quantity", right=True), Column("known"))


def print_accounts(accounts: Sequence[Account], places: Places) -> None:
    """Print accounts, one for each unit."""
    if not accounts:
        write("")
        write("no account: nothing that has a quantity came from it")
    for account in accounts:
        write("")
        write(f"Account of {plain(account.quantity)} {account.unit}")
        rows = [
            (
                places.titled(line.where),
                f"{plain(line.quantity)} {account.unit}",
                "exactly" if line.exact else "expected from shares",
            )
            for line in account.lines
        ]
        if rows:
            print_table(COLUMNS, rows)
        write(f"  {balance(account)}")


def balance(account: Account) -> str:
    """Say whether everything was found, or what is missing."""
    unit = account.unit
    untold = sum(line.quantity for line in account.lines if line.where == NOT_RECORDED)
    said = f"{plain(account.found)} of {plain(account.quantity)} {unit} found"
    if account.is_closed:
        return f"{said}: closed"
    parts = []
    if untold:
        parts.append(f"{plain(untold)} {unit} went where no quantity was recorded")
    rest = round(account.quantity - account.found - untold, 6)
    if rest > 0:
        parts.append(f"{plain(rest)} {unit} missing")
    elif rest < 0:
        parts.append(f"{plain(-rest)} {unit} more than there were")
    return f"{said}: not closed, {' and '.join(parts)}"


def plain(quantity: float) -> str:
    """Write a quantity without trailing zeros and never in powers of ten."""
    text = f"{quantity:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
