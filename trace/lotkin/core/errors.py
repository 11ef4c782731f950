"""All errors that lotkin raises, by who can act on them.

LotkinError
├── NotFound              the input names something that is not recorded       exit 4
│   ├── UnknownCode
│   ├── UnknownEvent
│   └── UnknownPosition
├── Ambiguous             the input fits several records; lotkin does not guess exit 4
│   ├── AmbiguousCode
│   └── AmbiguousSpot
├── Refused               a rule forbids it; nothing was recorded               exit 3
│   ├── RuleBroken        (asked events only; reported ones carry the breach)
│   ├── EventIdReused
│   ├── CodeTaken
│   ├── Circle
│   ├── ChildBeforeParent
│   ├── StillInUse
│   └── BadReading
├── Invalid               the input is malformed                                exit 3
│   ├── BadEvent
│   ├── BadQuantity
│   ├── BadFile
│   └── BadTables
├── Damaged               what is stored is not what was recorded               exit 1
└── Unavailable           the store cannot be used                              exit 5
    ├── NoStore
    ├── StoreExists
    ├── StoreLocked
    ├── StoreUnreadable
    └── StoreOutdated
"""

from __future__ import annotations

import difflib
from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = [
    "Ambiguous",
    "AmbiguousCode",
    "AmbiguousSpot",
    "BadEvent",
    "BadFile",
    "BadQuantity",
    "BadReading",
    "BadTables",
    "ChildBeforeParent",
    "Circle",
    "CodeTaken",
    "Damaged",
    "EventIdReused",
    "Invalid",
    "LotkinError",
    "NoStore",
    "NotFound",
    "Refused",
    "RuleBroken",
    "StillInUse",
    "StoreExists",
    "StoreLocked",
    "StoreOutdated",
    "StoreUnreadable",
    "Unavailable",
    "UnknownCode",
    "UnknownEvent",
    "UnknownPosition",
]


class LotkinError(Exception):
    """Root of the tree: what is wrong, on which record, what to do now.

    Attributes:
        kind: Stable kebab-case name of the situation.
        message: What is wrong, naming the record.
        record: Code, event id or path that it is about; "" if none.
        hint: What to do now; "" if nothing sensible can be said.
    """

    kind: ClassVar[str] = "error"
    exit_status: ClassVar[int] = 3

    def __init__(self, message: str, *, record: str = "", hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.record = record
        self.hint = hint


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """Say which known names come nearest to `name`; "" if none does."""
    near = difflib.get_close_matches(name, list(known), n=3, cutoff=0.6)
    return f"did you mean {', '.join(near)}?" if near else ""


# --- the input names something that is not recorded


class NotFound(LotkinError):
    """The input names something that is not recorded."""

    kind = "not-found"
    exit_status = 4


class UnknownCode(NotFound):
    """No item, serial, label, heat or supplier lot goes by this code."""

    kind = "unknown-code"

    def __init__(self, code: str, *, near: Iterable[str] = ()) -> None:
        super().__init__(
            f"{code} is not recorded",
            record=code,
            hint=did_you_mean(code, near) or "check the label, or receive it first",
        )


class UnknownEvent(NotFound):
    """No event of this id or number is in the journal."""

    kind = "unknown-event"

    def __init__(self, event: str) -> None:
        super().__init__(
            f"event {event} is not in the journal",
            record=event,
            hint="`lotkin show CODE` lists the events of an item with their ids",
        )


class UnknownPosition(NotFound):
    """A bench has no such position, or nothing is known of the bench."""

    kind = "unknown-position"

    def __init__(self, bench: str, position: str, known: Iterable[str]) -> None:
        super().__init__(
            f"bench {bench} has no position {position}",
            record=bench,
            hint=f"positions in the plan: {', '.join(known) or 'none'}",
        )


# --- the input fits several records


class Ambiguous(LotkinError):
    """The input fits several records and lotkin does not guess."""

    kind = "ambiguous"
    exit_status = 4


class AmbiguousCode(Ambiguous):
    """A heat number or supplier lot that several items carry."""

    kind = "ambiguous-code"

    def __init__(self, text: str, candidates: Sequence[str]) -> None:
        self.candidates = tuple(candidates)
        super().__init__(
            f"{text} fits {len(candidates)} items: {', '.join(candidates[:8])}"
            + (" …" if len(candidates) > 8 else ""),
            record=text,
            hint="give one of these codes instead",
        )


class AmbiguousSpot(Ambiguous):
    """Pieces of the item lie at several places and none was named."""

    kind = "ambiguous-place"

    def __init__(self, code: str, spots: Sequence[str]) -> None:
        super().__init__(
            f"{code} lies at {len(spots)} places: {', '.join(spots)}",
            record=code,
            hint="name the place to take it from",
        )


# --- a rule forbids it


class Refused(LotkinError):
    """A rule forbids it; nothing was recorded."""

    kind = "refused"
    exit_status = 3


class RuleBroken(Refused):
    """An event asked for beforehand breaks a hold, stock or route rule."""

    kind = "rule-broken"

    def __init__(self, rule: str, record: str, message: str, hint: str = "") -> None:
        self.rule = rule
        super().__init__(
            message,
            record=record,
            hint=hint or 'if it has already happened, record it with "reported": true',
        )


class EventIdReused(Refused):
    """The id was used before for an event with other content."""

    kind = "event-id-reused"

    def __init__(self, event_id: str, seq: int) -> None:
        super().__init__(
            f"event id {event_id} was recorded at {seq} with other content",
            record=event_id,
            hint="send a new event with a new id; to correct the old one, send an amend",
        )


class CodeTaken(Refused):
    """The code given to a new item is already in use."""

    kind = "code-taken"

    def __init__(self, code: str) -> None:
        super().__init__(
            f"{code} is already recorded",
            record=code,
            hint="give the new item another code; codes are never used twice",
        )


class Circle(Refused):
    """The links would make an item its own ancestor."""

    kind = "circle"

    def __init__(self, path: Sequence[str]) -> None:
        self.path = tuple(path)
        shown = list(path) if len(path) <= 12 else [*path[:6], "…", *path[-5:]]
        super().__init__(
            f"this would make a circle: {' -> '.join(shown)}",
            record=path[0] if path else "",
            hint="one of these links points the wrong way",
        )


class ChildBeforeParent(Refused):
    """The child would be older than something it is made from."""

    kind = "child-before-parent"

    def __init__(self, child: str, parent: str, child_at: str, parent_at: str) -> None:
        super().__init__(
            f"{child} ({child_at}) would be older than {parent} ({parent_at}) that it is made from",
            record=child,
            hint="correct the time of the event, or the code",
        )


class StillInUse(Refused):
    """An event cannot be voided while something rests on it."""

    kind = "still-in-use"

    def __init__(self, event: str, users: Sequence[str]) -> None:
        super().__init__(
            f"event {event} cannot be voided: in use by {', '.join(users[:8])}"
            + (" …" if len(users) > 8 else ""),
            record=event,
            hint="correct it with an amend instead, or void what uses it first",
        )


class BadReading(Refused):
    """An amendment would leave an event that means nothing."""

    kind = "bad-amendment"

    def __init__(self, event: str, why: str) -> None:
        super().__init__(
            f"event {event} cannot be amended so: {why}",
            record=event,
            hint="`lotkin schema` shows what an event of this kind may say",
        )


# --- the input is malformed


class Invalid(LotkinError):
    """The input is malformed; nothing was recorded."""

    kind = "invalid"
    exit_status = 3


class BadEvent(Invalid):
    """A text that is not an event, or an event that says nonsense."""

    kind = "bad-event"

    def __init__(self, where: str, why: str, *, hint: str = "") -> None:
        super().__init__(
            f"{where}: {why}", record=where, hint=hint or "`lotkin schema` describes the events"
        )


class BadQuantity(Invalid):
    """A quantity that cannot be one."""

    kind = "bad-quantity"

    def __init__(self, text: str, why: str, *, record: str = "") -> None:
        about = f"{record}: " if record else ""
        super().__init__(f"{about}quantity {text} {why}", record=record, hint="")


class BadFile(Invalid):
    """A file that is not what it claims to be."""

    kind = "bad-file"

    def __init__(self, path: str, why: str, *, hint: str = "") -> None:
        super().__init__(f"{path}: {why}", record=path, hint=hint)


class BadTables(Invalid):
    """Plain tables with bad rows; all of them are listed."""

    kind = "bad-rows"

    def __init__(self, source: str, problems: Sequence[str]) -> None:
        self.problems = tuple(problems)
        super().__init__(
            f"{source}: {len(problems)} bad row{'s' if len(problems) != 1 else ''}, "
            "nothing was recorded",
            record=source,
            hint="correct the rows listed and try again",
        )


# --- what is stored is not what was recorded


class Damaged(LotkinError):
    """A journal row is not what was recorded."""

    kind = "damaged"
    exit_status = 1

    def __init__(self, seq: int, why: str) -> None:
        super().__init__(
            f"journal row {seq}: {why}",
            record=str(seq),
            hint="restore a backup; rows before this one are sound",
        )


# --- the store cannot be used


class Unavailable(LotkinError):
    """The store cannot be used."""

    kind = "unavailable"
    exit_status = 5


class NoStore(Unavailable):
    """There is no store at this path."""

    kind = "no-store"

    def __init__(self, path: str) -> None:
        super().__init__(
            f"there is no store at {path}",
            record=path,
            hint="make one with `lotkin init`, or name another with --db or LOTKIN_DB",
        )


class StoreExists(Unavailable):
    """A store is already there."""

    kind = "store-exists"

    def __init__(self, path: str) -> None:
        super().__init__(
            f"{path} exists already", record=path, hint="name another path; nothing was changed"
        )


class StoreLocked(Unavailable):
    """Another program holds the store for too long."""

    kind = "store-locked"

    def __init__(self, path: str) -> None:
        super().__init__(
            f"{path} is being written by another program",
            record=path,
            hint="try again in a moment; the event is safe to send twice",
        )


class StoreUnreadable(Unavailable):
    """The file is not a store, cannot be read or written, or is torn."""

    kind = "store-unreadable"

    def __init__(self, path: str, why: str) -> None:
        super().__init__(f"{path} cannot be used: {why}", record=path, hint="")


class StoreOutdated(Unavailable):
    """The store was made by another version of lotkin."""

    kind = "store-outdated"

    def __init__(self, path: str, found: str, wanted: str) -> None:
        super().__init__(
            f"{path} has tables of version {found or 'none'}, this lotkin uses {wanted}",
            record=path,
            hint="run `lotkin init --upgrade` after making a copy, or use the newer lotkin",
        )
