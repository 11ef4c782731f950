"""Checking an EPCIS document: every fault in it, with the path of where it is.

The rules are those of EPCIS 2.0 and CBV 2.0 (ISO/IEC 19987, 19988). Where the JSON schema that is
published with them takes what their text forbids, the text counts: an event must be about
something, packing names what it is packed into, nothing has a negative quantity, and the version is
that of the standard.
"""

from __future__ import annotations

import re
from datetime import datetime
from typing import TYPE_CHECKING, Any, NamedTuple

from lotkin.core.epcis.names import declared, known_prefixes
from lotkin.core.epcis.vocabulary import (
    ACTIONS,
    BIZ_STEPS,
    CONTEXT,
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

    Check = Callable[["_Checker", str, Any], None]

__all__ = ["Fault", "check_document"]

ZONE = re.compile(r"[+-]((0[0-9]|1[0-3]):[0-5][0-9]|14:00)")
UOM = re.compile(r"[A-Z0-9]{2,3}")
URI = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:[^\s\"<>\\^`{|}]+")
VERSION = re.compile(r"2\.\d+(\.\d+)?")
MOMENT = re.compile(
    r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2})", re.IGNORECASE
)
MOST = 1000
"""Faults that are listed; a document with more is not read to its end."""

DOCUMENT = frozenset(
    ["@context", "type", "schemaVersion", "creationDate", "epcisBody", "epcisHeader"]
    + ["id", "sender", "receiver", "instanceIdentifier"]
)


class Fault(NamedTuple):
    """One thing that is wrong.

    Attributes:
        path: Where, like `epcisBody.eventList[3].action`.
        message: What is wrong there.
    """

    path: str
    message: str

    def __str__(self) -> str:
        return f"{self.path}: {self.message}"


def check_document(document: object) -> list[Fault]:
    """List what is wrong with a document; [] if nothing is.

    Args:
        document: JSON values.
    """
    checker = _Checker()
    try:
        checker.document(document)
    except _TooManyError:
        checker.faults.append(Fault("", f"and more than {MOST} faults in all"))
    return checker.faults


class _TooManyError(Exception):
    pass


class _Checker:
    """Walks a document and notes its faults."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []
        self.prefixes: Mapping[str, str] = {}

    def fault(self, path: str, message: str) -> None:
        if len(self.faults) >= MOST:
            raise _TooManyError
        self.faults.append(Fault(path, message))

    # --- the document

    def document(self, document: object) -> None:
        if not isinstance(document, dict):
            self.fault("", "is not a JSON object")
            return
        context = document.get("@context")
        self.prefixes = known_prefixes(context)
        self._context(context)
        if document.get("type") != "EPCISDocument":
            self.fault("type", "must be EPCISDocument")
        version = document.get("schemaVersion")
        if not isinstance(version, str) or not VERSION.fullmatch(version):
            self.fault("schemaVersion", "must be 2.0")
        moment(self, "creationDate", document.get("creationDate"))
        for field in document:
            if field not in DOCUMENT:
                self.extension("", field)
        body = document.get("epcisBody")
        if not isinstance(body, dict) or not isinstance(body.get("eventList"), list):
            self.fault("epcisBody.eventList", "must be a list of events")
            return
        for number, event in enumerate(body["eventList"]):
            self.event(f"epcisBody.eventList[{number}]", event)

    def _context(self, context: object) -> None:
        entries = context if isinstance(context, list) else [context]
        if CONTEXT not in entries:
            self.fault("@context", f"must name {CONTEXT}")
        for prefix, namespace in declared(context).items():
            if not URI.fullmatch(namespace):
                self.fault(f"@context.{prefix}"[:80], "must be a URI")

    def extension(self, path: str, field: str) -> None:
        """Check the name of a field that is not of the standard."""
        prefix, colon, local = field.partition(":")
        at = f"{path}.{field}"[:200] if path else field[:200]
        if not colon or not local:
            self.fault(at, "is no field of the standard; others need a prefix")
        elif prefix not in self.prefixes and prefix not in ("http", "https", "urn"):
            self.fault(at, f"the prefix {prefix} is not declared in @context")

    # --- an event

    def event(self, path: str, event: object) -> None:
        if not isinstance(event, dict):
            self.fault(path, "is not a JSON object")
            return
        kind = event.get("type")
        fields = FIELDS.get(kind) if isinstance(kind, str) else None
        if fields is None:
            self.fault(f"{path}.type", f"must be one of {', '.join(FIELDS)}")
            return
        outer = self.prefixes
        if "@context" in event:
            self.prefixes = {**outer, **declared(event["@context"])}
        for field in REQUIRED[str(kind)]:
            if field not in event:
                self.fault(f"{path}.{field}", "is missing")
        for field, value in event.items():
            if field in fields:
                fields[field](self, f"{path}.{field}", value)
            elif field in OF_SOME:
                self.fault(f"{path}.{field}", f"is no field of {_article(str(kind))}")
            elif field not in ("type", "@context"):
                self.extension(path, field)
        RULES[str(kind)](self, path, event)
        self.prefixes = outer


# --- values


def moment(checker: _Checker, path: str, value: object) -> None:
    """Check a time."""
    if isinstance(value, str) and MOMENT.fullmatch(value):
        try:
            datetime.fromisoformat(value.upper())
        except ValueError:
            pass
        else:
            return
    checker.fault(path, "must be a time with its zone, like 2026-03-01T07:30:00Z")


def _zone(checker: _Checker, path: str, value: object) -> None:
    if not isinstance(value, str) or not ZONE.fullmatch(value):
        checker.fault(path, "must be an offset like +01:00")


def _uri(checker: _Checker, path: str, value: object) -> None:
    if not isinstance(value, str) or not URI.fullmatch(value):
        checker.fault(path, "must be a URI")


def _text(checker: _Checker, path: str, value: object) -> None:
    if not isinstance(value, str):
        checker.fault(path, "must be a text")


def _number(checker: _Checker, path: str, value: object) -> None:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or value != value:
        checker.fault(path, "must be a number")


def _truth(checker: _Checker, path: str, value: object) -> None:
    if not isinstance(value, bool):
        checker.fault(path, "must be true or false")


def _action(checker: _Checker, path: str, value: object) -> None:
    if not isinstance(value, str) or value not in ACTIONS:
        checker.fault(path, f"must be one of {', '.join(sorted(ACTIONS))}")


def _word(kind: str, words: Collection[str]) -> Check:
    """Check a word of the standard, bare or as its web address, or a URI of somebody's own."""

    def check(checker: _Checker, path: str, value: object) -> None:
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
    def check_all(checker: _Checker, path: str, value: object) -> None:
        if not isinstance(value, list):
            checker.fault(path, "must be a list")
            return
        if len(value) < least:
            checker.fault(path, "must not be empty")
        for number, one in enumerate(value):
            check(checker, f"{path}[{number}]", one)

    return check_all


def _identifiers(checker: _Checker, path: str, value: object) -> None:
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

    def check(checker: _Checker, path: str, value: object) -> None:
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


def _amount(checker: _Checker, path: str, value: object) -> None:
    _number(checker, path, value)
    if isinstance(value, (int, float)) and value < 0:
        checker.fault(path, "must not be below zero")


def _uom(checker: _Checker, path: str, value: object) -> None:
    if not isinstance(value, str) or not UOM.fullmatch(value):
        checker.fault(path, "must be a unit code of UN/CEFACT Recommendation 20, like KGM")


def _lasting(checker: _Checker, path: str, value: object) -> None:
    words = _each(_word("disposition", DISPOSITIONS), least=1)
    _record({"set": words, "unset": words}, open_to_others=False)(checker, path, value)
    if isinstance(value, dict) and not {"set", "unset"} & set(value):
        checker.fault(path, "must set or unset something")


def _certificates(checker: _Checker, path: str, value: object) -> None:
    (_each(_uri) if isinstance(value, list) else _uri)(checker, path, value)


def _ilmd(checker: _Checker, path: str, value: object) -> None:
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


# --- what holds between the fields of an event


def _article(kind: str) -> str:
    return f"an {kind}" if kind[0] in "AO" else f"a {kind}"


def _any(event: Mapping[str, Any], *fields: str) -> bool:
    return any(event.get(field) for field in fields)


def _object(checker: _Checker, path: str, event: Mapping[str, Any]) -> None:
    sensed = _any(event, "sensorElementList") and "readPoint" in event
    if not _any(event, "epcList", "quantityList") and not sensed:
        checker.fault(path, "is about nothing: epcList or quantityList must name something")
    if "ilmd" in event and event.get("action") != "ADD":
        checker.fault(f"{path}.ilmd", "is for the action ADD only")


def _with_children(checker: _Checker, path: str, event: Mapping[str, Any]) -> None:
    taken_away = event.get("action") == "DELETE"
    named = _any(event, "childEPCs", "childQuantityList")
    if not named and not (taken_away and "parentID" in event):
        checker.fault(path, "names no children: childEPCs or childQuantityList must")
    needs_parent = event.get("action") in ("ADD", "DELETE")
    if event["type"] == "AggregationEvent" and needs_parent and "parentID" not in event:
        checker.fault(f"{path}.parentID", f"is missing, and {event['action']} needs it")


def _transaction(checker: _Checker, path: str, event: Mapping[str, Any]) -> None:
    if not _any(event, "epcList", "quantityList"):
        checker.fault(path, "is about nothing: epcList or quantityList must name something")
    if "bizTransactionList" in event and not event["bizTransactionList"]:
        checker.fault(f"{path}.bizTransactionList", "must not be empty")


def _transformation(checker: _Checker, path: str, event: Mapping[str, Any]) -> None:
    into = _any(event, "inputEPCList", "inputQuantityList")
    out = _any(event, "outputEPCList", "outputQuantityList")
    if (into and out) or ((into or out) and "transformationID" in event):
        return
    checker.fault(path, "needs what went in and what came out, or a transformationID and one")


RULES: dict[str, Callable[[_Checker, str, Mapping[str, Any]], None]] = {
    "ObjectEvent": _object,
    "AggregationEvent": _with_children,
    "TransactionEvent": _transaction,
    "TransformationEvent": _transformation,
    "AssociationEvent": _with_children,
}
