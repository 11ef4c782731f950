"""A delivery for people: what it is recorded as, what was found, what a certificate reads."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.goods_in.keeping import BY_PLAN
from lotkin.core.materials.symbols import UNITS
from lotkin.core.values.instants import to_us
from lotkin_answers.words import moment

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from decimal import Decimal

    from lotkin.core.certificates import CertificateReading
    from lotkin.core.events.material.receive import Receive
    from lotkin.core.plan import ShopPlan
    from lotkin_answers.places import Places

__all__ = ["delivery_lines", "finding_lines", "reading_lines", "values_text"]

UNIT_BY_SYMBOL: dict[str, str] = {str(symbol): unit for symbol, unit in UNITS.items()}


def delivery_lines(event: Receive, plan: ShopPlan | None, places: Places) -> list[str]:
    """Read a delivery back, a line for each side of it."""
    part = plan.part(event.part) if plan is not None else None
    unit = event.unit or (part.unit if part is not None else "pcs")
    named = f" ({part.name})" if part is not None else ""
    lines = [
        f"{event.quantity:f} {unit} of {event.part}{named} as {event.code}",
        f"at {places.titled(event.place)}, {moment(event.at_us, places.zone)}, by {event.by}",
    ]
    if event.supplier or event.supplier_lot:
        lines.insert(1, _origin(event, places))
    if event.certificate or event.documents:
        names = ", ".join(document.name for document in event.documents)
        what = f"certificate {event.certificate}" if event.certificate else "no certificate stated"
        lines.append(f"{what}: {names}" if names else what)
    if event.grade:
        lines.append(f"grade {event.grade}")
    if event.composition:
        values = {element: (value,) for element, value in event.composition.items()}
        lines.append(f"composition in %: {values_text(values)}")
    if event.mechanical:
        results = {str(symbol): each for symbol, each in event.mechanical.items()}
        lines.append(f"strength: {values_text(results)}")
    if event.compared_by:
        lines.append(f"values on the certificate compared by {event.compared_by}")
    if event.delivered is not None:
        lines.append(_delivered(event))
    return [*lines, *_keeping(event, places)]


def _keeping(event: Receive, places: Places) -> Iterator[str]:
    if event.due is not None:
        by_plan = f", {BY_PLAN[event.due_by_plan]}" if event.due_by_plan else ""
        yield f"to be used until {moment(to_us(event.due), places.zone)}{by_plan}"
    if event.no_printed_expiry:
        yield "no printed expiry"
    if event.moisture_percent is not None:
        yield f"moisture {event.moisture_percent:f} %"


def _origin(event: Receive, places: Places) -> str:
    said = [f"from {places.titled(event.supplier)}" if event.supplier else "from nobody named"]
    if event.source is not None:
        said.append(f"{event.source.kind.replace('-', ' ')} {event.source.number}")
    if event.supplier_lot:
        said.append(f"their number {event.supplier_lot}")
    return ", ".join(said)


def _delivered(event: Receive) -> str:
    came = event.delivered
    assert came is not None
    length = f" of {came.bar_length_mm:f} mm" if came.bar_length_mm is not None else ""
    said = [
        f"{came.bars} bars{length}" if came.bars is not None else length.strip(),
        f"{came.diameter_mm:f} mm round" if came.diameter_mm is not None else "",
        f"{came.mass_kg:f} kg" if came.mass_kg is not None else "",
    ]
    return ", ".join(filter(None, said))


def finding_lines(
    reasons: Sequence[str], questions: Sequence[str], notes: Sequence[str]
) -> list[str]:
    """Tell what was found, the gravest first."""
    return [
        *(f"HOLD  {reason}" for reason in reasons),
        *(f"  ?   {question}" for question in questions),
        *(f"  -   {note}" for note in notes),
    ]


def reading_lines(name: str, reading: CertificateReading) -> list[str]:
    """Tell what a certificate seems to say, for somebody who has it before them."""
    found = [
        ("type", reading.certificate_type.value if reading.certificate_type else ""),
        ("heat", ", ".join(each.value for each in reading.heats)),
        ("grade", ", ".join(each.value for each in reading.grades)),
        ("diameter", f"{reading.diameter_mm.value} mm" if reading.diameter_mm else ""),
        ("batch", ", ".join(each.value for each in reading.batches)),
        ("expiry", ", ".join(each.value for each in reading.expiries)),
        ("moisture", f"{reading.moisture_percent.value} %" if reading.moisture_percent else ""),
        ("length", f"{reading.length_mm.value} mm" if reading.length_mm else ""),
    ]
    said = "; ".join(f"{what} {value}" for what, value in found if value)
    lines = [f"{name} reads {said}" if said else f"{name}: nothing could be read"]
    return [*lines, *(f"  not read: {note}" for note in reading.notes)]


def values_text(values: Mapping[str, Sequence[Decimal]]) -> str:
    """Write values by their symbols, `C 0.08, Rm 560 571 MPa`."""
    return ", ".join(
        f"{symbol} {' '.join(f'{v:f}' for v in each)} {UNIT_BY_SYMBOL.get(symbol, '')}".rstrip()
        for symbol, each in values.items()
    )
