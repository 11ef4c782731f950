"""The works itself and the people in it."""

from __future__ import annotations

from lotkin.core.plan.entries.entry import PlanEntry
from lotkin.core.plan.kinds import Role
from lotkin.core.plan.values import Code, Mask, Name, Note, Timezone

__all__ = ["PersonPlan", "WorksPlan"]


class WorksPlan(PlanEntry):
    """`[works]`: whose plan this is.

    Attributes:
        name: As printed on labels and reports.
        timezone: IANA name; times are stored in UTC and shown in this zone.
        revision_note: What this revision of the plan changed.
        cartons: How numbers of cartons are written, in the same signs as serials of a part; those
            that lotkin makes up need no mask.
    """

    name: Name
    timezone: Timezone
    revision_note: Note | None = None
    cartons: tuple[Mask, ...] = ()


class PersonPlan(PlanEntry):
    """`[[person]]`: somebody who records or decides."""

    code: Code
    name: Name
    roles: tuple[Role, ...] = ()
