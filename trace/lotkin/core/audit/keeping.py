"""Checks of what lies where: stock below zero, unknown places, what nobody touched or decided."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.audit.gap import Gap, days_between
from lotkin.core.values.kinds import Family
from lotkin.core.values.places import End
from lotkin.core.values.quantities import show_quantity

if TYPE_CHECKING:
    from lotkin.core.audit.gap import Limits
    from lotkin.core.audit.survey import Survey

__all__ = [
    "long_holds",
    "negative_stock",
    "overdue_outside",
    "stale_stock",
    "surplus_stock",
    "unknown_places",
]


def negative_stock(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List spots at which less than nothing lies."""
    return [
        Gap(
            "stock-negative",
            code,
            f"{code}: {show_quantity(quantity, survey.items[code].unit)} at {spot}",
            "count what is there, or record the movement that was forgotten",
            survey.touched.get(code),
        )
        for code, spot, quantity in survey.stock
        if quantity < 0 and spot.place != End.LOST
    ]


def surplus_stock(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List lots of which more was used, counted or brought back than there was.

    A count may have put their stock right since; the account of the lot still does not add up.
    """
    return [
        Gap(
            "stock-surplus",
            code,
            f"{code}: {show_quantity(-quantity, survey.items[code].unit)} more were used, counted "
            "or brought back than there were",
            "find out of which other lot they are: amend what was recorded, or identify them",
            survey.touched.get(code),
        )
        for code, spot, quantity in survey.stock
        if quantity < 0 and spot.place == End.LOST
    ]


def unknown_places(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List stock at places that the plan in force does not know."""
    if survey.plan is None:
        return []
    return [
        Gap(
            "place-unknown",
            code,
            f"{code}: {show_quantity(quantity, survey.items[code].unit)} at {spot}, "
            "which the plan does not know",
            "add the place to the plan, or move the pieces to one that it knows",
            survey.touched.get(code),
        )
        for code, spot, quantity in survey.stock
        if quantity and not spot.is_end and survey.plan.place(spot.place) is None
    ]


def stale_stock(survey: Survey, limits: Limits) -> list[Gap]:
    """List material in the works that nobody has touched for long; held one is listed apart."""
    found = []
    for code, spot, quantity in survey.stock:
        item = survey.items[code]
        touched = survey.touched.get(code)
        is_here = not spot.is_end and survey.place_kind(spot.place) not in ("customer", "supplier")
        if quantity <= 0 or not is_here or touched is None or code in survey.holds:
            continue
        days = days_between(touched, survey.now)
        if item.family is Family.MATERIAL and days > limits.stale:
            found.append(
                Gap(
                    "stock-stale",
                    code,
                    f"{code}: {show_quantity(quantity, item.unit)} at {spot}, "
                    f"untouched for {days} days",
                    "look whether it is there: count it, use it or scrap it",
                    touched,
                )
            )
    return found


def overdue_outside(survey: Survey, limits: Limits) -> list[Gap]:
    """List outside batches of which pieces have been away for long."""
    away: dict[str, list[tuple[str, int]]] = {}
    for code, spot, quantity in survey.stock:
        batch = survey.items.get(spot.within)
        if batch is not None and batch.kind == "outside-batch" and quantity > 0:
            away.setdefault(batch.code, []).append((code, quantity))
    found = []
    for code, pieces in away.items():
        batch = survey.items[code]
        sent = batch.started_at if batch.started_at is not None else batch.made_at
        days = 0 if sent is None else days_between(sent, survey.now)
        if days > limits.outside:
            rest = ", ".join(
                f"{show_quantity(quantity, survey.items[lot].unit)} of {lot}"
                for lot, quantity in pieces
            )
            found.append(
                Gap(
                    "outside-overdue",
                    code,
                    f"{code}: {rest} at {batch.supplier} for {days} days",
                    "ask for the rest; close the batch if nothing more will come back",
                    sent,
                    batch.event,
                )
            )
    return found


def long_holds(survey: Survey, limits: Limits) -> list[Gap]:
    """List what has been held in the works for long without a decision."""
    found = []
    for code, (reason, since) in survey.holds.items():
        days = days_between(since, survey.now)
        left = survey.on_hand.get(code, 0)
        item = survey.items.get(code)
        if item is not None and days > limits.held and left > 0:
            found.append(
                Gap(
                    "held-long",
                    code,
                    f"{code}: {show_quantity(left, item.unit)} held for {days} days ({reason})",
                    "inspect it and decide: accept, rework, return or scrap",
                    since,
                )
            )
    return found
