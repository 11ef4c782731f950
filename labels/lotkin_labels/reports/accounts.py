"""The account of a quantity as a table, with the line that closes it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.account import NOT_RECORDED
from lotkin_labels.fonts import Face
from lotkin_labels.paper import Block
from lotkin_labels.reports.figures import plain, titled
from lotkin_labels.reports.flow import heading, paragraph
from lotkin_labels.reports.lists import TableColumn, put_table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.account import Account
    from lotkin.core.plan import ShopPlan
    from lotkin_labels.reports.flow import Flow

__all__ = ["balance", "put_accounts"]

COLUMNS = (
    TableColumn("where", 90),
    TableColumn("quantity", 30, is_number=True),
    TableColumn("known", 40),
)


def put_accounts(flow: Flow, accounts: Sequence[Account], plan: ShopPlan | None) -> None:
    """Put one account for each unit of measure."""
    if not accounts:
        said = "No account: nothing that has a quantity came from it."
        flow.put(paragraph(said), head=[heading("Account")])
    for account in accounts:
        rows = [
            (
                titled(line.where, plan),
                f"{plain(line.quantity)} {account.unit}",
                "exactly" if line.exact else "expected from shares",
            )
            for line in account.lines
        ]
        title = f"Account of {plain(account.quantity)} {account.unit}"
        put_table(flow, title, COLUMNS, rows)
        flow.put([Block(1.2, ()), *paragraph(balance(account), face=Face.BOLD)])


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
    return f"{said}: not closed" + (f", {' and '.join(parts)}" if parts else "")
