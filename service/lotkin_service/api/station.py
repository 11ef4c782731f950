"""Stations: scans go in one by one, also such that waited on the device; replies come back."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated
from uuid import UUID

from fastapi import File, Path, Request, UploadFile
from pydantic import BaseModel, Field

from lotkin.core.dialogue import Hand, Reply, Tone, Want
from lotkin.core.errors import BadFile, NotAllowed, UnknownCode
from lotkin.core.values.instants import show_instant
from lotkin.uses.stations.served_station import SentScan, StationDesk, mark_seen, scans_to_look_at
from lotkin_service.access.guard import Judge, Worker
from lotkin_service.api.answering import router_of
from lotkin_service.camera import LARGEST, codes_in
from lotkin_service.state import TheWorks, Works

__all__ = ["router"]

router = router_of("stations")

MOST_MS = 10**15
"""Any clock of a device, however wrong it was, says less."""

PlaceCode = Annotated[str, Path(max_length=80, description="Code of the place.")]


class ScanIn(BaseModel):
    """A scan as a device sends it."""

    id: UUID = Field(description="Chosen by the device; sent again, it is taken once.")
    text: str = Field(max_length=4000, description="What was scanned or typed.")
    age_ms: int = Field(
        0,
        ge=-MOST_MS,
        le=MOST_MS,
        description="How long it waited on the device; 0 for now. "
        "Beyond 90 days, or below zero, the scan is taken with its time marked unsure.",
    )
    person: str = Field("", max_length=80, description="Who was signed in when it was made.")


class ScansIn(BaseModel):
    """Scans of one device, in the order in which they were made."""

    device: UUID = Field(description="Chosen by the device, once.")
    scans: list[ScanIn] = Field(min_length=1, max_length=200)
    seen: int | None = Field(
        None,
        description="Counter of what the device shows. A scan that is sent at once is refused if "
        "another one was taken here since; what waited is taken.",
    )


class HandOut(BaseModel):
    """Who is at a station, with which work, waiting for what."""

    person: str
    title: str
    about: str
    scans: list[str]
    wants: Want
    ask: str
    choices: list[str]
    proposal: Decimal | None
    cautions: list[str]
    reported: bool
    can_undo: bool
    claim: str = Field(description="Whose badge was scanned and whose PIN is wanted; empty: none.")
    claim_name: str
    counter: int = Field(description="Goes up with every change; to be sent with the next scan.")

    @classmethod
    def of(cls, hand: Hand) -> HandOut:
        """Take over what a desk says."""
        return cls(
            person=hand.person,
            title=hand.title,
            about=hand.about,
            scans=list(hand.scans),
            wants=hand.wants,
            ask=hand.ask,
            choices=list(hand.choices),
            proposal=hand.proposal,
            cautions=list(hand.cautions),
            reported=hand.reported,
            can_undo=hand.can_undo,
            claim=hand.claim,
            claim_name=hand.claim_name,
            counter=hand.counter,
        )


class ReplyOut(BaseModel):
    """What was said to a scan."""

    id: UUID
    tone: Tone
    say: str
    ask: str

    @classmethod
    def of(cls, number: UUID, reply: Reply) -> ReplyOut:
        """Take over a reply."""
        return cls(id=number, tone=reply.tone, say=reply.say, ask=reply.ask)


class StationOut(BaseModel):
    """Replies in the order of the scans, and what is in hand after them."""

    place: str
    replies: list[ReplyOut]
    hand: HandOut


class CodeSeen(BaseModel):
    """A code in a picture, as a scanner would send it."""

    text: str
    symbology: str


class CodesSeen(BaseModel):
    """All codes in a picture, the largest first."""

    codes: list[CodeSeen]


class LateScan(BaseModel):
    """A scan that waited on a device and led nowhere."""

    id: str
    place: str
    person: str
    text: str
    at: str
    received_at: str
    say: str


class LateScans(BaseModel):
    """Scans that somebody is to look at, the oldest first."""

    scans: list[LateScan]


@router.get("/stations/{place}")
def look(works: TheWorks, who: Worker, place: PlaceCode, device: UUID) -> StationOut:
    """Tell what a station has in hand."""
    hand = _desk(works, who.station, place, device).look(who)
    return StationOut(place=place, replies=[], hand=HandOut.of(hand))


@router.post("/stations/{place}/scans")
def scan(
    request: Request, works: TheWorks, who: Worker, place: PlaceCode, sent: ScansIn
) -> StationOut:
    """Take scans; each is answered, none is dropped."""
    desk = _desk(works, who.station, place, sent.device)
    by_hand: bool = request.state.by_cookie
    scans = []
    for each in sent.scans:
        person = each.person if each.age_ms and _is_known(works, each.person) else ""
        scans.append(SentScan(str(each.id), each.text, each.age_ms * 1000, person, by_hand))
    replies, hand = desk.take_all(scans, who, sent.seen)
    told = [ReplyOut.of(each.id, reply) for each, reply in zip(sent.scans, replies, strict=True)]
    return StationOut(place=place, replies=told, hand=HandOut.of(hand))


@router.post("/frames")
def read_frame(
    who: Worker,
    picture: Annotated[UploadFile, File(description="A JPEG, PNG or WebP.")],
) -> CodesSeen:
    """Read the codes in a picture of a camera."""
    content = picture.file.read(LARGEST + 1)
    if len(content) > LARGEST:
        raise BadFile("picture", "it is larger than 8 MiB", hint="send a smaller one")
    found = codes_in(content)
    return CodesSeen(codes=[CodeSeen(text=c.text, symbology=c.symbology) for c in found])


@router.get("/late-scans")
def late_scans(works: TheWorks, who: Judge) -> LateScans:
    """List scans that waited on a device, led nowhere, and that nobody has looked at."""
    return LateScans(
        scans=[
            LateScan(
                id=each.id,
                place=each.place,
                person=each.person,
                text=each.text,
                at=show_instant(each.at),
                received_at=show_instant(each.received_at),
                say=each.say,
            )
            for each in scans_to_look_at(works.store)
        ]
    )


@router.post("/late-scans/{number}/seen", status_code=204)
def seen(works: TheWorks, who: Judge, number: UUID) -> None:
    """Note that a late scan was looked at."""
    if not mark_seen(works.store, str(number), who.person):
        raise UnknownCode(str(number))


def _desk(works: Works, enrolled: str, place: str, device: UUID) -> StationDesk:
    if enrolled and enrolled != place:
        raise NotAllowed(
            f"the station at {enrolled}",
            f"work at {place}",
            hint="have it enrolled anew for the other place",
        )
    return works.stations.desk(place, device)


def _is_known(works: Works, person: str) -> bool:
    plan = works.plan()
    return plan is not None and plan.person(person) is not None
