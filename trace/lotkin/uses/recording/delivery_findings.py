"""What is found when a delivery is looked at: papers, values, weight, dates, doubles."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from lotkin.core.certificates import Stated, check_type, compare_papers, untyped_papers
from lotkin.core.certificates.compared import Values, not_compared
from lotkin.core.goods_in.keeping import check_moisture, date_by_plan, no_expiry_given
from lotkin.core.goods_in.plausibility import check_expiry, check_length, check_weight, duplicates
from lotkin.core.materials import Finding, Severity, check_certificate, find_grade
from lotkin.core.plan.bar_yield import cut_from, of_length, pieces_from, say_yield
from lotkin.core.plan.values import plain_number
from lotkin.core.values.instants import from_us
from lotkin.core.values.quantities import to_micro
from lotkin.uses.recording.delivery import item_kind_of, last_moment

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.view import View
    from lotkin.core.plan import PartPlan, ShopPlan
    from lotkin.uses.recording.delivery import Delivery

__all__ = ["NO_EXPIRY_GIVEN", "findings_of"]

NO_EXPIRY_GIVEN = "expiry-by-plan"
"""The question whether no expiry is printed, so that the shelf life of the plan counts."""


@dataclass(frozen=True, slots=True)
class _Look:
    """A delivery, what the plan says of its part, and when it came."""

    delivery: Delivery
    plan: ShopPlan | None
    at_us: int

    @property
    def part(self) -> PartPlan | None:
        return self.plan.part(self.delivery.part) if self.plan is not None else None

    @property
    def stated(self) -> Stated:
        delivery, part = self.delivery, self.part
        return Stated(
            record=delivery.part,
            heat=delivery.heat or delivery.source_lot,
            grade=find_grade(part.material) if part is not None and part.material else None,
            wanted=part.certificate if part is not None else None,
            certificate=delivery.certificate,
            diameter_mm=delivery.bars.diameter_mm,
            composition=delivery.composition,
            mechanical=delivery.mechanical,
            compared_by=delivery.compared_by,
            expiry=self.due.date().isoformat() if self.due is not None else "",
            moisture=delivery.moisture,
        )

    @property
    def due(self) -> datetime | None:
        return last_moment(self.delivery.due, self.plan)

    @property
    def at(self) -> datetime:
        return self.delivery.at or from_us(self.at_us)


def findings_of(view: View, plan: ShopPlan | None, delivery: Delivery, at_us: int) -> list[Finding]:
    """Look at a delivery from all sides.

    Args:
        view: What was received before.
        plan: The plan in force.
        delivery: Complete, but for what the plan tells.
        at_us: When it is recorded, in microseconds UTC.

    Returns:
        Reasons to hold, warnings to confirm and notes, each once.
    """
    look = _Look(delivery, plan, at_us)
    found = [
        *_certificate(look),
        *_grade(look),
        *_not_compared(look),
        *compare_papers({paper.name: paper.reading for paper in delivery.papers}, look.stated),
        *_weights(look),
        *_serial(look),
        *_dates(look),
        *check_moisture(look.part, delivery.moisture),
        *_doubles(view, look),
    ]
    return list(dict.fromkeys(found))


def _certificate(look: _Look) -> Iterable[Finding]:
    stated = look.stated
    papers = look.delivery.papers
    read = [
        f"{paper.name} reads {paper.reading.certificate_type.value}, which nobody has confirmed"
        for paper in papers
        if paper.reading is not None and paper.reading.certificate_type is not None
    ]
    came = read[0] if read else untyped_papers(paper.name for paper in papers)
    yield from check_type(stated.wanted, stated.certificate, record=stated.record, came=came)
    if stated.certificate and not look.delivery.papers:
        text = f"the certificate {stated.certificate} is not attached"
        yield Finding("not-attached", Severity.NOTE, stated.record, text)


def _grade(look: _Look) -> Iterable[Finding]:
    """Compare the grade and the confirmed values with what the part needs."""
    stated, named = look.stated, look.delivery.grade
    material = look.part.material if look.part is not None else None
    has_values = bool(stated.composition or stated.mechanical or look.delivery.papers)
    if material and stated.grade is None and has_values:
        text = f"no limits of {material} are known; nothing was compared"
        yield Finding("no-limits", Severity.NOTE, stated.record, text)
    if stated.grade is None:
        return
    if named and find_grade(named) is None:
        text = f"the certificate names {named}, {stated.record} is {stated.grade.id}"
        yield Finding("grade-not-named", Severity.WARNING, stated.record, text)
    elif named and find_grade(named) != stated.grade:
        text = f"the certificate names {named}, {stated.record} is {stated.grade.id}"
        yield Finding("grade", Severity.HOLD, stated.record, text)
    yield from check_certificate(
        stated.grade, stated.composition, stated.mechanical, stated.diameter_mm
    )


def _not_compared(look: _Look) -> Iterable[Finding]:
    """Tell what of the certificate nobody has compared; one that is missing is told already."""
    stated = look.stated
    if look.part is not None and stated.certificate:
        said = Values(stated.composition, stated.mechanical, stated.compared_by)
        yield from not_compared(look.part, said, stated.diameter_mm)


def _weights(look: _Look) -> Iterable[Finding]:
    delivery, stated = look.delivery, look.stated
    metres, bars = delivery.metres(look.plan), delivery.bars
    if bars.mass_kg is None and delivery.unit_in(look.plan) == "kg":
        bars = replace(bars, mass_kg=delivery.quantity)
    if stated.grade is not None:
        grade = stated.grade
        yield from check_weight(
            bars,
            metres,
            grade.density_kg_m3,
            record=stated.record,
            is_proven=grade.density_is_proven,
        )
    yield from check_length(bars, metres, record=stated.record)
    if look.plan is not None:
        yield from _pieces(look.plan, delivery)


def _pieces(plan: ShopPlan, delivery: Delivery) -> Iterable[Finding]:
    """Tell what the bars give of each part that is cut from them, by the length that came."""
    amount, unit = delivery.amount(plan), delivery.unit_in(plan)
    for part, bar in cut_from(plan, delivery.part):
        length = delivery.bars.length_mm
        if length is not None and length != bar.length_mm:
            text = (
                f"{delivery.part}: bars of {plain_number(length)} mm came, the plan cuts "
                f"{part.code} from bars of {plain_number(bar.length_mm)} mm"
            )
            yield Finding("other-length", Severity.WARNING, delivery.part, text)
        if length:
            bar = of_length(bar, length)  # noqa: PLW2901 - the same cut, of what came
        most = None if amount is None else pieces_from(bar, to_micro(amount), unit)
        if most is not None:
            text = f"{delivery.part}: {most} {part.code} at most, {say_yield(bar)}"
            yield Finding("bar-yield", Severity.NOTE, delivery.part, text)


def _serial(look: _Look) -> Iterable[Finding]:
    """Ask about a serial of something that has none by the plan."""
    part, serial = look.part, look.delivery.serial
    if part is not None and part.serialised is False and serial:
        text = f"{part.code}: the serial {serial} was given, but by the plan no piece carries one"
        yield Finding("serial-not-planned", Severity.WARNING, part.code, text)


def _dates(look: _Look) -> Iterable[Finding]:
    delivery, part, record = look.delivery, look.part, look.delivery.part
    days = part.shelf_life_days if part is not None else None
    life = timedelta(days=days) if days is not None else None
    yield from check_expiry(look.due, look.at, life, record=record)
    if look.due is not None:
        return
    counted = date_by_plan(look.plan, record, item_kind_of(delivery, look.plan), look.at)
    if counted is None or counted.counted != "shelf-life":
        if part is not None and part.kind == "powder-lot":
            yield Finding("no-expiry", Severity.NOTE, record, f"{record}: no expiry is known")
    elif any(paper.reading is not None and paper.reading.names_expiry for paper in delivery.papers):
        yield from no_expiry_given(counted, record=record)
    else:
        text = (
            f"{record}: no printed expiry was given; by the shelf life of {days} days in the plan "
            f"it would be {counted.day}"
        )
        yield Finding(NO_EXPIRY_GIVEN, Severity.WARNING, record, text)


def _doubles(view: View, look: _Look) -> Iterable[Finding]:
    delivery = look.delivery
    amount = delivery.amount(look.plan)
    if amount is None or not delivery.number:
        return
    words = "heat " if delivery.heat else "lot "
    yield from duplicates(
        _earlier(view, delivery),
        quantity=to_micro(amount, record=delivery.part),
        at_us=look.at_us,
        number=words + delivery.number,
        record=delivery.part,
    )


def _earlier(view: View, delivery: Delivery) -> list[Item]:
    """Find earlier deliveries of the part with one of these numbers of the supplier."""
    found: dict[str, Item] = {}
    for number in filter(None, (delivery.heat, delivery.source_lot, delivery.supplier_lot)):
        for carrying in view.carrying(number):
            if carrying.supplier != delivery.supplier:
                continue
            codes = [carrying.code]
            if carrying.kind in ("heat", "source-lot"):
                codes = [link.child for link in view.children(carrying.code)]
            for code in codes:
                item = view.item(code)
                if item is not None and item.part == delivery.part:
                    found[code] = item
    return list(found.values())
