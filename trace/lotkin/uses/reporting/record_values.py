"""What an event says beside which items it made, used or moved: documents, parties, results."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from lotkin.core.values.canonical import Json

__all__ = ["Said", "said_by_event"]

LONGEST = 500


class Said(NamedTuple):
    """What an event says.

    Attributes:
        delivery_note: Number of the supplier's delivery note.
        order: What a shipment names: the customer's order, or a delivery note.
        certificate: Type of the inspection document (EN 10204).
        files: SHA-256 of the files that came with a delivery, with semicolons.
        traveller: Of the order in the works.
        case: Code of the case.
        recipient: Code of whom it went to.
        subjects: Codes of the items that the result is about.
        result: What was found or decided, in words.
    """

    delivery_note: str = ""
    order: str = ""
    certificate: str = ""
    files: str = ""
    traveller: str = ""
    case: str = ""
    recipient: str = ""
    subjects: tuple[str, ...] = ()
    result: str = ""


def said_by_event(kind: str, data: Mapping[str, Json]) -> Said:
    """Gather what an event of a kind says.

    Args:
        kind: Of the event.
        data: The event as it reads.
    """
    result = RESULTS.get(kind)
    return Said(
        delivery_note=_text(data, "delivery_note"),
        order=_text(data, "reference") if kind == "ship" else "",
        certificate=_text(data, "certificate"),
        files="; ".join(str(row["sha256"]) for row in _rows(data, "documents")),
        traveller=_text(data, "traveller"),
        case=_text(data, "case"),
        recipient=_text(data, {"ship": "customer", "send": "supplier"}.get(kind, "")),
        subjects=_subjects(kind, data),
        result=_result(result, data),
    )


def _result(result: Callable[[Mapping[str, Json]], str] | None, data: Mapping[str, Json]) -> str:
    """Say how an event ended; of one that had no right to it that it changed nothing."""
    said = result(data) if result is not None else ""
    if said and data.get("lacks_right"):
        said = f"no effect, without the right: {said}"
    claimed = _text(data, "claimed_at")
    return "; ".join(filter(None, [said, claimed and f"said to have been at {claimed}"]))[:LONGEST]


def _text(data: Mapping[str, Json], name: str) -> str:
    value = data.get(name)
    return value if isinstance(value, str) else ""


def _rows(data: Mapping[str, Json], name: str) -> list[dict[str, Json]]:
    rows = data.get(name)
    return [row for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []


def _subjects(kind: str, data: Mapping[str, Json]) -> tuple[str, ...]:
    if kind == "decide":
        members = [(row.get("code") or row.get("item")) for row in _rows(data, "members")]
        return tuple(str(member) for member in members)
    said = data.get(SUBJECT.get(kind, ""))
    if isinstance(said, str):
        return (said,)
    return tuple(str(each) for each in said) if isinstance(said, list) else ()


SUBJECT = {
    "test": "unit",
    "inspect": "item",
    "open-case": "subjects",
    "count": "item",
    "drill": "subject",
}
"""Kind of an event -> the field that names what its result is about."""


def _because(word: str, data: Mapping[str, Json]) -> str:
    reason, evidence = _text(data, "reason"), _text(data, "evidence")
    said = f"{word}: {reason}" if reason else word
    return f"{said} (evidence: {evidence})" if evidence else said


def _measured(row: Mapping[str, Json], values: str, unit: str) -> str:
    said = row.get(values)
    numbers = "; ".join(str(each) for each in said) if isinstance(said, list) else ""
    return " ".join(filter(None, (numbers, _text(row, unit))))


def _tested(data: Mapping[str, Json]) -> str:
    passed = data.get("passed")
    why = _text(data, "unfit")
    not_judged = f"no verdict, as {why}" if why else "no verdict"
    verdict = not_judged if passed is None else "passed" if passed else "failed"
    readings = _measured(data, "readings", "measure_unit")
    limits = [f"{name} {data[name]}" for name in ("min", "max") if data.get(name) is not None]
    said = f"{_text(data, 'name')}: {verdict}, {readings}"
    return f"{said} ({', '.join(limits)})" if limits else said


def _inspected(data: Mapping[str, Json]) -> str:
    measures = [
        f"{_text(row, 'name')} {_measured(row, 'values', 'unit')}"
        for row in _rows(data, "measures")
    ]
    looked_at = [f"{data['checked']} looked at"] if data.get("checked") else []
    return ", ".join([_because(_text(data, "result"), data), *looked_at, *measures])


def _counted(data: Mapping[str, Json]) -> str:
    if data.get("counted") is None:
        return ""
    book = data.get("book")
    said = f"counted {data['counted']}"
    return said if book is None else f"{said}, the book said {book}"


def _drilled(data: Mapping[str, Json]) -> str:
    accounts = [
        f"{row.get('found', 0)} of {row.get('of', 0)} {_text(row, 'unit')} found"
        for row in _rows(data, "accounts")
    ]
    units = f"{data.get('complete_units', 0)} of {data.get('units', 0)} units complete"
    return ", ".join([units, *accounts])


def _received(data: Mapping[str, Json]) -> str:
    said = [f"held: {_text(data, 'hold')}"] if data.get("hold") else []
    came = data.get("delivered")
    for name, (before, after) in MEASURED.items():
        if isinstance(came, dict) and came.get(name) is not None:
            said.append(f"{before}{came[name]}{after}")
    if data.get("grade"):
        said.append(f"grade {_text(data, 'grade')} by the certificate")
    confirmed = data.get("confirmed")
    if isinstance(confirmed, list):
        said += [f"confirmed: {each}" for each in confirmed]
    return "; ".join(said)


def _adopted(data: Mapping[str, Json]) -> str:
    hashes = data.get("hashes")
    named = ", ".join(map(str, hashes)) if isinstance(hashes, list) else ""
    return f"taken over from a document; event hash {named}" if named else ""


MEASURED = {
    "bars": ("", " bars"),
    "bar_length_mm": ("each ", " mm long"),
    "diameter_mm": ("", " mm in diameter"),
    "mass_kg": ("", " kg weighed"),
}
"""What was counted, measured and weighed when it came -> what stands before and behind it."""


RESULTS: dict[str, Callable[[Mapping[str, Json]], str]] = {
    "test": _tested,
    "inspect": _inspected,
    "decide": lambda data: _because(_text(data, "decision"), data),
    "open-case": lambda data: _because("opened", data),
    "close-case": lambda data: _because("closed", data),
    "return": lambda data: _because("returned", data),
    "scrap": lambda data: _because(_text(data, "end") or "scrap", data),
    "identify": lambda data: _because("identified", data),
    "amend": lambda data: _because("amended", data),
    "void": lambda data: _because("voided", data),
    "count": _counted,
    "drill": _drilled,
    "receive": _received,
    "adopt": _adopted,
}
"""Kind of an event -> how its result is said."""
