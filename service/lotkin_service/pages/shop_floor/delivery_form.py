"""What the form of goods-in says, in the words of a delivery."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Any
from uuid import UUID, uuid4

from lotkin.core.certificates import certificate_type
from lotkin.core.goods_in.plausibility import Bars
from lotkin.core.goods_in.typed_values import (
    composition_of,
    day_or_moment,
    length_mm,
    number,
    results_of,
)
from lotkin.uses.recording.delivery import Delivery

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from lotkin.uses.recording.attachments import Paper

__all__ = ["FIELDS", "Told", "told"]

LONGEST = 2000
COMPARED = "yes"
"""What the box says that is ticked when the certificate has been compared."""

FIELDS = (
    "id",
    "part",
    "supplier",
    "heat",
    "source_lot",
    "supplier_lot",
    "delivery_note",
    "quantity",
    "bars",
    "length",
    "diameter",
    "weight",
    "certificate",
    "composition",
    "mechanical",
    "due",
    "moisture",
    "place",
    "serial",
    "hold",
)


@dataclass(frozen=True, slots=True)
class Told:
    """What a form told.

    Attributes:
        texts: As typed, by field.
        delivery: What follows from it; None while something cannot be read.
        mistakes: What cannot be read, by field.
    """

    texts: Mapping[str, str]
    delivery: Delivery | None
    mistakes: Mapping[str, str]


def _type_of(text: str) -> str:
    kind = certificate_type(text)
    if kind is None:
        raise ValueError("it is 2.1, 2.2, 3.1 or 3.2")
    return kind


def _count(text: str) -> int:
    count = number(text)
    if count != count.to_integral_value():
        raise ValueError("it is a whole number")
    return int(count)


READERS: dict[str, Callable[[str], Any]] = {
    "quantity": number,
    "bars": _count,
    "length": length_mm,
    "diameter": number,
    "weight": number,
    "certificate": _type_of,
    "composition": composition_of,
    "mechanical": results_of,
    "due": day_or_moment,
    "moisture": number,
}
MEASURED = {"bars": "count", "length": "length_mm", "diameter": "diameter_mm", "weight": "mass_kg"}


def told(texts: Mapping[str, str], papers: Sequence[Paper], by: str) -> Told:
    """Read a form; what is empty is not known.

    That the certificate was compared is said by whoever is signed in, and by nobody else.
    """
    said = {name: texts.get(name, "").strip()[:LONGEST] for name in FIELDS}
    said["id"] = _id(said["id"])
    values: dict[str, Any] = {}
    mistakes: dict[str, str] = {}
    for name, text in said.items():
        if not text or name == "id":
            continue
        try:
            values[name] = READERS.get(name, str)(text)
        except ValueError as error:
            mistakes[name] = str(error)
    if mistakes:
        return Told(said, None, mistakes)
    measured: dict[str, Any] = {
        MEASURED[name]: values.pop(name) for name in list(values) if name in MEASURED
    }
    delivery = Delivery(
        id=UUID(said["id"]),
        part=str(values.pop("part", "")),
        by=by,
        papers=tuple(papers),
        bars=Bars(**measured),
        compared_by=by if texts.get("compared") == COMPARED else "",
        **values,
    )
    return Told(said, delivery, {})


def _id(text: str) -> str:
    try:
        return str(UUID(text))
    except ValueError:
        return str(uuid4())


def written(value: object) -> str:
    """Write a value of a label into a field."""
    return f"{value:f}" if isinstance(value, Decimal) else str(value)
