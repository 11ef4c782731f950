"""Recording: events as the command takes them, readings of a test rig, plans."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any
from uuid import UUID

from fastapi import Path, Query
from fastapi.responses import JSONResponse, StreamingResponse
from pydantic import BaseModel, Field

from lotkin.core.access.rights import right_to_record
from lotkin.core.errors import BadEvent, NotAllowed
from lotkin.core.events import EVENTS
from lotkin.core.events.reading import parse_event
from lotkin.core.values.instants import show_instant
from lotkin.uses.recording.load_plan import current_plan, load_plan
from lotkin.uses.recording.record import record
from lotkin_answers.documents.recorded import recorded_data
from lotkin_answers.event_schema import schema_of
from lotkin_service.access.guard import Asker, Keeper, Worker
from lotkin_service.api.answering import answer, router_of
from lotkin_service.api.questions import Moment
from lotkin_service.door.body_limit import LARGEST_PLAN
from lotkin_service.state import TheWorks, Works

if TYPE_CHECKING:
    from lotkin.core.access.rights import Who

__all__ = ["router"]

router = router_of("recording")

MOST_EVENTS = 1000


class Events(BaseModel):
    """Events in their order: all of them are recorded, or none."""

    events: list[dict[str, Any]] = Field(min_length=1, max_length=MOST_EVENTS)


class Readings(BaseModel):
    """What a test rig has read of one unit."""

    id: UUID = Field(description="Chosen by the rig; sent again, they are recorded once.")
    unit: str = Field(min_length=1, max_length=80, description="Serial of the unit.")
    test: str = Field(min_length=1, max_length=200, description="Name of the test in the plan.")
    readings: list[Annotated[str, Field(pattern=r"^-?\d{1,12}(\.\d{1,9})?$")]] = Field(
        min_length=1, max_length=100
    )
    at: Moment | None = None
    happened: bool = Field(
        False, description="It has happened, whatever rule it breaks; the record says which."
    )


class NewPlan(BaseModel):
    """A plan to load."""

    toml: str = Field(max_length=LARGEST_PLAN, description="The plan as a TOML document.")


@router.post("/events")
def recorded(works: TheWorks, who: Asker, sent: Events) -> StreamingResponse:
    """Record events; the same id with the same content is recorded once and answered the same."""
    for number, data in enumerate(sent.events, start=1):
        _check(data, number, who)
    events = [parse_event({"by": who.person, **data}, "event") for data in sent.events]
    done = record(works.store, events, works.clock, sender=who)
    return answer({"recorded": [recorded_data(each) for each in done], "dry_run": False})


def _check(data: dict[str, Any], number: int, who: Who) -> None:
    """Refuse what somebody may not record, or in another's name."""
    kind = data.get("kind")
    if not isinstance(kind, str) or kind not in EVENTS:
        raise BadEvent(f"event {number}", "is of no kind that is known")
    right = right_to_record(kind)
    if not who.may(right):
        raise NotAllowed(who.name, f"record {kind}")
    by = data.get("by") or who.person
    if not who.may_speak_for(str(by)):
        raise NotAllowed(who.name, f"record in the name of {str(by)[:40]}")


@router.get("/events/schema")
def schema(who: Asker, kind: Annotated[str, Query(max_length=40)] = "") -> JSONResponse:
    """Give the JSON Schema of events, all or one kind."""
    if kind and kind not in EVENTS:
        raise BadEvent("kind", f"{kind!r} is no kind of event")
    return JSONResponse(schema_of(kind or None))


@router.post("/test-rigs/{rig}/readings")
def read(
    works: TheWorks,
    who: Worker,
    rig: Annotated[str, Path(max_length=80, description="Code of the rig.")],
    sent: Readings,
) -> StreamingResponse:
    """Take the readings of a test rig; whether the unit passes follows from the plan."""
    at = sent.at.isoformat() if sent.at is not None else _when(works, sent.id)
    event = {
        "kind": "test",
        "id": str(sent.id),
        "at": at,
        "by": who.person,
        "unit": sent.unit,
        "name": sent.test,
        "readings": sent.readings,
        "resources": [rig],
        **({"reported": True} if sent.happened else {}),
    }
    (done,) = record(works.store, [parse_event(event, "readings")], works.clock, sender=who)
    with works.store.reading() as view:
        verdict = view.entry(done.seq).data.get("passed")
    passed = None if verdict is None else bool(verdict)
    return answer({**recorded_data(done), "passed": passed})


def _when(works: Works, number: UUID) -> str:
    """Give the time of readings that say none: now, or as they were recorded if sent again."""
    with works.store.reading() as view:
        known = view.entry_by_id(str(number))
    return show_instant(known.at if known is not None else works.clock())


@router.get("/plan")
def plan(works: TheWorks, who: Asker) -> StreamingResponse:
    """Give the plan in force."""
    seq, found = current_plan(works.asked)
    return answer({"event": seq, "plan": found.to_data() if found is not None else None})


@router.put("/plan")
def plan_loaded(
    works: TheWorks,
    who: Keeper,
    new: NewPlan,
) -> StreamingResponse:
    """Load a plan; it holds from now on."""
    done = load_plan(works.store, new.toml, "plan", by=who.person, clock=works.clock)
    return answer({"event": done.seq, "unchanged": done.unchanged})
