"""One item as a document: what `show --json` prints."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.instants import show_instant
from lotkin_answers.documents.answers import row_data
from lotkin_answers.json_document import number
from lotkin_answers.unit.standing_text import cases_data

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.view import Entry
    from lotkin.uses.asking.show import Neighbour, Shown
    from lotkin_answers.json_document import Data, Value

__all__ = ["item_document"]


def item_document(shown: Shown) -> dict[str, Value | Iterable[Value]]:
    """Describe an item with all that is known of it."""
    item = _item_data(shown.item)
    item |= {"held": bool(shown.hold), "hold": shown.hold, "due_by_plan": shown.due_by_plan}
    item |= {"at": row_data(shown.row)["at"]}
    item["cases"] = list(cases_data(shown.cases))
    return {
        "item": item,
        "made_from": (_neighbour_data(each) for each in shown.made_from),
        "used_in": (_neighbour_data(each) for each in shown.used_in),
        "states": (_item_data(state) for state in shown.states),
        "history": (_entry_data(entry) for entry in shown.history),
        "as_of": shown.as_of,
    }


def _item_data(item: Item) -> Data:
    return {
        "code": item.code,
        "kind": item.kind,
        "family": str(item.family),
        "part": item.part,
        "quantity": number(item.quantity),
        "unit": item.unit,
        "serial": item.serial,
        "supplier": item.supplier,
        "supplier_lot": item.supplier_lot,
        "made_at": _instant(item.made_at),
        "started_at": _instant(item.started_at),
        "due_at": _instant(item.due_at),
        "step": item.step,
        "station": item.station,
        "event": item.event,
        "plan": item.plan,
    }


def _neighbour_data(each: Neighbour) -> Data:
    """Describe a neighbour; the quantity is what was taken along the link."""
    item, link = each.item, each.link
    return {
        "code": item.code,
        "kind": item.kind,
        "family": str(item.family),
        "part": item.part,
        "quantity": number(link.quantity),
        "group": link.group,
        "mixing": str(link.mixing),
        "per": number(link.per),
        "position": link.position,
        "event": link.event,
    }


def _entry_data(entry: Entry) -> Data:
    return {
        "event": entry.seq,
        "id": entry.id,
        "kind": entry.kind,
        "at": show_instant(entry.at),
        "recorded_at": show_instant(entry.recorded_at),
        "station": entry.station,
        "by": entry.by,
        "reported": entry.reported,
        "breaches": [
            {"rule": breach.rule, "record": breach.record, "message": breach.message}
            for breach in entry.breaches
        ],
    }


def _instant(us: int | None) -> str | None:
    return None if us is None else show_instant(us)
