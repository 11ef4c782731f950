"""Amounts, units and names as other programs write them in EPCIS documents."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from hashlib import sha256
from typing import TYPE_CHECKING, Any
from urllib.parse import quote, unquote

from lotkin.core.epcis.identifiers import parts_of
from lotkin.core.epcis.uris import said_by
from lotkin.core.values.places import END_NAMES
from lotkin.core.values.quantities import LARGEST, MICRO, allocate, from_micro

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

__all__ = ["Amount", "Shares", "amount_of", "code_from", "place_from", "text_of"]

LONGEST = 80

# UN/CEFACT Recommendation 20; KGM and MTR as in the official examples, the others from memory.
UNITS: dict[str, tuple[str, Decimal]] = {
    "KGM": ("kg", Decimal(1)),
    "GRM": ("kg", Decimal("0.001")),
    "TNE": ("kg", Decimal(1000)),
    "MTR": ("m", Decimal(1)),
    "CMT": ("m", Decimal("0.01")),
    "MMT": ("m", Decimal("0.001")),
    "H87": ("pcs", Decimal(1)),
    "C62": ("pcs", Decimal(1)),
    "EA": ("pcs", Decimal(1)),
    "": ("pcs", Decimal(1)),
}


@dataclass(slots=True)
class Amount:
    """A quantity as an event says it; `micro` is None if it does not, or in no unit of ours."""

    micro: int | None
    unit: str


def amount_of(element: Mapping[str, Any]) -> tuple[Amount, str]:
    """Read the quantity of a checked element, and say why it cannot be kept; "" if it can."""
    if "quantity" not in element:
        return Amount(None, ""), ""
    uom = str(element.get("uom", ""))
    said = f"{element['quantity']} {uom}".strip()
    if uom not in UNITS:
        return Amount(None, ""), f"{said}: lotkin keeps no quantities in {uom}"
    unit, factor = UNITS[uom]
    try:
        micro = (Decimal(str(element["quantity"])) * factor * MICRO).to_integral_exact()
    except InvalidOperation:
        micro = Decimal(-1)
    if not 0 <= micro <= LARGEST * MICRO or (unit == "pcs" and micro % MICRO):
        return Amount(None, ""), f"{said}: not a quantity of {unit}"
    return Amount(int(micro), unit), ""


class Shares:
    """Divides what went in over what came out, by size, where all sizes are in one unit."""

    def __init__(self, out: Sequence[Amount]) -> None:
        units = {amount.unit for amount in out}
        known = all(amount.micro is not None for amount in out) and len(units) == 1
        self.is_single = len(out) == 1
        self._weights = [amount.micro or 0 for amount in out] if known else []

    def of(self, micro: int | None, number: int) -> int | None:
        """Give the share of one output; None if it cannot be told."""
        if micro is None or self.is_single:
            return micro
        return allocate(micro, self._weights)[number] if self._weights else None


def text_of(micro: int) -> str:
    """Write millionths as events do."""
    return format(from_micro(micro), "f")


def code_from(text: str) -> str:
    """Make a code of a text: printable, at most 80 characters, different for different texts."""
    code = quote(text, safe="!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~")
    if len(code) <= LONGEST:
        return code
    return f"{code[: LONGEST - 17]}~{sha256(text.encode()).hexdigest()[:16]}"


def place_from(uri: str) -> str:
    """Make the code of a place or party: its GLN, what a works of ours calls it, or the URI."""
    said = parts_of(uri)
    if "414" in said or "417" in said:
        name = "-".join(unquote(value) for value in said.values())
    else:
        name = said_by(uri, "place") or said_by(uri, "party") or uri
    name = code_from(name)
    return f"place:{name}"[:LONGEST] if name in END_NAMES else name
