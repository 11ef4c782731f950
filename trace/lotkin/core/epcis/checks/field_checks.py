"""Checks of the single fields of an EPCIS document, for `document_checks`."""

from __future__ import annotations

import re
from datetime import datetime
from math import isfinite
from typing import TYPE_CHECKING, Any, Protocol

from lotkin.core.epcis.checks.vocabulary import (
    ACTIONS,
    BIZ_STEPS,
    DISPOSITIONS,
    ERROR_REASONS,
    EXCEPTIONS,
    MEASUREMENTS,
    PARTY_TYPES,
    TRANSACTION_TYPES,
    in_full,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Mapping

    Check = Callable[["Checker", str, Any], None]

__all__ = ["FIELDS", "OF_SOME", "REQUIRED", "URI", "Checker", "moment"]

ZONE = re.compile(r"[+-]((0[0-9]|1[0-3]):[0-5][0-9]|14:00)")
UOM = re.compile(r"[A-Z0-9]{2,3}")
URI = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:[^\s\"<>\\^`{|}]+")
MOMENT = re.compile(
    r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2})", re.IGNORECASE
)


class Checker(Protocol):
    """Notes faults.

    Attributes:
        prefixes: Prefix -> namespace, of those that are declared.
    """

    prefixes: Mapping[str, str]

    def fault(self, path: str, message: str) -> None:
        """Note one thing that is wrong."""

    def extension(self, path: str, field: str) -> None:
        """Check the name of a field that is not of the standard."""


def moment(checker: Checker, path: str, value: object) -> None:
    """Check a time."""
    if isinstance(value, str) and MOMENT.fullmatch(value):
        try:
            datetime.fromisoformat(value.upper())
        except ValueError:
            pass
        else:
            return
    checker.fault(path, "must be a time with its zone, like 2026-03-01T07:30:00Z")


def _zone(checker: Checker, path: str, value: object) -> None:
    if not isinstance(value, str) or not ZONE.fullmatch(value):
        checker.fault(path, "must be an offset like +01:00")


def _uri(checker: Checker, path: str, value: object) -> None:
    if not isinstance(value, str) or not URI.fullmatch(value):
        checker.fault(path, "must be a URI")


def _text(checker: Checker, path: str, value: object) -> None:
    if not isinstance(value, str):
        checker.fault(path, "must be a text")


def _number(checker: Checker, path: str, value: object) -> None:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not isfinite(value):
        checker.fault(path, "must be a number")


def _truth(checker: Checker, path: str, value: object) -> None:
    if not isinstance(value, bool):
        checker.fault(path, "must be true or false")


def _action(checker: Checker, path: str, value: object) -> None:
    if not isinstance(value, str) or value not in ACTIONS:
        checker.fault(path, f"must be one of {', '.join(sorted(ACTIONS))}")


def _word(kind: str, words: Collection[str]) -> Check:
    """Check a word of the standard, bare or as its web address, or a URI of somebody's own."""

    def check(checker: Checker, path: str, value: object) -> None:
        if isinstance(value, str):
            if value in words or value in {in_full(kind, word) for word in words}:
                return
            stem = in_full(kind, next(iter(words))).removesuffix(next(iter(words)))
            foreign = not value.startswith((stem, "urn:epcglobal:cbv:", "urn:epcglobal:epcis:"))
            prefix = value.partition(":")[0]
            if foreign and (URI.fullmatch(value) or prefix in checker.prefixes):
                return
        said = repr(value)[:60]
        checker.fault(path, f"{said} is neither a word of the standard nor a URI of your own")

    return check


def _each(check: Check, *, least: int = 0) -> Check:
    def check_all(checker: Checker, path: str, value: object) -> None:
        if not isinstance(value, list):
            checker.fault(path, "must be a list")
            return
        if len(value) < least:
            checker.fault(path, "must not be empty")
        for number, one in enumerate(value):
            check(checker, f"{path}[{number}]", one)

    return check_all


def _identifiers(checker: Checker, path: str, value: object) -> None:
    _each(_uri)(checker, path, value)
    if isinstance(value, list):
        seen = set()
        for number, one in enumerate(value):
            if isinstance(one, str) and one in seen:
                checker.fault(f"{path}[{number}]", "stands twice")
            seen.add(str(one))


def _record(
    fields: Mapping[str, Check], required: tuple[str, ...] = (), *, open_to_others: bool = True
) -> Check:
    """Check an object with some fields."""

    def check(checker: Checker, path: str, value: object) -> None:
        if not isinstance(value, dict):
            checker.fault(path, "must be a JSON object")
            return
        for field in required:
            if field not in value:
                checker.fault(f"{path}.{field}", "is missing")
        for field, one in value.items():
            if field in fields:
                fields[field](checker, f"{path}.{field}", one)
            elif open_to_others:
                checker.extension(path, field)
            else:
                checker.fault(f"{path}.{field}"[:200], "has no place here")

    return check


def _amount(checker: Checker, path: str, value: object) -> None:
    _number(checker, path, value)
    if isinstance(value, (int, float)) and value < 0:
        checker.fault(path, "must not be below zero")


def _uom(checker: Checker, path: str, value: object) -> None:
    if not isinstance(value, str) or not UOM.fullmatch(value):
        checker.fault(path, "must be a unit code of UN/CEFACT Recommendation 20, like KGM")


def _lasting(checker: Checker, path: str, value: object) -> None:
    words = _each(_word("disposition", DISPOSITIONS), least=1)
    _record({"set": words, "unset": words}, open_to_others=False)(checker, path, value)
    if isinstance(value, dict) and not {"set", "unset"} & set(value):
        checker.fault(path, "must set or unset something")


def _certificates(checker: Checker, path: str, value: object) -> None:
    (_each(_uri) if isinstance(value, list) else _uri)(checker, path, value)


def _ilmd(checker: Checker, path: str, value: object) -> None:
    _record({})(checker, path, value)


QUANTITIES: Check = _each(
    _record(
        {"epcClass": _uri, "quantity": _amount, "uom": _uom},
        ("epcClass",),
        open_to_others=False,
    )
)
PLACE: Check = _record({"id": _uri}, ("id",))
METADATA: Check = _record(
    {
        **dict.fromkeys(("time", "startTime", "endTime"), moment),
        **dict.fromkeys(("deviceID", "deviceMetadata", "rawData"), _uri),
        **dict.fromkeys(("dataProcessingMethod", "bizRules"), _uri),
    }
)
REPORT: Check = _record(
    {
        "type": _word("measurement", MEASUREMENTS),
        "exception": _word("exception", EXCEPTIONS),
        "time": moment,
        **dict.fromkeys(("deviceID", "deviceMetadata", "rawData", "dataProcessingMethod"), _uri),
        "bizRules": _uri,
        **dict.fromkeys(("microorganism", "chemicalSubstance", "uriValue"), _uri),
        **dict.fromkeys(("value", "minValue", "maxValue", "meanValue"), _number),
        **dict.fromkeys(("sDev", "percRank", "percValue"), _number),
        **dict.fromkeys(("component", "stringValue", "hexBinaryValue"), _text),
        "booleanValue": _truth,
        "uom": _text,
        "coordinateReferenceSystem": _uri,
    },
    ("type",),
)
SENSORS: Check = _each(
    _record(
        {"sensorMetadata": METADATA, "sensorReport": _each(REPORT, least=1)}, ("sensorReport",)
    ),
    least=1,
)
ERROR: Check = _record(
    {
        "declarationTime": moment,
        "reason": _word("reason", ERROR_REASONS),
        "correctiveEventIDs": _each(_uri),
    },
    ("declarationTime",),
)


def _pairs(name: str, kind: str, words: Collection[str], required: tuple[str, ...]) -> Check:
    fields = {"type": _word(kind, words), name: _uri}
    return _each(_record(fields, required, open_to_others=False))


TRANSACTIONS = _pairs("bizTransaction", "bizTransaction", TRANSACTION_TYPES, ("bizTransaction",))

COMMON: dict[str, Check] = {
    "eventTime": moment,
    "recordTime": moment,
    "eventTimeZoneOffset": _zone,
    "eventID": _uri,
    "errorDeclaration": ERROR,
    "certificationInfo": _certificates,
    "bizStep": _word("bizStep", BIZ_STEPS),
    "disposition": _word("disposition", DISPOSITIONS),
    "persistentDisposition": _lasting,
    "readPoint": PLACE,
    "bizLocation": PLACE,
    "bizTransactionList": TRANSACTIONS,
    "sourceList": _pairs("source", "party", PARTY_TYPES, ("type", "source")),
    "destinationList": _pairs("destination", "party", PARTY_TYPES, ("type", "destination")),
    "sensorElementList": SENSORS,
}
CHILDREN: dict[str, Check] = {
    "action": _action,
    "parentID": _uri,
    "childEPCs": _identifiers,
    "childQuantityList": QUANTITIES,
}
THINGS: dict[str, Check] = {
    "action": _action,
    "epcList": _identifiers,
    "quantityList": QUANTITIES,
}

FIELDS: dict[str, dict[str, Check]] = {
    "ObjectEvent": {**COMMON, **THINGS, "ilmd": _ilmd},
    "AggregationEvent": {**COMMON, **CHILDREN},
    "TransactionEvent": {**COMMON, **THINGS, "parentID": _uri},
    "TransformationEvent": {
        **COMMON,
        "transformationID": _uri,
        "inputEPCList": _identifiers,
        "outputEPCList": _identifiers,
        "inputQuantityList": QUANTITIES,
        "outputQuantityList": QUANTITIES,
        "ilmd": _ilmd,
    },
    "AssociationEvent": {**COMMON, **CHILDREN},
}
OF_SOME = frozenset(field for fields in FIELDS.values() for field in fields)

BASE = ("eventTime", "eventTimeZoneOffset")
REQUIRED = {
    "ObjectEvent": (*BASE, "action"),
    "AggregationEvent": (*BASE, "action"),
    "TransactionEvent": (*BASE, "action", "bizTransactionList"),
    "TransformationEvent": BASE,
    "AssociationEvent": (*BASE, "action", "parentID"),
}
