"""What is on record of a unit, in the words of its report."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.amounts import show_limits
from lotkin.core.values.quantities import from_micro
from lotkin_answers.places import Places
from lotkin_answers.words import certainty, moment
from lotkin_labels.reports import (
    BehindRow,
    ChangeRow,
    ComponentRow,
    InspectionRow,
    OriginRow,
    UnitRecord,
    UnitTestRow,
    WayRow,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.uses.complaints.complaint import Complaint
    from lotkin.uses.reporting.report_data import UnitData

__all__ = ["unit_record"]


def unit_record(data: UnitData, written_at: int) -> UnitRecord:
    """Make the record of a unit; `written_at` is in microseconds UTC."""
    found, places = data.unit, Places(data.plan)
    zone, unit = places.zone, found.unit
    return UnitRecord(
        serial=unit.serial or unit.code,
        part=unit.part,
        part_name=_part_name(data, unit.part),
        works=data.plan.works.name if data.plan is not None else "",
        built=moment(found.built, zone),
        started=moment(found.started, zone),
        where=", ".join(
            f"{places.titled(here.place)}{f' in {here.within}' if here.within else ''}"
            for here in found.here
        ),
        hold=found.hold,
        as_of=found.as_of,
        head_number=data.head_number,
        head_hash=data.head_hash,
        seal=data.seal,
        is_imported=found.unit_imported,
        written=moment(written_at, zone),
        states=tuple((state.code, moment(state.made_at, zone)) for state in found.states),
        components=tuple(_components(data, places)),
        origins=tuple(_origins(data, places)),
        tests=tuple(_tests(found, places)),
        inspections=tuple(_inspections(found, places)),
        way=tuple(_way(found, places)),
        changes=tuple(_changes(found, places)),
        behind=tuple(
            BehindRow(row.family, row.kind, row.code, certainty(row)) for row in found.behind
        ),
    )


def _part_name(data: UnitData, code: str) -> str:
    part = data.plan.part(code) if data.plan is not None and code else None
    return part.name if part is not None else ""


def _components(data: UnitData, places: Places) -> Iterator[ComponentRow]:
    for one in data.unit.components:
        yield ComponentRow(
            position=one.position,
            part=one.lot.part,
            part_name=_part_name(data, one.lot.part),
            quantity=from_micro(one.per),
            unit=one.lot.unit,
            lot=one.lot.code,
            instead=", ".join(other.code for other in one.alternatives),
            supplier=places.titled(one.supplier) if one.supplier else "",
            supplier_lot=one.supplier_lot,
            is_in_it=not one.removed,
            first_state=one.first_state,
            last_state=one.last_state,
        )


def _origins(data: UnitData, places: Places) -> Iterator[OriginRow]:
    """List what is behind each component; of lots that are one or the other, of both together."""
    in_it: dict[tuple[str, ...], bool] = {}
    for one in data.unit.components:
        lots = (one.lot.code, *(other.code for other in one.alternatives))
        in_it[lots] = in_it.get(lots, False) or not one.removed
    for lots, is_in_it in in_it.items():
        behind = {o.item.code: o.item for lot in lots for o in data.origins.get(lot, ())}
        sure = [{o.item.code for o in data.origins.get(lot, ()) if o.is_certain} for lot in lots]
        for code, item in behind.items():
            how_sure = "certain" if all(code in each for each in sure) else "possible"
            yield OriginRow(
                lot=" or ".join(lots),
                part=item.part,
                kind=item.kind,
                number=item.supplier_lot or code,
                supplier=places.titled(item.supplier) if item.supplier else "",
                certainty=how_sure if is_in_it else "no longer",
            )


def _tests(found: Complaint, places: Places) -> Iterator[UnitTestRow]:
    for test in found.tests:
        readings = ", ".join(format(value, "f") for value in test.readings)
        yield UnitTestRow(
            at=moment(test.at, places.zone),
            state=test.state,
            test=test.name,
            readings=f"{readings} {test.unit}".rstrip(),
            limits=show_limits(test.min, test.max, test.unit),
            is_passed=test.passed,
            resources=", ".join(test.resources),
            by=test.by,
        )


def _inspections(found: Complaint, places: Places) -> Iterator[InspectionRow]:
    for one in found.inspections:
        yield InspectionRow(
            moment(one.at, places.zone),
            one.code,
            one.item,
            one.of_unit,
            one.result,
            one.reason,
            one.by,
        )


def _way(found: Complaint, places: Places) -> Iterator[WayRow]:
    for step in found.went:
        yield WayRow(
            moment(step.at, places.zone),
            step.what,
            step.state,
            step.carton,
            step.shipment,
            places.titled(step.customer) if step.customer else "",
            step.reference,
            step.reason,
        )


def _changes(found: Complaint, places: Places) -> Iterator[ChangeRow]:
    for each in found.changes:
        taken = (
            f"{position} {code} to {to}{f', now {now}' if now else ''}".strip()
            for code, now, position, to in each.removed
        )
        yield ChangeRow(
            moment(each.at, places.zone),
            each.what,
            each.state,
            ", ".join(taken),
            ", ".join(f"{position} {code}".strip() for code, position in each.added),
            each.by,
            each.note,
        )
