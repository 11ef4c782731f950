"""What an identifier in an event of somebody else names, as a row of an item of ours."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Protocol
from urllib.parse import unquote

from lotkin.core.epcis.identifiers import parts_of
from lotkin.core.epcis.partner.values import code_from
from lotkin.core.epcis.uris import said_by

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.genealogy.items import Item
    from lotkin.core.values.places import Spot

__all__ = ["Known", "describe"]

_SEPARATORS = {"8010": " "}
"""What stands between the values of a key with a qualifier, such as a piece and its serial."""

_NO_THINGS = ("414", "417", "253", "255", "401", "402", "8017", "8018")
"""Keys of places, parties and papers."""


class Known(Protocol):
    """What is recorded here already."""

    def find(self, uri: str, code: str) -> Item | None:
        """Find an item by an identifier in its normal form, or by the code we would give it."""

    def part(self, gtin: str) -> str:
        """Give our code of a part by its GTIN; the GTIN if we have none."""

    def spot(self, code: str) -> Spot:
        """Tell where an item lies, most of it."""


def describe(
    uri: str, known: Known, supplier: str, *, counted: bool, kind: str
) -> tuple[dict[str, Any] | None, str]:
    """Describe what an identifier names.

    Args:
        uri: The identifier, in its normal form.
        known: What is recorded here.
        supplier: Our code of whose events these are; "" if unknown.
        counted: Whether the event gives a quantity of it.
        kind: What it is, where the event tells that; else "".

    Returns:
        A row of an item; None if it names no thing, and why.
    """
    said = parts_of(uri)
    if "01" in said and not {"10", "21", "235"} & set(said):
        return None, f"{uri} names a kind of thing and no lot or piece of it"
    usual = kind or ("source-lot" if counted else "unit")
    if not said:
        code = said_by(uri, "item") or unquote(uri)
        return {"code": code_from(code), "item_kind": usual}, ""
    key = next(iter(said))
    if key == "01":
        return _goods(said, known.part(said["01"]), supplier), ""
    if key in ("00", "8003"):
        return {"code": code_from(said[key]), "item_kind": "carton"}, ""
    if key in _NO_THINGS:
        return None, f"{uri} names a place, a party or a paper, and no thing"
    code = _SEPARATORS.get(key, ":").join(said.values())
    if key == "8004":
        usual = kind or "fixture"
    return {"code": code_from(unquote(code)), "item_kind": usual}, ""


def _goods(said: Mapping[str, str], part: str, supplier: str) -> dict[str, Any]:
    """Describe a piece or a lot of a trade item."""
    if "21" in said:
        serial = unquote(said["21"])
        code = code_from(f"{part}:{serial}")
        return {"code": code, "item_kind": "unit", "part": code_from(part), "serial": code}
    if "235" in said:
        # serials by AI (235) and by AI (21) are given by different bodies and may be alike
        code = code_from(f"{part}:235:{unquote(said['235'])}")
        return {"code": code, "item_kind": "unit", "part": code_from(part), "serial": code}
    lot = unquote(said["10"])
    names = [supplier, part, lot] if supplier else [part, lot]
    described = {
        "item_kind": "source-lot",
        "part": code_from(part),
        "supplier_lot": code_from(lot),
    }
    if supplier:
        described["supplier"] = supplier
    return {"code": code_from(":".join(names)), **described}
