"""Steps of random histories that correct what was recorded, or say it again."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from lotkin.core.events.base import Model
from lotkin.core.events.parts.filled_in import filled_in_fields
from lotkin.core.events.reading import read
from lotkin.core.genealogy.draft import Draft
from tests.histories import BENCHES, MICRO, PLACES, History, NothingToDoError
from tests.small_works import moment

if TYPE_CHECKING:
    from tests.small_works import Data

__all__ = ["CORRECTIONS"]

NUMBERS = ("quantity", "loss", "per", "scrap", "samples", "counted", "mass_kg", "rest_quantity")
CODES = ("item", "unit", "carton", "batch")
LISTS_OF_CODES = ("resources", "candidates", "parents", "of")
UNTOUCHED = ("id", "kind", "run_kind")


def reading_of(history: History, seq: int) -> Data:
    """Give an event as it reads now, without what lotkin filled in."""
    with history.works.store.reading() as view:
        event = read(Draft(view), view.entry(seq))
        return _sent_of(event, dict(event.to_data()))


def _sent_of(model: Model, data: Data) -> Data:
    sent = {
        name: value for name, value in data.items() if name not in filled_in_fields(type(model))
    }
    for name, value in sent.items():
        part = getattr(model, name)
        if isinstance(part, Model) and isinstance(value, dict):
            sent[name] = _sent_of(part, value)
        elif isinstance(part, tuple) and part and isinstance(part[0], Model):
            assert isinstance(value, list)
            sent[name] = [_sent_of(one, row) for one, row in zip(part, value, strict=True)]
    return sent


def amend(history: History) -> Data:
    """One or two events are read differently in one or two respects."""
    log = [one for one in history.works.log if one.kind not in ("amend", "void")]
    changes = []
    for recorded in history.several(log, most=2):
        reading = reading_of(history, recorded.seq)
        patch: Data = {}
        for _ in range(1 if not history.once_in(3) else 2):
            name = history.pick([name for name in reading if name not in UNTOUCHED])
            changed = _changed(history, name, reading[name])
            if changed is not reading[name]:
                patch[name] = changed
        if patch:
            changes.append({"event": recorded.id, "patch": patch})
    if not changes:
        raise NothingToDoError
    return history.event("amend", reason="was misread", changes=changes)


def _changed(history: History, name: str, value: object) -> object:
    """Change a field of an event, or a field within it, to something that may be true."""
    if isinstance(value, dict):
        if not value:
            return value
        inner = history.pick(sorted(value))
        return {**value, inner: _changed(history, inner, value[inner])}
    if isinstance(value, list):
        return _changed_list(history, name, value)
    for names, change in CHANGES:
        if name in names:
            return change(history, str(value))
    return value


def _changed_list(history: History, name: str, value: list[object]) -> object:
    if not value:
        return value
    if len(value) > 1 and history.once_in(3):
        left = list(value)
        left.remove(history.pick(left))
        return left
    at = history.whole(0, len(value) - 1)
    if name in LISTS_OF_CODES:
        changed: object = _similar(history, str(value[at]))
    else:
        changed = _changed(history, name, value[at])
    if history.once_in(4):
        return [*value, changed]
    return [*value[:at], changed, *value[at + 1 :]]


def _similar(history: History, code: str) -> str:
    """Draw the code of an item of the same family and unit."""
    item = history.items.get(code)
    if item is None:
        raise NothingToDoError
    same = [
        other.code
        for other in history.items.values()
        if other.family is item.family and other.unit == item.unit and other.code != code
    ]
    return history.pick(same)


CHANGES: tuple[tuple[tuple[str, ...], Callable[[History, str], str]], ...] = (
    (NUMBERS, lambda history, _: str(history.whole(1, 12))),
    (CODES, _similar),
    (("at", "started"), lambda history, _: moment(history.whole(1, history.works.minute))),
    (("place", "to_place", "origin"), lambda history, _: history.pick(PLACES)),
    (("bench",), lambda history, _: history.pick(BENCHES)),
    (("code", "serial", "shipment", "inspection"), lambda history, _: history.new_code("N")),
)
"""Names of fields, and what may be said in them instead."""


def merge_batches(history: History) -> Data:
    """Two dispatches turn out to have been one load."""
    batches = history.of_kind("outside-batch")
    if len(batches) < 2:
        raise NothingToDoError
    kept, gone = history.several(batches, most=2)[:1] * 2
    gone = history.pick([batch for batch in batches if batch != kept])
    changes = [
        {"event": recorded.id, "patch": {"batch": kept}}
        for recorded in history.works.log
        if recorded.kind in ("send", "take-back")
        and reading_of(history, recorded.seq).get("batch") == gone
    ]
    if not changes:
        raise NothingToDoError
    return history.event("amend", reason="was one load", changes=changes)


def add_certificate(history: History) -> Data:
    """The heat of a lot becomes known late."""
    received = [one for one in history.works.log if one.kind == "receive"]
    recorded = history.pick(received)
    patch: Data = {"supplier": "MILL", "source": {"kind": "heat", "number": "N3"}}
    return history.event(
        "amend", reason="certificate came", changes=[{"event": recorded.id, "patch": patch}]
    )


def void(history: History) -> Data:
    """An event, mostly one of the last, did not take place."""
    log = history.works.log
    recorded = history.pick(log[-4:]) if not history.once_in(3) else history.pick(log)
    return history.event("void", event=recorded.id, reason="did not happen")


def say_again(history: History) -> Data:
    """An event is sent again."""
    return history.pick(history.works.sent)


def tell_late(history: History) -> Data:
    """More than there is was moved, as is found out later."""
    code = history.pick(history.lots())
    spot = history.spots(code)[0]
    there = history.stock[code][spot] // MICRO + 3
    return history.works.data(
        "move",
        item=code,
        place=spot.place,
        within=spot.within or None,
        quantity=str(there),
        to_place=history.pick(PLACES),
        reported=True,
    )


CORRECTIONS: tuple[Callable[[History], Data], ...] = (
    amend,
    amend,
    amend,
    merge_batches,
    add_certificate,
    void,
    void,
    say_again,
    tell_late,
)
"""All corrections, the frequent ones several times."""
