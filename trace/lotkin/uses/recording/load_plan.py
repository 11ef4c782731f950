"""Loading the shop plan: a new revision that holds from now on."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.errors import BadPlan
from lotkin.core.events.reading import parse_event
from lotkin.core.plan import ShopPlan, parse_plan
from lotkin.core.values.canonical import canonical, digest
from lotkin.core.values.instants import from_us
from lotkin.uses.recording.record import record_one

if TYPE_CHECKING:
    from lotkin.uses.ports import CanRead, CanRecord, Clock

__all__ = ["LoadedPlan", "current_plan", "load_plan"]


@dataclass(frozen=True, slots=True)
class LoadedPlan:
    """What became of a plan.

    Attributes:
        seq: Number of the event that loaded it; it names the revision.
        plan: The plan.
        unchanged: It says the same as the plan in force; nothing was recorded.
    """

    seq: int
    plan: ShopPlan
    unchanged: bool


def load_plan(store: CanRecord, text: str, source: str, *, by: str, clock: Clock) -> LoadedPlan:
    """Check a plan and record it as the one in force from now on.

    Args:
        store: Where to.
        text: TOML.
        source: Name of the file, for messages.
        by: Who loads it.
        clock: Tells the time.

    Raises:
        BadPlan: It has problems; the error lists them all, each with its line.
    """
    plan, problems = parse_plan(text, source)
    if plan is None or problems:
        raise BadPlan(source, [str(problem) for problem in problems])
    data = plan.to_data()
    with store.recording() as recording:
        number = recording.plan_number()
        if number and recording.plan(number) == plan:
            return LoadedPlan(number, plan, unchanged=True)
        now = clock()
        event_id = uuid.uuid5(uuid.NAMESPACE_OID, f"{now} {digest(canonical(data))}")
        event = parse_event(
            {
                "kind": "plan",
                "id": str(event_id),
                "at": from_us(now).isoformat(),
                "by": by,
                "plan": data,
            },
            source,
        )
        return LoadedPlan(record_one(recording, event, now).seq, plan, unchanged=False)


def current_plan(store: CanRead) -> tuple[int, ShopPlan | None]:
    """Give the plan in force and the number of the event that loaded it; (0, None) for none."""
    with store.reading() as view:
        number = view.plan_number()
        return number, view.plan(number) if number else None
