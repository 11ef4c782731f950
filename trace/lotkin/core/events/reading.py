"""Reading events: from text, from data, and as later amendments say that they read."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, NoReturn

from pydantic import ValidationError

from lotkin.core.errors import BadEvent, BadReading, LotkinError, RuleBroken, did_you_mean
from lotkin.core.events.parts.merge_patch import merge_patch
from lotkin.core.events.register import EVENTS
from lotkin.core.genealogy.draft import Draft
from lotkin.core.rules.checking import Shop
from lotkin.core.rules.leading import Mode
from lotkin.core.values.canonical import plain

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.events.base import Event
    from lotkin.core.genealogy.view import Entry
    from lotkin.core.values.canonical import Json

__all__ = ["LONGEST_REASON", "is_void", "parse_event", "parse_line", "read", "reread"]

LONGEST_LINE = 16 * 1024 * 1024

LONGEST_REASON = 2000
"""As much as an event can say."""


def parse_line(line: str, where: str) -> Event:
    """Read one event from a line of JSON.

    Args:
        line: The text, one JSON object.
        where: What to call it in a message, e.g. `events.jsonl line 7`.

    Raises:
        BadEvent: Not JSON, or no event that lotkin knows.
    """
    if len(line) > LONGEST_LINE:
        raise BadEvent(where, "is longer than 16 MiB")
    try:
        data = json.loads(line, parse_float=str, parse_constant=_no_constant)
    except (ValueError, RecursionError) as error:
        raise BadEvent(where, f"is not JSON ({_brief(error)})") from error
    return parse_event(data, where)


def _no_constant(name: str) -> NoReturn:
    msg = f"{name} is not a number"
    raise ValueError(msg)


def _brief(error: BaseException) -> str:
    if isinstance(error, RecursionError):
        return "nested too deeply"
    return str(error)[:120]


def parse_event(data: object, where: str) -> Event:
    """Read one event from JSON data.

    Raises:
        BadEvent: No event that lotkin knows; the message names the first field at fault.
    """
    if not isinstance(data, dict):
        raise BadEvent(where, "is not a JSON object")
    kind = data.get("kind")
    cls = EVENTS.get(kind) if isinstance(kind, str) else None
    if cls is None:
        raise BadEvent(
            where,
            f"kind {kind!r} is not one that lotkin records"[:200],
            hint=did_you_mean(str(kind)[:40], EVENTS) or f"kinds: {', '.join(EVENTS)}",
        )
    try:
        return cls.model_validate(data)
    except ValidationError as error:
        raise BadEvent(where, _what_is_wrong(error)) from None
    except RecursionError:
        raise BadEvent(where, "is nested too deeply") from None


def _what_is_wrong(error: ValidationError) -> str:
    problems = []
    for detail in error.errors(include_url=False, include_context=False)[:3]:
        field = ".".join(str(part) for part in detail["loc"])
        message = detail["msg"].removeprefix("Value error, ")
        if detail["type"] == "string_unicode":
            message = "is not text in Unicode"
        problems.append(f"{field}: {message[:1].lower()}{message[1:]}" if field else message)
    more = error.error_count() - len(problems)
    return "; ".join(problems) + (f"; and {more} more" if more else "")


def read(draft: Draft, entry: Entry) -> Event:
    """Give an event as it reads now, after all amendments of it."""
    amended = draft.facts("amended", str(entry.seq))
    data: object = entry.data
    if amended:
        latest = max(amended, key=lambda fact: fact.event)
        data = latest.value["reading"]
    return parse_event(data, f"event {entry.seq}")


def is_void(draft: Draft, seq: int) -> bool:
    """Tell whether an event was voided."""
    return bool(draft.facts("void", str(seq)))


def reread(shop: Shop, entry: Entry, patch: Mapping[str, object]) -> dict[str, Json]:
    """Make the new reading of an event: its current one with a merge patch applied.

    Returns:
        The complete event as data.

    Raises:
        BadReading: The result is no event, or names something unknown.
    """
    current = read(Draft(shop.view), entry)
    patched = merge_patch(current.to_data(), plain(patch))
    try:
        event = parse_event(patched, f"event {entry.seq}")
        plan = shop.view.plan(entry.plan) if entry.plan else None
        inner = Shop(shop.view, Mode.AMENDED, at=event.at_us, plan=plan, kind=event.kind)
        if shop.is_in_future(event.at):
            shop.breach_future(event.kind, event.at)
        if event.by != current.by:
            shop.check_person(event.by)
        reading = event.remember(current).complete(inner)
        new = [why for why in inner.reasons_to_hold if why not in reading.inherits_hold]
        if new:
            why = "; ".join(filter(None, [reading.inherits_hold, *new]))
            reading = reading.but(inherits_hold=why[:LONGEST_REASON])
    except RuleBroken:
        raise
    except LotkinError as error:
        raise BadReading(entry.id, error.message) from error
    shop.breaches += inner.breaches
    return reading.to_data()
