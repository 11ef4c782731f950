"""The account of a quantity as a table, with the line that says how it ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.account.words import NO_ACCOUNT, account_title, lines_in_words
from lotkin_answers.places import Places
from lotkin_labels.paper.document import Block
from lotkin_labels.paper.fonts import Face
from lotkin_labels.reports.form.flow import heading, paragraph
from lotkin_labels.reports.form.lists import TableColumn, put_table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.account.sheet import Account
    from lotkin.core.plan import ShopPlan
    from lotkin_labels.reports.form.flow import Flow

__all__ = ["put_accounts"]

COLUMNS = (
    TableColumn("where", 90),
    TableColumn("quantity", 30, is_number=True),
    TableColumn("known", 40),
)


def put_accounts(flow: Flow, accounts: Sequence[Account], plan: ShopPlan | None) -> None:
    """Put one account for each unit of measure and part."""
    if not accounts:
        flow.put(paragraph(NO_ACCOUNT), head=[heading("Account")])
    for account in accounts:
        rows = lines_in_words(account, Places(plan).titled)
        put_table(flow, account_title(account), COLUMNS, rows)
        flow.put([Block(1.2, ()), *paragraph(account.balance.text, face=Face.BOLD)])
