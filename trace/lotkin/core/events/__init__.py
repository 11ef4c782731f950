"""The kinds of events, one file each or a file for a pair, and the register of them.

A new kind is one new file and one line in `KINDS_OF_EVENTS`.
"""

from __future__ import annotations

from lotkin.core.events.base import Event
from lotkin.core.events.keeping.adopt import Adopt
from lotkin.core.events.keeping.correct import Amend, Void
from lotkin.core.events.keeping.import_tables import Import
from lotkin.core.events.keeping.issue import Issue
from lotkin.core.events.keeping.plan_event import LoadPlan
from lotkin.core.events.keeping.seal import Seal
from lotkin.core.events.material.combine import Blend, Pool
from lotkin.core.events.material.identify import Identify
from lotkin.core.events.material.make import Make
from lotkin.core.events.material.outside import Send, TakeBack
from lotkin.core.events.material.receive import Receive
from lotkin.core.events.material.split import Split
from lotkin.core.events.quality.case import CloseCase, Decide, OpenCase
from lotkin.core.events.quality.drill import Drill
from lotkin.core.events.quality.inspection import Inspect
from lotkin.core.events.quality.unit_test import Test
from lotkin.core.events.register import EVENTS
from lotkin.core.events.stock.count_move_scrap import Count, Move, Scrap
from lotkin.core.events.stock.packing import Pack, Unpack
from lotkin.core.events.stock.shipping import Return, Ship
from lotkin.core.events.units.bench import Mount
from lotkin.core.events.units.build import Build
from lotkin.core.events.units.swap import Dismantle, Swap

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

EVENTS.update({str(cls.model_fields["kind"].default): cls for cls in KINDS_OF_EVENTS})
