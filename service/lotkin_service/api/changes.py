"""What has changed, told as it happens (server-sent events)."""

from __future__ import annotations

import asyncio
import json
from typing import TYPE_CHECKING, Annotated

from fastapi import Query, Request
from fastapi.responses import StreamingResponse
from starlette.concurrency import run_in_threadpool

from lotkin_service.access.guard import Asker
from lotkin_service.api.answering import router_of
from lotkin_service.state import TheWorks, Works

if TYPE_CHECKING:
    from collections.abc import AsyncIterator

__all__ = ["router"]

router = router_of("changes")

MOST_TOLD = 100
STILL_THERE_S = 15.0
"""A line is sent now and then, so that a dead connection is noticed."""


@router.get(
    "/changes",
    response_class=StreamingResponse,
    responses={200: {"content": {"text/event-stream": {"schema": {"type": "string"}}}}},
)
def changes(
    request: Request,
    works: TheWorks,
    who: Asker,
    once: Annotated[bool, Query(description="Only what has changed until now.")] = False,
    since: Annotated[int | None, Query(ge=0, le=2**53, description="After this event.")] = None,
) -> StreamingResponse:
    """Tell each event after it was recorded: its number, kind and time.

    A browser that was cut off goes on where it was, by `Last-Event-ID`.
    """
    last = request.headers.get("last-event-id", "")
    begin = int(last) if last.isdecimal() and len(last) < 16 else since
    told = _told(request, works, begin, once=once)
    return StreamingResponse(told, media_type="text/event-stream")


async def _told(
    request: Request, works: Works, since: int | None, *, once: bool
) -> AsyncIterator[str]:
    seq = since if since is not None else await run_in_threadpool(_head, works)
    quiet = 0.0
    yield "retry: 2000\n\n"
    while not works.stops_when() and not await request.is_disconnected():
        new = await run_in_threadpool(_after, works, seq)
        for number, kind, at in new:
            seq, quiet = number, 0.0
            data = json.dumps({"event": number, "kind": kind, "recorded_at": at})
            yield f"id: {number}\nevent: recorded\ndata: {data}\n\n"
        if once and not new:
            return
        if not new:
            await asyncio.sleep(works.settings.poll_s)
            quiet += works.settings.poll_s
        if quiet >= STILL_THERE_S:
            quiet = 0.0
            yield ": still there\n\n"


def _head(works: Works) -> int:
    with works.store.reading() as view:
        return view.journal_head()[0]


def _after(works: Works, seq: int) -> list[tuple[int, str, int]]:
    """List (number, kind, recorded at) of the next events after one."""
    with works.store.reading() as view:
        head = view.journal_head()[0]
        numbers = range(seq + 1, min(head, seq + MOST_TOLD) + 1)
        entries = [view.entry(number) for number in numbers]
    return [(entry.seq, entry.kind, entry.recorded_at) for entry in entries]
