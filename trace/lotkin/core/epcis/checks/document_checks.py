"""Checking an EPCIS document: every fault in it, with the path of where it is.

The rules are those of EPCIS 2.0 and CBV 2.0 (ISO/IEC 19987, 19988). Where the JSON schema that is
published with them takes what their text forbids, the text counts: an event must be about
something, packing names what it is packed into, nothing has a negative quantity, and the version is
that of the standard.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, NamedTuple

from lotkin.core.epcis.checks.field_checks import FIELDS, OF_SOME, REQUIRED, URI, moment
from lotkin.core.epcis.checks.names import declared, known_prefixes
from lotkin.core.epcis.checks.vocabulary import CONTEXT

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

__all__ = ["Fault", "check_document"]

VERSION = re.compile(r"2\.\d+(\.\d+)?")
MOST = 1000
"""Faults that are listed; a document with more is not read to its end."""

DOCUMENT = frozenset(
    """
    @context type schemaVersion creationDate epcisBody epcisHeader
    id sender receiver instanceIdentifier
    """.split()
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
