"""What a text is that goes by another name than is wanted: a case, a word of the plan, an order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.cases.membership import find_case
from lotkin.core.errors import NamesAnother, NotAnItem, UnknownCode

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.genealogy.view import View
    from lotkin.core.plan import ShopPlan

__all__ = ["known_otherwise", "named_or_issued", "not_in_plan"]

GIVE_AN_ITEM = "give an item instead: the code on a label, a serial, a supplier's number"


def known_otherwise(view: View, plan: ShopPlan | None, text: str) -> NotAnItem | None:
    """Say what a text is that no item goes by; None if nothing on record goes by it either.

    Args:
        view: What is recorded.
        plan: The plan in force; None where there is none.
        text: As scanned or typed.
    """
    return named_or_issued(view, plan, text) or _order(view, text.strip())


def named_or_issued(view: View, plan: ShopPlan | None, text: str) -> NotAnItem | None:
    """Say the same but for the numbers of orders, of which finding one takes longer."""
    text = text.strip()
    if not text.isprintable():
        return None
    case = find_case(view, text) or find_case(view, text.upper())
    if case is not None:
        said = f"a case, {'closed' if case.closed_by else 'open'}: {case.reason}"
        return NotAnItem(case.code, "case", said, f"`lotkin case show {case.code}` shows it")
    if plan is not None:
        # looking through a plan needs what most texts do not
        from lotkin.core.plan.named import named_in  # noqa: PLC0415

        named = named_in(plan, text)
        if named is not None:
            said = f"{named.what}: {named.name}"
            return NotAnItem(named.code, "plan", said, GIVE_AN_ITEM)
    issued = view.facts("traveller", text)
    if issued:
        said = f"a traveller, issued for {issued[-1].value['part']}"
        made = f"`lotkin show` takes the lots that were made on it, {text}-…"
        return NotAnItem(text, "traveller", said, made)
    return None


def _order(view: View, text: str) -> NotAnItem | None:
    if not text.isprintable():
        return None
    shipments = [
        str(entry.data.get("shipment"))
        for entry in view.entries_of(["ship"])
        if text and entry.data.get("reference") == text
    ]
    if not shipments:
        return None
    said = f"the order of {', '.join(shipments[:8])}{' …' if len(shipments) > 8 else ''}"
    return NotAnItem(text, "order", said, f"`lotkin show {shipments[0]}` shows the shipment")


def not_in_plan(
    text: str, wanted: str, known: Iterable[str], plan: ShopPlan | None, view: View | None = None
) -> UnknownCode:
    """Make the error of a text that is no entry of a plan of the sort that is wanted.

    Args:
        text: As it was given.
        wanted: What it should have been, in one word: `place`, `person`, `part`.
        known: Codes of the entries that would do.
        plan: The plan in force; None where there is none.
        view: What is recorded, where that is at hand: an item is named as one.
    """
    item = view.item(text) if view is not None else None
    if item is not None:
        return NamesAnother(text, f"recorded as {item.kind}", wanted)
    if plan is not None:
        from lotkin.core.plan.named import named_in  # noqa: PLC0415 - as above

        named = named_in(plan, text)
        if named is not None and named.code == text:
            return NamesAnother(text, named.what, wanted)
    return UnknownCode(text, near=known, hint=f"name a {wanted} of the plan")
