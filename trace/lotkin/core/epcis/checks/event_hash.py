"""The event hash: a name for an event that whoever holds the event can work out.

Source: CBV 2.0 (ISO/IEC 19988), section on the hash of EPCIS events, and the examples that its
authors publish (Tröger, Schmittner). What an event says is written as one text in a fixed order,
identifiers in their normal form, times in UTC; the SHA-256 of the text is the hash. `recordTime`,
`eventID` and `errorDeclaration` are left out, so an event that is declared to be in error has the
hash of the event that was sent first.
"""

from __future__ import annotations

import hashlib
import re
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

from lotkin.core.epcis.checks.vocabulary import in_full
from lotkin.core.epcis.identifiers import normal_form

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    Names = Mapping[str, str]

__all__ = ["event_hash", "pre_hash"]

LEFT_OUT = frozenset({"type", "recordTime", "eventID", "errorDeclaration", "@context"})
NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?")
TIMES = frozenset({"eventTime", "time", "startTime", "endTime"})
HALF_MS = timedelta(microseconds=500)

SINGLE = (
    *("eventTime", "eventTimeZoneOffset", "certificationInfo", "parentID"),
    *("epcList", "inputEPCList", "childEPCs"),
    *("quantityList", "childQuantityList", "inputQuantityList"),
    *("outputEPCList", "outputQuantityList"),
    *("action", "transformationID", "bizStep", "disposition", "persistentDisposition"),
    *("readPoint", "bizLocation", "bizTransactionList", "destinationList", "sourceList"),
    "sensorElementList",
)
"""The order of what stands directly in an event."""

QUANTITY = ("epcClass", "quantity", "uom")
METADATA = (
    *("time", "startTime", "endTime", "deviceID", "deviceMetadata", "rawData"),
    *("dataProcessingMethod", "bizRules"),
)
REPORT = (
    *("type", "exception", "deviceID", "deviceMetadata", "rawData", "dataProcessingMethod"),
    "bizRules",
    *("time", "microorganism", "chemicalSubstance", "value", "component", "stringValue"),
    *("booleanValue", "hexBinaryValue", "uriValue", "minValue", "maxValue", "meanValue"),
    *("sDev", "percRank", "percValue", "uom", "coordinateReferenceSystem"),
)


def event_hash(event: Mapping[str, Any], names: Names) -> str:
    """Give the hash of an event as a URI (RFC 6920).

    Args:
        event: As it stands in a document, JSON values.
        names: Prefix -> namespace, as declared by the document.
    """
    digest = hashlib.sha256(pre_hash(event, names).encode()).hexdigest()
    return f"ni:///sha-256;{digest}?ver=CBV2.0"


def pre_hash(event: Mapping[str, Any], names: Names) -> str:
    """Write what an event says as the one text that is hashed."""
    told = [f"eventType={event['type']}"]
    told += [FIELDS.get(f, _plain)(f, event[f], names) for f in SINGLE if f in event]
    rest = [field for field in event if field not in SINGLE and field not in LEFT_OUT]
    return "".join(told) + _extensions(event, rest, names)


def _plain(field: str, value: object, names: Names) -> str:
    """Write a field with one value, or the values of a list in order of their texts."""
    if isinstance(value, list):
        return "".join(sorted(_plain(field, one, names) for one in value))
    text = _moment(str(value)) if field in TIMES else _canonical(value, names)
    return f"{field}={text}" if text else ""


def _word(kind: str) -> Callable[[str, Any, Names], str]:
    def write(field: str, value: object, names: Names) -> str:
        return _plain(field, in_full(kind, str(value)), names)

    return write


def _listed(name: str) -> Callable[[str, Any, Names], str]:
    """Write a list of identifiers."""

    def write(field: str, value: list[Any], names: Names) -> str:
        told = "".join(sorted(_plain(name, one, names) for one in value))
        return field + told if told else ""

    return write


def _elements(name: str, order: tuple[str, ...]) -> Callable[[str, Any, Names], str]:
    """Write a list of objects, each with its fields in an order."""

    def write(field: str, value: list[Any], names: Names) -> str:
        told = "".join(sorted(_fields(name, one, order, names) for one in value))
        return field + told if told else ""

    return write


def _fields(name: str, value: Mapping[str, Any], order: tuple[str, ...], names: Names) -> str:
    told = [FIELDS.get(f, _plain)(f, value[f], names) for f in order if f in value]
    rest = [field for field in value if ":" in field]
    body = "".join(told) + _extensions(value, rest, names)
    return name + body if body else ""


def _place(field: str, value: Mapping[str, Any], names: Names) -> str:
    return _fields(field, value, ("id",), names)


def _lasting(field: str, value: Mapping[str, Any], names: Names) -> str:
    told = [
        "".join(sorted(_word("disposition")(name, one, names) for one in value[name]))
        for name in ("set", "unset")
        if name in value
    ]
    return field + "".join(told) if any(told) else ""


def _parties(kind: str, name: str) -> Callable[[str, Any, Names], str]:
    """Write a list of (type, value) pairs."""

    def write(field: str, value: list[Any], names: Names) -> str:
        told = []
        for one in value:
            words = _word(kind)("type", one["type"], names) if "type" in one else ""
            told.append(words + _plain(name, one.get(name, ""), names))
        return field + "".join(sorted(told)) if told else ""

    return write


def _sensors(field: str, value: list[Any], names: Names) -> str:
    elements = []
    for one in value:
        metadata = _fields("sensorMetadata", one.get("sensorMetadata", {}), METADATA, names)
        reports = sorted(
            _fields("sensorReport", report, REPORT, names) for report in one.get("sensorReport", [])
        )
        rest = [name for name in one if ":" in name]
        body = metadata + "".join(reports) + _extensions(one, rest, names)
        elements.append(f"sensorElement{body}")
    return field + "".join(sorted(elements))


FIELDS: dict[str, Callable[[str, Any, Names], str]] = {
    "epcList": _listed("epc"),
    "inputEPCList": _listed("epc"),
    "outputEPCList": _listed("epc"),
    "childEPCs": _listed("epc"),
    "quantityList": _elements("quantityElement", QUANTITY),
    "childQuantityList": _elements("quantityElement", QUANTITY),
    "inputQuantityList": _elements("quantityElement", QUANTITY),
    "outputQuantityList": _elements("quantityElement", QUANTITY),
    "bizStep": _word("bizStep"),
    "disposition": _word("disposition"),
    "persistentDisposition": _lasting,
    "readPoint": _place,
    "bizLocation": _place,
    "bizTransactionList": _parties("bizTransaction", "bizTransaction"),
    "sourceList": _parties("party", "source"),
    "destinationList": _parties("party", "destination"),
    "sensorElementList": _sensors,
    "type": _word("measurement"),
    "exception": _word("exception"),
}


def _extensions(value: Mapping[str, Any], fields: list[str], names: Names) -> str:
    """Write the fields that are not of the standard, in order of their texts."""
    told: list[str] = []
    for field in fields:
        told += _extension(_expanded_name(field, names), value[field], names)
    return "".join(sorted(told))


def _extension(name: str, value: object, names: Names) -> list[str]:
    if isinstance(value, list):
        return [text for one in value for text in _extension(name, one, names)]
    if isinstance(value, dict):
        return [name + _extensions(value, list(value), names)]
    text = _canonical(value, names)
    return [f"{name}={text}" if text else name]


def _expanded_name(field: str, names: Names) -> str:
    prefix, colon, local = field.partition(":")
    return f"{{{names[prefix]}}}{local}" if colon and prefix in names else field


def _canonical(value: object, names: Names) -> str:
    """Write a value so that all ways of writing it are one."""
    if isinstance(value, bool):
        return "true" if value else "false"
    text = str(value).strip()
    if NUMBER.fullmatch(text):
        return _number(text)
    prefix, colon, local = text.partition(":")
    if colon and prefix in names:
        text = names[prefix] + local
    return normal_form(text)


def _number(text: str) -> str:
    value = float(text)
    if value in (float("inf"), float("-inf")):
        return text
    return str(int(value)) if value == int(value) else str(value)


def _moment(text: str) -> str:
    """Write a time in UTC to the millisecond, halves rounded up; other texts as they are."""
    try:
        moment = datetime.fromisoformat(text).astimezone(UTC) + HALF_MS
    except (ValueError, OverflowError):
        return text
    return moment.replace(tzinfo=None).isoformat(timespec="milliseconds") + "Z"
