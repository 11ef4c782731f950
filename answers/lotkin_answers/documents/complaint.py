"""A complaint as a document, and its components as CSV rows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.instants import show_instant
from lotkin_answers.documents.answers import row_data, subject_data
from lotkin_answers.json_document import number, tidy
from lotkin_answers.unit.standing_text import cases_data, is_back

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from decimal import Decimal

    from lotkin.core.quality.percentile import Standing
    from lotkin.uses.complaints.complaint import Complaint
    from lotkin.uses.complaints.history import Changed, Corrected, Went
    from lotkin.uses.complaints.parts import BuiltIn
    from lotkin.uses.complaints.tests import Inspected, Tested
    from lotkin_answers.json_document import Data, Value
    from lotkin_answers.places import Places
    from lotkin_answers.spreadsheet import Cell

__all__ = ["COMPONENT_COLUMNS", "complaint_document", "component_rows"]

COMPONENT_COLUMNS = (
    "position", "part", "lot", "kind", "alternatives", "quantity", "unit", "supplier",
    "supplier_lot", "first_state", "last_state", "removed", "other_units", "other_units_certain",
    "other_units_at",
)  # fmt: skip


def complaint_document(found: Complaint, places: Places) -> dict[str, Value | Iterable[Value]]:
    """Describe all that is on record of a unit."""
    return {
        "unit": _unit(found),
        "states": [
            {"code": state.code, "made_at": _instant(state.made_at), "event": state.event}
            for state in found.states
        ],
        "went": [_went(step, places) for step in found.went],
        "changes": [_changed(each) for each in found.changes],
        "tests": [_tested(test) for test in found.tests],
        "inspections": [_inspected(each) for each in found.inspections],
        "components": [_component(one, found, places) for one in found.components],
        "papers": [
            {
                **subject_data(paper.lot),
                "supplier": paper.lot.supplier,
                "certificate": paper.certificate,
                "certainty": "certain" if paper.row.certain else "possible",
                "removed": paper.row.removed,
                "instead": list(paper.instead),
                "documents": [
                    {
                        "name": document.name,
                        "sha256": document.sha256,
                        "media_type": document.media_type,
                        "size": document.size,
                    }
                    for document in paper.documents
                ],
            }
            for paper in found.papers
        ],
        "corrections": [_corrected(each) for each in found.corrections],
        "behind": (row_data(row) for row in found.behind),
        "load_numbers": dict(sorted(found.load_numbers.items())),
        "counts": dict(found.counts),
        "unit_imported": found.unit_imported,
        "material_imported": found.material_imported,
        "as_of": found.as_of,
    }


def _unit(found: Complaint) -> Data:
    return {
        **subject_data(found.unit),
        "serial": found.unit.serial or found.unit.code,
        "started_at": _instant(found.started),
        "made_at": _instant(found.built),
        "held": bool(found.hold),
        "hold": found.hold,
        "back": is_back(found),
        "cases": list(cases_data(found.cases)),
        "at": [
            {
                "place": here.place,
                "place_kind": here.place_kind,
                "within": here.within,
                "quantity": number(here.quantity),
            }
            for here in found.here
        ],
    }


def _went(step: Went, places: Places) -> Data:
    return {
        "what": step.what,
        "at": show_instant(step.at),
        "event": step.event,
        "state": step.state,
        "carton": step.carton,
        "shipment": step.shipment,
        "customer": step.customer,
        "customer_name": places.name(step.customer) if step.customer else "",
        "reference": step.reference,
        "reason": step.reason,
    }


def _changed(each: Changed) -> Data:
    return {
        "what": each.what,
        "at": show_instant(each.at),
        "event": each.event,
        "by": each.by,
        "state": each.state,
        "note": each.note,
        "removed": [
            {"code": code, "now": now, "position": position, "to": to}
            for code, now, position, to in each.removed
        ],
        "added": [{"code": code, "position": position} for code, position in each.added],
    }


def _tested(test: Tested) -> Data:
    return {
        "name": test.name,
        "at": show_instant(test.at),
        "event": test.event,
        "by": test.by,
        "state": test.state,
        "passed": test.passed,
        "unit": test.unit,
        "min": test.min,
        "max": test.max,
        "readings": [
            {"value": value, **_standing(standing)}
            for value, standing in zip(test.readings, test.standings, strict=True)
        ],
        "mean": _standing(test.mean),
        "resources": list(test.resources),
    }


def _standing(standing: Standing) -> Data:
    return {
        "rank": standing.rank,
        "of": standing.of,
        "percentile": tidy(standing.percentile),
        "low": _short(standing.low),
        "median": _short(standing.median),
        "high": _short(standing.high),
    }


def _short(value: Decimal) -> Decimal:
    """Round a computed value to the six decimals that a reading can have."""
    return round(value, 6)


def _inspected(each: Inspected) -> Data:
    return {
        "code": each.code,
        "item": each.item,
        "at": show_instant(each.at),
        "event": each.event,
        "by": each.by,
        "result": each.result,
        "reason": each.reason,
        "of_unit": each.of_unit,
        "resources": list(each.resources),
        "measures": [
            {
                "name": measure.name,
                "values": list(measure.values),
                "unit": measure.unit,
                "min": measure.min,
                "max": measure.max,
            }
            for measure in each.measures
        ],
    }


def _component(one: BuiltIn, found: Complaint, places: Places) -> Data:
    return {
        "position": one.position,
        "quantity": number(one.per),
        "unit": one.lot.unit,
        "lots": [_lot(code, found, places) for code in _codes(one)],
        "part": one.lot.part,
        "kind": one.lot.kind,
        "supplier": one.supplier,
        "supplier_lot": one.supplier_lot,
        "first_state": one.first_state,
        "last_state": one.last_state,
        "removed": one.removed,
    }


def _lot(code: str, found: Complaint, places: Places) -> Data:
    shared = found.shared[code]
    return {
        "code": code,
        "other_units": shared.units,
        "other_units_certain": shared.certain,
        "at": [
            {"place": place, "name": places.name(place), "units": units}
            for place, units in shared.at.items()
        ],
    }


def _codes(one: BuiltIn) -> tuple[str, ...]:
    return (one.lot.code, *(other.code for other in one.alternatives))


def _corrected(each: Corrected) -> Data:
    return {
        "what": each.what,
        "at": show_instant(each.at),
        "event": each.event,
        "by": each.by,
        "reason": each.reason,
        "of_events": list(each.of),
    }


def _instant(us: int | None) -> str | None:
    return None if us is None else show_instant(us)


def component_rows(found: Complaint) -> Iterator[tuple[Cell, ...]]:
    """Write the components as rows of `COMPONENT_COLUMNS`, a row for each."""
    for one in found.components:
        shared = found.shared[one.lot.code]
        yield (
            one.position,
            one.lot.part,
            one.lot.code,
            one.lot.kind,
            "; ".join(other.code for other in one.alternatives),
            number(one.per),
            one.lot.unit,
            one.supplier,
            one.supplier_lot,
            one.first_state,
            one.last_state,
            one.removed,
            shared.units,
            shared.certain,
            "; ".join(f"{place}: {units}" for place, units in shared.at.items()),
        )
