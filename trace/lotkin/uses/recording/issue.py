"""Issuing travellers, and finding them again to print them once more."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.errors import NamesAnother, NoPlan, UnknownCode
from lotkin.core.events.reading import parse_event
from lotkin.core.rules.known_otherwise import known_otherwise, not_in_plan
from lotkin.core.values.codes import new_code
from lotkin.core.values.instants import show_instant
from lotkin.uses.recording.record import record_one

if TYPE_CHECKING:
    from decimal import Decimal

    from lotkin.core.plan import ShopPlan
    from lotkin.uses.ports import CanRead, CanRecord, Clock

__all__ = ["Issued", "find_traveller", "issue_traveller"]

CODE_SPACE = 31**7


@dataclass(frozen=True, slots=True)
class Issued:
    """A traveller that is in the journal.

    Attributes:
        code: Its code.
        part: Code of the part.
        quantity: Millionths of the part's unit.
        at: Microseconds UTC when it was issued.
        plan: The plan in force.
    """

    code: str
    part: str
    quantity: int
    at: int
    plan: ShopPlan


def issue_traveller(  # noqa: PLR0913 - what is ordered, and who did it when
    store: CanRecord, part: str, quantity: Decimal, *, code: str, by: str, clock: Clock
) -> Issued:
    """Issue a traveller for a quantity of a part.

    Args:
        store: Where to.
        part: Code of a part with a route.
        quantity: In the part's unit.
        code: Its code; "" for a new one.
        by: Who issues it.
        clock: Tells the time.

    Raises:
        NoPlan: No plan is loaded.
        UnknownCode: The plan has no such part.
        Refused: The part has no route, or the code is taken.
    """
    now = clock()
    number = uuid.uuid4()
    with store.recording() as recording:
        plan = recording.plan(recording.plan_number())
        if plan is None:
            raise NoPlan
        if plan.part(part) is None:
            parts = [known.code for known in plan.parts]
            raise not_in_plan(part, "part", parts, plan, recording)
        chosen = code or f"T-{new_code(number.int % CODE_SPACE)}"
        event = parse_event(
            {
                "kind": "issue",
                "id": str(number),
                "at": show_instant(now),
                "by": by,
                "traveller": chosen,
                "part": part,
                "quantity": str(quantity),
            },
            chosen,
        )
        record_one(recording, event, now)
        return _found(recording.facts("traveller", chosen)[-1].value, chosen, now, plan)


def find_traveller(store: CanRead, code: str) -> Issued:
    """Find a traveller that was issued.

    Raises:
        NoPlan: No plan is loaded.
        UnknownCode: There is none of this code.
    """
    with store.reading() as view:
        plan = view.plan(view.plan_number())
        if plan is None:
            raise NoPlan
        facts = view.facts("traveller", code)
        if not facts:
            item = view.item(code)
            if item is not None:
                raise NamesAnother(code, f"recorded as {item.kind}", "traveller")
            other = known_otherwise(view, plan, code)
            raise other or UnknownCode(code, hint="check the code on the traveller")
        return _found(facts[-1].value, code, facts[-1].at, plan)


def _found(value: object, code: str, at: int, plan: ShopPlan) -> Issued:
    assert isinstance(value, dict)
    return Issued(code, str(value["part"]), int(str(value["micro"])), at, plan)
