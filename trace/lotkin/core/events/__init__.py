"""The kinds of events, one file each or a file for a pair, and the register of them.

A new kind is one new file and one line in `KINDS_OF_EVENTS`.
"""

from __future__ import annotations

from lotkin.core.events.adopt import Adopt
from lotkin.core.events.base import Event
from lotkin.core.events.bench import Mount
from lotkin.core.events.build import Build
from lotkin.core.events.case import CloseCase, Decide, OpenCase
from lotkin.core.events.check import Inspect
from lotkin.core.events.combine import Blend, Pool
from lotkin.core.events.correct import Amend, Void
from lotkin.core.events.dispatch import Pack, Return, Ship, Unpack
from lotkin.core.events.drill import Drill
from lotkin.core.events.identify import Identify
from lotkin.core.events.issue import Issue
from lotkin.core.events.make import Make
from lotkin.core.events.outside import Send, TakeBack
from lotkin.core.events.plan_event import LoadPlan
from lotkin.core.events.receive import Receive
from lotkin.core.events.seal import Seal
from lotkin.core.events.split import Split
from lotkin.core.events.stock import Count, Move, Scrap
from lotkin.core.events.swap import Dismantle, Swap
from lotkin.core.events.tables import Import
from lotkin.core.events.unit_test import Test

__all__ = [
    "EVENTS",
    "KINDS_OF_EVENTS",
    "Adopt",
    "Amend",
    "Blend",
    "Build",
    "CloseCase",
    "Count",
    "Decide",
    "Dismantle",
    "Drill",
    "Event",
    "Identify",
    "Import",
    "Inspect",
    "Issue",
    "LoadPlan",
    "Make",
    "Mount",
    "Move",
    "OpenCase",
    "Pack",
    "Pool",
    "Receive",
    "Return",
    "Scrap",
    "Seal",
    "Send",
    "Ship",
    "Split",
    "Swap",
    "TakeBack",
    "Test",
    "Unpack",
    "Void",
]

KINDS_OF_EVENTS: tuple[type[Event], ...] = (
    LoadPlan,
    Import,
    Adopt,
    Receive,
    Issue,
    Make,
    Blend,
    Pool,
    Split,
    Send,
    TakeBack,
    Mount,
    Build,
    Swap,
    Dismantle,
    Inspect,
    Test,
    Move,
    Scrap,
    Count,
    Identify,
    Pack,
    Unpack,
    Ship,
    Return,
    OpenCase,
    Decide,
    CloseCase,
    Drill,
    Seal,
    Amend,
    Void,
)

EVENTS: dict[str, type[Event]] = {
    str(cls.model_fields["kind"].default): cls for cls in KINDS_OF_EVENTS
}
"""Class of event by its kind."""
