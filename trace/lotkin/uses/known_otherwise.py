"""What a text is that no item goes by: a case, a word of the plan, a traveller, an order."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.cases import find_case
from lotkin.core.errors import NotAnItem

if TYPE_CHECKING:
    from lotkin.uses.ports import Reading

__all__ = ["known_otherwise"]

ASK_FOR_ITEMS = "ask for an item instead: the code on a label, a serial, a supplier's number"


def known_otherwise(view: Reading, text: str) -> NotAnItem | None:
    """Say what a text is; None if nothing on record goes by it."""
    text = text.strip()
    if not text.isprintable():
        return None
    case = find_case(view, text)
    if case is not None:
        said = f"a case, {'closed' if case.closed_by else 'open'}: {case.reason}"
        return NotAnItem(text, "case", said, f"`lotkin case show {text}` shows it")
    number = view.plan_number()
    plan = view.plan(number) if number else None
    if plan is not None:
        # a plan is slow to load, and most texts lead somewhere
        from lotkin.core.plan.named import named_in  # noqa: PLC0415

        named = named_in(plan, text)
        if named is not None:
            said = f"{named.what}: {named.name}"
            return NotAnItem(named.code, "plan", said, ASK_FOR_ITEMS)
    issued = view.facts("traveller", text)
    if issued:
        said = f"a traveller, issued for {issued[-1].value['part']}"
        made = f"`lotkin show` takes the lots that were made on it, {text}-…"
        return NotAnItem(text, "traveller", said, made)
    return _order(view, text)


def _order(view: Reading, text: str) -> NotAnItem | None:
    shipments = [
        str(entry.data.get("shipment"))
        for entry in view.entries_of(["ship"])
        if text and entry.data.get("reference") == text
    ]
    if not shipments:
        return None
    said = f"the order of {', '.join(shipments[:8])}{' …' if len(shipments) > 8 else ''}"
    return NotAnItem(text, "order", said, f"`lotkin show {shipments[0]}` shows the shipment")
