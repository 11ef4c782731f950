"""Who stands behind an event, and when it says that it happened: checked when it is recorded."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.access.rights import FREEING, Right, right_to_record, rights_of
from lotkin.core.access.sign_in import ADMIN
from lotkin.core.events import Void
from lotkin.core.events.reading import read
from lotkin.core.genealogy.draft import Draft
from lotkin.core.values.instants import from_us

if TYPE_CHECKING:
    from lotkin.core.access.rights import Who
    from lotkin.core.events import Event
    from lotkin.core.genealogy.view import View
    from lotkin.core.plan import ShopPlan
    from lotkin.core.rules.checking import Shop

__all__ = ["check_who", "placed_in_time", "rights_behind"]


def rights_behind(plan: ShopPlan | None, by: str, sender: Who | None) -> frozenset[Right] | None:
    """Give the rights with which somebody acts; None where the plan gives nobody a role.

    Of somebody who was let in they are those of the sign-in; of everybody else those that the plan
    gives to the person named, which at the command line is a claim.
    """
    if sender is not None and by == sender.person:
        return sender.rights
    if plan is None or not any(person.roles for person in plan.people):
        return None
    person = plan.person(by)
    return rights_of(person.roles) if person is not None else frozenset()


def check_who(shop: Shop, event: Event, sender: Who | None) -> bool:
    """Check that whoever did it is known, and may do what takes the right of quality.

    Returns:
        Whether it may take effect: what could free something does not without that right.

    Raises:
        RuleBroken: Not so (asked events only).
    """
    right = right_to_record(event.kind)
    let_in = sender is not None and event.by == sender.person
    if not let_in and not (right is Right.KEEP and event.by == ADMIN):
        shop.check_person(event.by)
    if right is not Right.JUDGE or shop.may_judge:
        return True
    if isinstance(event, Void) and _is_own_work(shop.view, event):
        return True
    waits = event.kind in FREEING
    shop.breach(
        "no-right",
        event.by,
        f"{event.by} may not record {event.kind}: no role in the plan gives that right"
        + (
            "; it changes nothing until somebody of quality records it"
            if event.reported and waits
            else ""
        ),
        hint="let somebody of quality do it",
    )
    return not waits


def _is_own_work(view: View, void: Void) -> bool:
    """Tell whether somebody takes back what they recorded themselves, and it holds nothing."""
    entry = view.entry_by_id(str(void.event))
    if entry is None or entry.by != void.by:
        return False
    draft = Draft(view)
    event = read(draft, entry)
    draft.begin(entry.seq, event.at_us, entry.plan)
    event.establish(draft)
    made = set(view.made_by(entry.seq))
    holds = [f for f in draft.facts_made if f.topic == "hold" and f.subject not in made]
    return not any(fact.value["reason"] for fact in holds)


def placed_in_time(shop: Shop, event: Event) -> Event:
    """Give an event whose moment is not in the future: a later one is kept as a claim.

    Raises:
        RuleBroken: It is in the future (asked events only).
    """
    if not shop.is_in_future(event.at):
        return event
    shop.breach_future(event.kind, event.at)
    return event.but(at=from_us(shop.now), claimed_at=event.at)
