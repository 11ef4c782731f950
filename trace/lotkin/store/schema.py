"""The columns and keys of the tables, for what must not wait until SQLModel has loaded.

Written by `make schema` from the classes in the `*tables.py` of the store; do not edit.
"""

from __future__ import annotations

__all__ = [
    "COLUMNS",
    "KEYS",
    "Row",
    "fact_row",
    "graph_change_row",
    "item_row",
    "journal_row",
    "link_row",
    "meta_row",
    "movement_row",
    "spot_row",
    "stock_row",
]

Row = tuple[object, ...]

COLUMNS = {
    "credential": ("person", "kind", "hash", "once", "at"),
    "fact": ("topic", "subject", "at", "event", "ordinal", "value", "since"),
    "fact_past": ("topic", "subject", "at", "event", "ordinal", "value", "since", "until"),
    "graph_change": ("seq", "item"),
    "item": (
        "kind",
        "part",
        "quantity",
        "unit",
        "made_at",
        "started_at",
        "event",
        "step",
        "serial",
        "supplier",
        "supplier_lot",
        "due_at",
        "station",
        "plan",
        "since",
        "id",
        "code",
    ),
    "item_past": (
        "kind",
        "part",
        "quantity",
        "unit",
        "made_at",
        "started_at",
        "event",
        "step",
        "serial",
        "supplier",
        "supplier_lot",
        "due_at",
        "station",
        "plan",
        "since",
        "id",
        "until",
        "code",
    ),
    "journal": (
        "seq",
        "id",
        "kind",
        "at",
        "recorded_at",
        "station",
        "by",
        "reported",
        "data",
        "sent",
        "plan",
        "breaches",
        "previous",
        "hash",
    ),
    "link": ("parent", "child", "event", "grp", "mixing", "quantity", "per", "position", "since"),
    "link_past": (
        "parent",
        "child",
        "event",
        "grp",
        "mixing",
        "quantity",
        "per",
        "position",
        "since",
        "until",
    ),
    "meta": ("key", "value"),
    "movement": ("item", "quantity", "origin", "destination", "event", "since"),
    "movement_past": ("item", "quantity", "origin", "destination", "event", "since", "until"),
    "notice": ("id", "kind", "about", "body", "made_at"),
    "notice_delivery": ("notice", "hook", "tries", "next_at", "tried_at", "arrived_at", "answer"),
    "sign_in": ("token", "person", "place", "csrf", "began_at", "seen_at"),
    "spot": ("id", "place", "within"),
    "station_scan": (
        "id",
        "station",
        "place",
        "person",
        "text",
        "at",
        "received_at",
        "late",
        "tone",
        "say",
        "ask",
        "needs_look",
        "seen_by",
    ),
    "station_state": ("station", "state", "counter"),
    "stock": ("item", "spot", "quantity"),
    "token": ("token", "kind", "name", "about", "by", "at", "used_at"),
    "told_member": ("about", "customer", "item"),
}
"""Columns of each table, but for the running numbers, which the database fills in."""

KEYS = {
    "credential": ("person", "kind"),
    "fact": ("topic", "subject", "at", "event", "ordinal"),
    "fact_past": ("number",),
    "graph_change": ("seq", "item"),
    "item": ("id",),
    "item_past": ("id", "until"),
    "journal": ("seq",),
    "link": ("parent", "child", "event", "grp"),
    "link_past": ("number",),
    "meta": ("key",),
    "movement": ("number",),
    "movement_past": ("number",),
    "notice": ("id",),
    "notice_delivery": ("notice", "hook"),
    "sign_in": ("token",),
    "spot": ("id",),
    "station_scan": ("id",),
    "station_state": ("station",),
    "stock": ("item", "spot"),
    "token": ("token",),
    "told_member": ("about", "customer", "item"),
}
"""Columns of the key of each table."""


def fact_row(
    *,
    topic: str,
    subject: str,
    at: int,
    event: int,
    ordinal: int,
    value: str,
    since: int,
) -> Row:
    """Give a row of `fact`."""
    return (topic, subject, at, event, ordinal, value, since)


def graph_change_row(*, seq: int, item: int) -> Row:
    """Give a row of `graph_change`."""
    return (seq, item)


def item_row(
    *,
    kind: str,
    part: str,
    quantity: int | None,
    unit: str,
    made_at: int | None,
    started_at: int | None,
    event: int,
    step: str,
    serial: str,
    supplier: str,
    supplier_lot: str,
    due_at: int | None,
    station: str,
    plan: int,
    since: int,
    id: int,
    code: str,
) -> Row:
    """Give a row of `item`."""
    return (
        kind,
        part,
        quantity,
        unit,
        made_at,
        started_at,
        event,
        step,
        serial,
        supplier,
        supplier_lot,
        due_at,
        station,
        plan,
        since,
        id,
        code,
    )


def journal_row(
    *,
    seq: int,
    id: str,
    kind: str,
    at: int,
    recorded_at: int,
    station: str,
    by: str,
    reported: bool,
    data: str,
    sent: str,
    plan: int,
    breaches: str,
    previous: str,
    hash: str,
) -> Row:
    """Give a row of `journal`."""
    return (
        seq,
        id,
        kind,
        at,
        recorded_at,
        station,
        by,
        reported,
        data,
        sent,
        plan,
        breaches,
        previous,
        hash,
    )


def link_row(
    *,
    parent: int,
    child: int,
    event: int,
    grp: int,
    mixing: int,
    quantity: int | None,
    per: int,
    position: str,
    since: int,
) -> Row:
    """Give a row of `link`."""
    return (parent, child, event, grp, mixing, quantity, per, position, since)


def meta_row(*, key: str, value: str) -> Row:
    """Give a row of `meta`."""
    return (key, value)


def movement_row(
    *,
    item: int,
    quantity: int,
    origin: int | None,
    destination: int,
    event: int,
    since: int,
) -> Row:
    """Give a row of `movement`."""
    return (item, quantity, origin, destination, event, since)


def spot_row(*, id: int, place: str, within: str) -> Row:
    """Give a row of `spot`."""
    return (id, place, within)


def stock_row(*, item: int, spot: int, quantity: int) -> Row:
    """Give a row of `stock`."""
    return (item, spot, quantity)
