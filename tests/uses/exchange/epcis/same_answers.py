"""What a store answers about an item, to be compared with what another one answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import where_from, where_used

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.store.store import Store

__all__ = ["all_codes", "answers"]


def all_codes(store: Store) -> list[str]:
    """List the codes of all items."""
    with store.reading() as view:
        return [item.code for item in view.all_items()]


def answers(store: Store, codes: Iterable[str]) -> dict[str, object]:
    """Give where-used, where-from and the account of items, every number of them."""
    found: dict[str, object] = {}
    for code in codes:
        contained = contain(store, [code])
        found[code] = {
            "used": list(where_used(store, code).items),
            "from": list(where_from(store, code).items),
            "itself": contained.subject_rows,
            "accounts": contained.accounts,
            "units": (contained.units, contained.expected, contained.at_most_units),
            "places": contained.places,
            "customers": contained.customers,
            "unknown places": contained.unknown_places,
        }
    return found
