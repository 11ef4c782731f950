"""How long a delivery keeps and how dry it is: what the plan says, and what is to be held."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from typing import TYPE_CHECKING, Literal, NamedTuple

from lotkin.core.materials.finding import Finding, Severity
from lotkin.core.values.zone import zone_of

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal

    from lotkin.core.genealogy.view import View
    from lotkin.core.plan import PartPlan, ShopPlan

__all__ = [
    "BY_PLAN",
    "Counted",
    "PlanDate",
    "check_moisture",
    "counted_from",
    "date_by_plan",
    "end_of_day",
    "no_expiry_given",
]

Counted = Literal["shelf-life", "calibration-interval"]
"""What of the plan a date was counted from."""

BY_PLAN: dict[str, str] = {
    "shelf-life": "by the plan's shelf life",
    "calibration-interval": "by the plan's calibration interval",
}


class PlanDate(NamedTuple):
    """A date that nobody gave.

    Attributes:
        due: The moment after which it must not be used.
        counted: What of the plan it follows from.
        days: How many that is.
        day: The day of `due`, as the works counts days.
    """

    due: datetime
    counted: Counted
    days: int
    day: str


def date_by_plan(plan: ShopPlan | None, part: str, item_kind: str, at: datetime) -> PlanDate | None:
    """Tell when something that came now would be due by the plan; None where the plan says nothing.

    Args:
        plan: The plan in force.
        part: Code of the part or of the resource.
        item_kind: Kind of what came; of the resources only gauges are calibrated.
        at: When it came.
    """
    if plan is None:
        return None
    planned, resource = plan.part(part), plan.resource(part)
    counted: Counted = "shelf-life"
    days = planned.shelf_life_days if planned is not None else None
    if resource is not None and item_kind == "gauge":
        days, counted = resource.calibration_days, "calibration-interval"
    if days is None:
        return None
    due = at + timedelta(days=days)
    day = due.astimezone(zone_of(plan.works.timezone) or UTC).date().isoformat()
    return PlanDate(due, counted, days, day)


def counted_from(view: View, code: str) -> str:
    """Tell what of the plan the date of an item was counted from; "" for a date that was given."""
    facts = view.facts("due-by-plan", code)
    return str(facts[-1].value["counted"]) if facts else ""


def end_of_day(day: date, plan: ShopPlan | None) -> datetime:
    """Give the last second of a day there; on a machine without time zones, of the day in UTC."""
    zone = zone_of(plan.works.timezone) if plan is not None else None
    return datetime.combine(day, time(23, 59, 59), zone or UTC)


def no_expiry_given(found: PlanDate | None, *, record: str) -> list[Finding]:
    """Hold what came without an expiry, unless somebody says that none is printed.

    Args:
        found: The date that the plan gives in its place; nothing is held for want of a calibration.
        record: Code of the part.

    Source: common practice; a shelf life counts from the making, not from the day it came.
    """
    if found is None or found.counted != "shelf-life":
        return []
    text = (
        f"{record}: printed expiry not given; the plan's shelf life of {found.days} days would "
        f"end on {found.day}"
    )
    return [Finding("expiry-not-given", Severity.HOLD, record, text)]


def check_moisture(part: PartPlan | None, percent: Decimal | None) -> list[Finding]:
    """Hold what is moister than the plan allows, or of which nobody has told how moist it is.

    Args:
        part: What the plan says of the part.
        percent: Moisture in percent by mass; None if it was not given.

    Source: common practice, no standard; the limit is that of the works.
    """
    limit = part.moisture_max_percent if part is not None else None
    if part is None or limit is None:
        return []
    if percent is None:
        text = f"{part.code}: moisture not given; the plan's limit is {limit:f} %"
        return [Finding("moisture-not-given", Severity.HOLD, part.code, text)]
    if percent > limit:
        text = f"{part.code}: moisture {percent:f} % is above the plan's limit of {limit:f} %"
        return [Finding("moisture", Severity.HOLD, part.code, text)]
    return []
