"""What events of others say of shipping: that things went to a party who owns them then."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from lotkin.core.epcis.partner.values import place_from

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["is_shipping", "party_shipped_to"]


def is_shipping(event: Mapping[str, Any]) -> bool:
    """Tell whether an event of others says that things went to a party who owns them then."""
    step = str(event.get("bizStep", "")).rpartition("BizStep-")[2].rpartition(":")[2]
    is_object = event.get("type") == "ObjectEvent" and event.get("action") != "DELETE"
    return is_object and step == "shipping" and bool(party_shipped_to(event))


def party_shipped_to(event: Mapping[str, Any]) -> str:
    """Give the code of the party that owns what was shipped; "" if the event names none."""
    for row in event.get("destinationList", ()):
        if str(row.get("type", "")).rpartition("SDT-")[2].rpartition(":")[2] == "owning_party":
            return place_from(str(row.get("destination", "")))
    return ""
