"""A delivery as it is told at goods-in, and what it would be recorded as."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from lotkin.core.goods_in.keeping import end_of_day
from lotkin.core.goods_in.plausibility import Bars
from lotkin.core.rules.serialised import carries_serial

if TYPE_CHECKING:
    from collections.abc import Mapping
    from uuid import UUID

    from lotkin.core.plan import ShopPlan
    from lotkin.core.values.canonical import Json
    from lotkin.uses.recording.attachments import Paper

__all__ = ["Delivery", "item_kind_of", "last_moment", "supplier_code"]

RECEIVED_AS = {
    "bar-lot": "bar-lot",
    "powder-lot": "powder-lot",
    "powder-blend": "powder-lot",
    "machined-lot": "machined-lot",
    "treated-lot": "treated-lot",
}
"""Kind of a part -> kind of a delivery of it; all others are bought."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Delivery:
    """One lot that came, or a resource; what is not known is left out.

    A delivery with two heats is two of these.

    Attributes:
        id: Chosen by the sender; the same delivery sent again is recorded once.
        part: Code of the part, or of the resource.
        by: Who receives it.
        at: When it came; None for now.
        quantity: In the unit of the part; None if bars, length or weight tell it.
        place: Where it is put.
        supplier: Code of the supplier.
        supplier_lot: Their number of this delivery.
        delivery_note: Number of their delivery note.
        heat, source_lot: Number of the melt, or of the supplier's own lot; not both.
        certificate: Type of the inspection document that came.
        papers: Certificates and photos, looked at by `read_papers`.
        grade, composition, mechanical: As somebody has confirmed them on the certificate.
        compared_by: Who has compared every value of the certificate with what the part needs.
        bars: What was counted, measured and weighed.
        due: Expiry; a day counts to its end.
        moisture: In percent by mass.
        hold: Why it is received on hold, if whoever receives it says so.
        code: Of the new lot; made up if left out.
        item_kind: Only needed where the plan does not know the part.
    """

    id: UUID
    part: str
    by: str
    at: datetime | None = None
    quantity: Decimal | None = None
    unit: str = ""
    place: str = ""
    supplier: str = ""
    supplier_lot: str = ""
    delivery_note: str = ""
    heat: str = ""
    source_lot: str = ""
    certificate: str = ""
    papers: tuple[Paper, ...] = ()
    grade: str = ""
    composition: Mapping[str, Decimal] = field(default_factory=dict)
    mechanical: Mapping[str, tuple[Decimal, ...]] = field(default_factory=dict)
    compared_by: str = ""
    bars: Bars = field(default_factory=Bars)
    due: datetime | date | None = None
    moisture: Decimal | None = None
    hold: str = ""
    code: str = ""
    item_kind: str = ""
    serial: str = ""
    station: str = ""
    note: str = ""

    @property
    def number(self) -> str:
        """The number of the heat or source lot, else that of the delivery."""
        return self.heat or self.source_lot or self.supplier_lot

    def amount(self, plan: ShopPlan | None) -> Decimal | None:
        """Give the quantity, or what bars, length and weight say of it; None if nothing does."""
        if self.quantity is not None:
            return self.quantity
        unit = self.unit_in(plan)
        if plan is not None and plan.resource(self.part) is not None:
            return Decimal(1)
        if unit == "kg":
            return self.bars.mass_kg
        if unit == "m" and self.bars.metres is not None:
            return round(self.bars.metres, 6)
        return Decimal(self.bars.count) if unit == "pcs" and self.bars.count else None

    def unit_in(self, plan: ShopPlan | None) -> str:
        """Give the unit that the quantity is in."""
        part = plan.part(self.part) if plan is not None else None
        return self.unit or (part.unit if part is not None else "pcs")

    def metres(self, plan: ShopPlan | None) -> Decimal | None:
        """Give the length of all bars together; None if nothing tells it."""
        return self.quantity if self.unit_in(plan) == "m" and self.quantity else self.bars.metres

    def lacks(self, plan: ShopPlan | None) -> list[str]:
        """Name what must be known before it can be recorded, e.g. `quantity`."""
        needed = {
            "part": bool(self.part),
            "quantity": self.amount(plan) is not None,
            "place": bool(self.place),
            "supplier": bool(self.supplier or not (self.heat or self.source_lot)),
            "kind": bool(item_kind_of(self, plan)),
            "serial": bool(self.serial or not carries_serial(plan, self.part, "")),
        }
        return [name for name, is_known in needed.items() if not is_known]

    def said(self, plan: ShopPlan | None) -> dict[str, Json]:
        """Give the fields of the event that this says, and no others."""
        amount = self.amount(plan)
        moment = last_moment(self.due, plan)
        fields: dict[str, Json] = {
            "at": self.at.isoformat() if self.at is not None else None,
            "by": self.by,
            "part": self.part,
            "quantity": None if amount is None else f"{amount:f}",
            "unit": self.unit,
            "place": self.place,
            "supplier": self.supplier,
            "supplier_lot": self.supplier_lot,
            "delivery_note": self.delivery_note,
            "source": self._source(),
            "certificate": self.certificate,
            "grade": self.grade,
            "composition": {element: f"{v:f}" for element, v in self.composition.items()},
            "mechanical": {s: [f"{v:f}" for v in values] for s, values in self.mechanical.items()},
            "compared_by": self.compared_by,
            "delivered": self._delivered(),
            "due": moment.isoformat() if moment is not None else None,
            "moisture_percent": None if self.moisture is None else f"{self.moisture:f}",
            "code": self.code,
            "item_kind": item_kind_of(self, plan),
            "serial": self.serial,
            "station": self.station,
            "note": self.note,
        }
        return {name: value for name, value in fields.items() if value not in (None, "", {}, [])}

    def _source(self) -> Json:
        if self.heat:
            return {"kind": "heat", "number": self.heat}
        return {"kind": "source-lot", "number": self.source_lot} if self.source_lot else None

    def _delivered(self) -> Json:
        bars = self.bars
        said: dict[str, Json] = {"bars": bars.count} if bars.count is not None else {}
        for name, value in (
            ("mass_kg", bars.mass_kg),
            ("bar_length_mm", bars.length_mm),
            ("diameter_mm", bars.diameter_mm),
        ):
            if value is not None:
                said[name] = f"{value:f}"
        return said


def item_kind_of(delivery: Delivery, plan: ShopPlan | None) -> str:
    """Give the kind of item that a delivery becomes; "" if neither it nor the plan tells."""
    if delivery.item_kind or plan is None:
        return delivery.item_kind
    resource, part = plan.resource(delivery.part), plan.part(delivery.part)
    if resource is not None:
        return resource.kind
    return RECEIVED_AS.get(part.kind, "purchased-lot") if part is not None else ""


def supplier_code(text: str, plan: ShopPlan | None) -> str:
    """Give the code of the one supplier that a text names, in any case or by name; else the text.

    Which case somebody types says nothing; two suppliers of one name stay for whoever knows.
    """
    if plan is None or not text or plan.supplier(text) is not None:
        return text
    plain = text.strip().casefold()
    named = [s.code for s in plan.suppliers if plain in (s.code.casefold(), s.name.casefold())]
    return named[0] if len(named) == 1 else text


def last_moment(due: datetime | date | None, plan: ShopPlan | None) -> datetime | None:
    """Give the moment after which something must not be used: a day counts to its end there."""
    if due is None or isinstance(due, datetime):
        return due
    return end_of_day(due, plan)
