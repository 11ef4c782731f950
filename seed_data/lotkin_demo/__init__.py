"""The demo works: an invented shop plan, its scenario of events and its documents."""

from __future__ import annotations

from lotkin_demo.building import DEMO_SEED, build, events
from lotkin_demo.notable import DemoWorks
from lotkin_demo.plan_file import plan_text

__all__ = ["DEMO_SEED", "DemoWorks", "build", "events", "plan_text"]
