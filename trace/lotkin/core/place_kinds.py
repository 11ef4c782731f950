"""What the places of a shop plan are, read from its data alone; the plan itself loads slowly."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.canonical import Json

__all__ = ["place_kinds"]

TABLES = (("place", ""), ("supplier", "supplier"), ("customer", "customer"))
"""Tables of a plan that hold places, and the kind of all in them; "" where each says its own."""


def place_kinds(data: Mapping[str, Json]) -> dict[str, str]:
    """Map the code of every place to its kind, as `ShopPlan.places` does.

    Args:
        data: A plan as `ShopPlan.to_data` writes it.

    Example:
        >>> place_kinds({"place": [{"code": "STORE", "kind": "shelf"}], "customer": []})
        {'STORE': 'shelf'}
    """
    kinds: dict[str, str] = {}
    for table, kind in TABLES:
        entries = data.get(table)
        for entry in entries if isinstance(entries, list) else ():
            if isinstance(entry, dict):
                kinds[str(entry.get("code"))] = kind or str(entry.get("kind"))
    return kinds
