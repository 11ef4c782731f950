"""Reading an EPCIS document from a file, and its events with their hashes."""

from __future__ import annotations

import json
from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any, NoReturn

from lotkin.core.epcis.checks.event_hash import event_hash
from lotkin.core.epcis.checks.names import EXTENSION, PREFIX, declared, known_prefixes
from lotkin.core.epcis.uris import code_of
from lotkin.core.errors import BadFile

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

__all__ = [
    "Sent",
    "bare",
    "codes_named",
    "load_document",
    "merged",
    "moment_of",
    "sent_events",
    "united",
]

LARGEST_FILE = 1 << 30
HASH = ("ni:///sha-256;", "?ver=CBV2.0")
LISTS = (
    *("epcList", "childEPCs", "inputEPCList", "outputEPCList"),
    *("quantityList", "childQuantityList", "inputQuantityList", "outputQuantityList"),
)


def load_document(path: Path) -> dict[str, Any]:
    """Read a file as JSON in which no object says two things under one name.

    Raises:
        BadFile: It cannot be read, or is none.
    """
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise BadFile(str(path), "is larger than 1 GiB; export a shorter period")
        text = path.read_text("utf-8-sig")
    except OSError as error:
        raise BadFile(str(path), f"cannot be read: {error.strerror}") from error
    except UnicodeDecodeError as error:
        raise BadFile(str(path), "is not a text in UTF-8") from error
    try:
        document = json.loads(text, parse_constant=_no_constant, object_pairs_hook=_once)
    except RecursionError:
        raise BadFile(str(path), "is nested too deeply") from None
    except ValueError as error:
        raise BadFile(str(path), f"is not JSON: {error}") from error
    return document  # type: ignore[no-any-return]


def _no_constant(name: str) -> NoReturn:
    msg = f"{name} is not a number"
    raise ValueError(msg)


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Refuse an object that says two things under one name."""
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        msg = f"{twice[:60]!r} stands twice in one object"
        raise ValueError(msg)
    return found


@dataclass(slots=True)
class Sent:
    """An event of the document."""

    path: str
    event: dict[str, Any]
    hash: str
    names: Mapping[str, str]

    @property
    def is_ours(self) -> bool:
        """Tell whether it was written by lotkin."""
        return self.names.get(PREFIX) == EXTENSION and f"{PREFIX}:event" in self.event

    @property
    def error(self) -> dict[str, Any] | None:
        """Its error declaration; None if it stands."""
        return self.event.get("errorDeclaration")

    @property
    def own_identity(self) -> str:
        """What tells it from other events: ours by their id, whatever they say."""
        if not self.is_ours:
            return self.hash
        return f"{self.event[f'{PREFIX}:event']} {self.event.get(f'{PREFIX}:piece', '')}"


def sent_events(document: dict[str, Any]) -> Iterator[Sent]:
    """Yield the events of a checked document."""
    outer = document["@context"]
    for number, event in enumerate(document["epcisBody"]["eventList"]):
        names = known_prefixes(outer, event.get("@context"))
        digest = bare(event_hash(event, names))
        own = {**declared(outer), **declared(event.get("@context"))}
        yield Sent(f"epcisBody.eventList[{number}]", event, digest, own)


def bare(uri: str) -> str:
    """Give the hexadecimal digits of a hash written as a URI."""
    return uri.removeprefix(HASH[0]).removesuffix(HASH[1])


def moment_of(event: Mapping[str, Any]) -> datetime:
    """Tell when an event took place."""
    return datetime.fromisoformat(str(event["eventTime"]).upper())


def merged(sent: list[Sent]) -> list[list[Sent]]:
    """Gather the events that are parts of one transformation."""
    groups: dict[str, list[Sent]] = defaultdict(list)
    for each in sent:
        whole = each.event.get("transformationID")
        groups[f"id {whole}" if whole else each.path].append(each)
    return [sorted(each, key=lambda one: moment_of(one.event))[::-1] for each in groups.values()]


def united(parts: list[Sent]) -> dict[str, Any]:
    """Make one event of the parts of a transformation: the last one, with the lists of all."""
    event = dict(parts[0].event)
    for name in LISTS:
        together = [one for part in reversed(parts) for one in part.event.get(name, ())]
        if together:
            event[name] = together
    return event


def codes_named(event: Mapping[str, Any]) -> set[str]:
    """Give the codes that the standard's fields of an event of ours name."""
    uris = [event["parentID"]] if "parentID" in event else []
    for name in LISTS:
        uris += [one["epcClass"] if isinstance(one, dict) else one for one in event.get(name, ())]
    return {code for uri in uris if (code := code_of(uri)) is not None}
