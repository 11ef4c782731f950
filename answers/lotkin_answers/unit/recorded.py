"""What is on record of a unit, put into rows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.amounts import show_limits
from lotkin.core.values.quantities import from_micro
from lotkin_answers.places import Places
from lotkin_answers.unit.record import (
    BehindRow,
    ChangeRow,
    ComponentRow,
    InspectionRow,
    OriginRow,
    UnitRecord,
    UnitTestRow,
    WayRow,
)
from lotkin_answers.words import certainty, moment, plain_number

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.events.quality.inspection import Measure
    from lotkin.uses.complaints.complaint import Complaint
    from lotkin.uses.complaints.tests import Tested
    from lotkin.uses.reporting.report_data import UnitData

__all__ = [
    "change_rows",
    "inspection_rows",
    "limits_of_test",
    "rows_of_tests",
    "unit_record",
    "way_rows",
]


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
        tests=tuple(rows_of_tests(found, places)),
        inspections=tuple(inspection_rows(found, places)),
        way=tuple(way_rows(found, places)),
        changes=tuple(change_rows(found, places)),
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


def rows_of_tests(found: Complaint, places: Places) -> Iterator[UnitTestRow]:
    """List tests of the unit, each with all its readings."""
    for test in found.tests:
        readings = ", ".join(format(value, "f") for value in test.readings)
        yield UnitTestRow(
            at=moment(test.at, places.zone),
            state=test.state,
            test=test.name,
            readings=f"{readings} {test.unit}".rstrip(),
            limits=limits_of_test(test),
            is_passed=test.passed,
            resources=", ".join(test.resources),
            by=test.by,
        )


def inspection_rows(found: Complaint, places: Places) -> Iterator[InspectionRow]:
    """List inspections of the unit and of lots behind it."""
    for one in found.inspections:
        yield InspectionRow(
            at=moment(one.at, places.zone),
            inspection=one.code,
            item=one.item,
            is_of_unit=one.of_unit,
            result=one.result,
            measured=", ".join(map(_measured, one.measures)),
            reason=one.reason,
            by=one.by,
        )


def _measured(one: Measure) -> str:
    return f"{one.name} {' '.join(map(plain_number, one.values))} {one.unit}".strip()


def way_rows(found: Complaint, places: Places) -> Iterator[WayRow]:
    """List where it went, step by step."""
    for step in found.went:
        yield WayRow(
            at=moment(step.at, places.zone),
            what=step.what,
            state=step.state,
            carton=step.carton,
            shipment=step.shipment,
            customer=places.titled(step.customer) if step.customer else "",
            reference=step.reference,
            reason=step.reason,
        )


def change_rows(found: Complaint, places: Places) -> Iterator[ChangeRow]:
    """List what was taken out of it and put in."""
    for each in found.changes:
        taken = (
            f"{position} {code} to {to}{f', now {now}' if now else ''}".strip()
            for code, now, position, to in each.removed
        )
        yield ChangeRow(
            at=moment(each.at, places.zone),
            what=each.what,
            state=each.state,
            taken_out=", ".join(taken),
            put_in=", ".join(f"{position} {code}".strip() for code, position in each.added),
            by=each.by,
            note=each.note,
        )


def limits_of_test(test: Tested) -> str:
    """Write the limits of a test as they stood; "" for none."""
    return show_limits(test.min, test.max, test.unit)
