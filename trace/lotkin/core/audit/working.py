"""Checks of what was done: rules broken, orders not finished, resources due or never used."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.audit.gap import US_PER_DAY, Gap, days_between
from lotkin.core.values.instants import show_instant
from lotkin.core.values.kinds import Family, Mixing

if TYPE_CHECKING:
    from lotkin.core.audit.gap import Limits
    from lotkin.core.audit.survey import Survey
    from lotkin.core.genealogy.items import Item

__all__ = [
    "broken_rules",
    "due_soon",
    "idle_resources",
    "past_due",
    "unfinished_travellers",
    "used_past_due",
]

MENDING = {
    "not-enough": "count what is there, so that the book is right again",
    "held": "decide on what was held, and on what was made of it",
    "more-than-sent": "ask the supplier whose pieces they are; inspect all that came back",
    "more-than-bars-give": "find the bar that was not recorded; amend the run, naming its lot",
    "out-of-limits": "inspect what was made, which is held until then",
    "bill-not-met": "amend the build, naming what went in",
    "step-skipped": "record the steps that were done, or set the lot aside",
    "wrong-step": "record the steps that were done, or set the lot aside",
}
"""How to mend what a reported event broke, by the rule."""

ELSE = "look at what was made of it; amend the event if it was misread"


def broken_rules(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List what reported events broke, the newest first, one line for each rule broken."""
    return [
        Gap(
            "rule-broken",
            breach.record,
            f"event {entry.seq} ({entry.kind}) broke {breach.rule}: {breach.message}",
            MENDING.get(breach.rule, ELSE),
            entry.at,
            entry.seq,
        )
        for entry in sorted(survey.broken, key=lambda entry: -entry.seq)
        for breach in entry.breaches
    ]


def unfinished_travellers(survey: Survey, limits: Limits) -> list[Gap]:
    """List travellers issued long ago of which no lot has passed the last step."""
    done = {start for code in _on_the_way_to_finished(survey) for start in _beginnings(code)}
    return [
        Gap(
            "traveller-open",
            order.traveller,
            f"{order.traveller}: no finished lot of {order.part} "
            f"{days_between(order.at, survey.now)} days after it was issued",
            "record the steps that were done, or void the traveller",
            order.at,
            order.event,
        )
        for order in survey.orders
        if order.traveller not in done and days_between(order.at, survey.now) > limits.unfinished
    ]


def _on_the_way_to_finished(survey: Survey) -> set[str]:
    """Give all lots that have passed the last step, and those of the part that went into them."""
    into: dict[str, list[str]] = {}
    for link in survey.links:
        if survey.items[link.parent].part == survey.items[link.child].part:
            into.setdefault(link.child, []).append(link.parent)
    waiting = []
    for item in survey.items.values():
        plan = survey.plan_of(item.plan)
        last = plan.last_step(item.part) if plan is not None else None
        if last is not None and item.step == last.code:
            waiting.append(item.code)
    seen = set(waiting)
    while waiting:
        for code in into.get(waiting.pop(), ()):
            if code not in seen:
                seen.add(code)
                waiting.append(code)
    return seen


def _beginnings(code: str) -> list[str]:
    """Give all that a code begins with up to a hyphen: lots are named after their traveller."""
    return [code[:i] for i, letter in enumerate(code) if letter == "-"]


def used_past_due(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List resources and lots that were used after their due date."""
    carried = _carried(survey)
    found = []
    for item in _with_due_date(survey):
        due = item.due_at or 0
        late = [
            link
            for link in survey.uses.get(item.code, ())
            if survey.times.get(link.event, 0) > due
            and survey.items[link.child].family is not Family.PACK
            and (link.parent, link.child, link.event) not in carried
        ]
        if late:
            last = max(late, key=lambda link: survey.times[link.event])
            found.append(
                Gap(
                    "used-past-due",
                    item.code,
                    f"{item.code} was due on {_day(due)} and used {_times(len(late))} after that, "
                    f"last for {last.child}",
                    f"look at what it was used for: `lotkin where-used {item.code} "
                    f"--from {show_instant(due)}`",
                    survey.times[last.event],
                    last.event,
                )
            )
    return found


def _carried(survey: Survey) -> set[tuple[str, str, int]]:
    """Give links that a new state of a unit took over from the one before: no use by themselves."""
    pairs = {(link.parent, link.child) for link in survey.links}
    before = {link.child: link for link in survey.links if link.mixing is Mixing.FORMER}
    return {
        (link.parent, link.child, link.event)
        for link in survey.links
        if (former := before.get(link.child)) is not None
        and link.event == former.event
        and (link.parent, former.parent) in pairs
    }


def past_due(survey: Survey, limits: Limits) -> list[Gap]:  # noqa: ARG001 - as all checks
    """List resources in use and lots in stock that are past their due date."""
    return [
        Gap(
            "past-due",
            item.code,
            f"{item.code} has been past its due date for "
            f"{days_between(item.due_at or 0, survey.now)} days",
            _renewal(item),
            item.due_at,
            item.event,
        )
        for item in _current(survey)
        if (item.due_at or 0) < survey.now
    ]


def due_soon(survey: Survey, limits: Limits) -> list[Gap]:
    """List resources in use and lots in stock whose due date is near."""
    return [
        Gap(
            "due-soon",
            item.code,
            f"{item.code} is due on {_day(item.due_at or 0)}",
            _renewal(item),
            item.due_at,
            item.event,
        )
        for item in _current(survey)
        if survey.now <= (item.due_at or 0) <= survey.now + limits.due * US_PER_DAY
    ]


def idle_resources(survey: Survey, limits: Limits) -> list[Gap]:
    """List resources that have been there for long and that no run ever named."""
    return [
        Gap(
            "resource-unused",
            item.code,
            f"{item.code} ({item.kind}) is named by no run, test or inspection",
            "scan it when it is used, or amend the runs that it was used for",
            item.made_at,
            item.event,
        )
        for item in survey.items.values()
        if item.family is Family.RESOURCE
        and item.code not in survey.uses
        and item.made_at is not None
        and days_between(item.made_at, survey.now) > limits.unfinished
    ]


def _with_due_date(survey: Survey) -> list[Item]:
    return [item for item in survey.items.values() if item.due_at is not None]


def _current(survey: Survey) -> list[Item]:
    """List what has a due date and counts: the last period of a resource, lots in stock."""
    last: dict[tuple[str, str, str], Item] = {}
    for item in survey.items.values():
        if item.family is Family.RESOURCE:
            key = (item.kind, item.part, item.serial)
            known = last.get(key)
            if known is None or (known.made_at or 0, known.event) < (item.made_at or 0, item.event):
                last[key] = item
    return [
        item
        for item in _with_due_date(survey)
        if last.get((item.kind, item.part, item.serial)) is item
        or (item.family is Family.MATERIAL and survey.on_hand.get(item.code, 0) > 0)
    ]


def _renewal(item: Item) -> str:
    if item.family is Family.MATERIAL:
        return "set it aside, or have it inspected"
    return "have it calibrated or renewed, then record the new period with `receive`"


def _times(number: int) -> str:
    return "once" if number == 1 else f"{number} times"


def _day(us: int) -> str:
    return show_instant(us)[:10]
