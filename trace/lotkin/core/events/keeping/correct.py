"""`amend` and `void`: mistakes are corrected by new events; the old reading stays for *as of*."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal, Self
from uuid import UUID

from pydantic import Field, JsonValue

from lotkin.core.errors import BadReading, StillInUse, UnknownEvent
from lotkin.core.events.base import Event, JsonData, PartOfEvent, Text
from lotkin.core.events.parts.filled_in import FilledIn, filled_in_said
from lotkin.core.events.reading import reread
from lotkin.core.events.register import EVENTS
from lotkin.core.rules.leading import Mode
from lotkin.core.values.canonical import plain

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Amend", "Change", "Void"]

FIXED = frozenset({"id", "kind"})


class Change(PartOfEvent):
    """What changes in one event, as a JSON Merge Patch (RFC 7396) of it."""

    event: UUID
    patch: JsonData = Field(min_length=1)
    seq: Annotated[int, FilledIn()] = Field(default=0, description="Filled in: its number")
    reading: Annotated[dict[str, JsonValue], FilledIn()] = Field(
        default_factory=dict, description="Filled in: the event as it now reads"
    )


class Amend(Event):
    """Recorded events are read differently from now on, several at once if need be."""

    kind: Literal["amend"] = "amend"
    reason: Text = Field(min_length=1)
    changes: tuple[Change, ...] = Field(min_length=1)

    def complete(self, shop: Shop) -> Self:
        """Find the events; their new readings are made by `lotkin.core.events.reading`."""
        done = []
        for change in self.changes:
            entry = shop.view.entry_by_id(str(change.event))
            if entry is None:
                raise UnknownEvent(str(change.event))
            if entry.kind in ("amend", "void", "plan", "import"):
                raise BadReading(str(change.event), f"it is of the kind {entry.kind}")
            if FIXED & set(change.patch):
                raise BadReading(str(change.event), "its id and kind stay as they are")
            _refuse_filled_in(entry.kind, change)
            reading = reread(shop, entry, change.patch)
            done.append(change.but(seq=entry.seq, reading=reading))
        return self.but(changes=tuple(done))

    def establish(self, draft: Draft) -> None:
        """Note the new readings."""
        for change in self.changes:
            draft.fact("amended", str(change.seq), reading=plain(change.reading))

    def touches(self, draft: Draft) -> set[int]:  # noqa: ARG002 - the numbers are known
        """All events that read differently now."""
        return {change.seq for change in self.changes}


def _refuse_filled_in(kind: str, change: Change) -> None:
    """Refuse a patch of what is found from the record itself.

    Raises:
        BadReading: It is one.
    """
    names = filled_in_said(EVENTS[kind], change.patch)
    if names:
        raise BadReading(
            str(change.event),
            f"{' and '.join(names)} {'is' if len(names) == 1 else 'are'} filled in when it is "
            "recorded; correct what was sent",
        )


class Void(Event):
    """A recorded event did not take place."""

    kind: Literal["void"] = "void"
    event: UUID
    reason: Text = Field(min_length=1)
    seq: Annotated[int, FilledIn()] = Field(default=0, description="Filled in: its number")

    def complete(self, shop: Shop) -> Self:
        """Find the event."""
        entry = shop.view.entry_by_id(str(self.event))
        if entry is None:
            raise UnknownEvent(str(self.event))
        if entry.kind in ("plan", "void"):
            raise BadReading(str(self.event), f"a {entry.kind} event is not voided")
        if shop.view.facts("void", str(entry.seq)):
            raise BadReading(str(self.event), "it has been voided already")
        users = [
            f"{link.child} (event {link.event})"
            for code in shop.view.made_by(entry.seq)
            for link in shop.view.children(code)
            if link.event != entry.seq
        ]
        if users and shop.mode is not Mode.AMENDED:
            raise StillInUse(str(self.event), users)
        return self.but(seq=entry.seq)

    def establish(self, draft: Draft) -> None:
        """Note that it did not take place."""
        draft.fact("void", str(self.seq))

    def touches(self, draft: Draft) -> set[int]:  # noqa: ARG002 - the number is known
        """The event itself."""
        return {self.seq}
