"""Audit: all that is on record is gathered and looked through for gaps."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.audit import DOCUMENT_KINDS, Delivery, Gap, Limits, Order, Survey, find_gaps
from lotkin.core.events import Count, Receive
from lotkin.core.genealogy.draft import Draft
from lotkin.core.genealogy.unit_state import components
from lotkin.core.values.kinds import Family, Mixing
from lotkin.uses.asking.amended_events import AsRead
from lotkin.uses.evidence.named_documents import lost_documents, named_documents

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from lotkin.core.genealogy.items import Item, Link
    from lotkin.core.plan import ShopPlan
    from lotkin.uses.evidence.named_documents import GivesDocuments
    from lotkin.uses.ports import CanRead, Reading

__all__ = ["Audit", "audit", "bill_of"]


@dataclass(frozen=True, slots=True)
class Audit:
    """What an audit found.

    Attributes:
        gaps: In the order of the checks.
        counts: Number of gaps by kind.
        items, units: How many were looked at.
        as_of: Journal position.
    """

    gaps: tuple[Gap, ...]
    items: int
    units: int
    as_of: int

    @property
    def counts(self) -> dict[str, int]:
        """Count the gaps by kind, in the order of the checks."""
        counts: dict[str, int] = {}
        for gap in self.gaps:
            counts[gap.kind] = counts.get(gap.kind, 0) + 1
        return counts


def audit(
    store: CanRead,
    documents: GivesDocuments,
    now: int,
    limits: Limits | None = None,
    *,
    kinds: Collection[str] = (),
) -> Audit:
    """Look for gaps in the record.

    Args:
        store: Where to look.
        documents: Where those that events name are kept; each is read and compared.
        now: Microseconds UTC to which days are counted.
        limits: From when on something is overdue.
        kinds: Only gaps of these kinds; empty for all.
    """
    with store.reading() as view:
        survey = _survey(view, now)
        if not kinds or not DOCUMENT_KINDS.isdisjoint(kinds):
            survey.lost = lost_documents(named_documents(view.chain_rows()), documents)
        gaps = find_gaps(survey, limits or Limits(), kinds)
        return Audit(tuple(gaps), len(survey.items), len(survey.bills), view.journal_head()[0])


def bill_of(draft: Draft, unit: str) -> dict[str, int]:
    """Sum what is in a unit by part, in millionths; of alternatives one counts."""
    inside: dict[str, int] = {}
    either: set[tuple[int, int]] = set()
    for one in components(draft, unit):
        link = one.direct
        if link is not None and link.mixing is Mixing.EITHER:
            if (link.event, link.group) in either:
                continue
            either.add((link.event, link.group))
        part = draft.item(one.lots[0]).part
        inside[part] = inside.get(part, 0) + one.per
    return inside


def _survey(view: Reading, now: int) -> Survey:
    as_read = AsRead(view)
    items = {item.code: item for item in view.all_items()}
    links = list(view.all_links())
    times = as_read.times(view)
    plan = view.plan_number()
    draft = Draft(view)
    deliveries, found = _received_and_found(view, as_read)
    apart = {entry.seq for entry in view.entries_of(["dismantle"])}
    return Survey(
        now=now,
        items=items,
        links=links,
        stock=view.all_stock(),
        times=times,
        recorded={seq: recorded for seq, (_, recorded) in view.event_times().items()},
        plans=_plans(view, items.values()),
        plan=view.plan(plan) if plan else None,
        deliveries=deliveries,
        orders=[
            Order(fact.subject, str(fact.value["part"]), fact.event, fact.at)
            for fact in view.facts_of("traveller")
        ],
        broken=[entry for entry in view.entries_of() if entry.seq not in as_read.voided],
        holds=_holds(view),
        bills={code: bill_of(draft, code) for code in _newest_units(items, links, apart)},
        touched=_touched(view, items, links, times),
        found=found,
        identified=frozenset(fact.subject for fact in view.facts_of("identified")),
        shipped_to=frozenset(view.places_shipped_to()),
    )


def _plans(view: Reading, items: Iterable[Item]) -> dict[int, ShopPlan]:
    plans = {seq: view.plan(seq) for seq in {item.plan for item in items} if seq}
    return {seq: plan for seq, plan in plans.items() if plan is not None}


def _received_and_found(view: Reading, as_read: AsRead) -> tuple[list[Delivery], list[str]]:
    deliveries, found = [], []
    for entry, event in as_read.events(view.entries_of(["receive", "count"])):
        if isinstance(event, Receive):
            deliveries.append(
                Delivery(
                    event.code, event.part, event.certificate, entry.plan, entry.seq, event.at_us
                )
            )
        elif isinstance(event, Count) and event.found is not None:
            found.append(event.found.code)
    return deliveries, found


def _holds(view: Reading) -> dict[str, tuple[str, int]]:
    """Map what is held now to the reason and to when that hold began."""
    since: dict[str, int] = {}
    for fact in sorted(view.facts_of("hold"), key=lambda fact: (fact.event, fact.ordinal)):
        if not fact.value["reason"]:
            since.pop(fact.subject, None)
        else:
            since.setdefault(fact.subject, fact.at)
    return {code: (reason, since.get(code, 0)) for code, reason in view.holds().items()}


def _newest_units(
    items: Mapping[str, Item], links: Iterable[Link], apart: Collection[int]
) -> list[str]:
    """List the newest states of units, but for those that an event of `apart` took apart."""
    older = {link.parent for link in links if link.mixing is Mixing.FORMER}
    return [
        item.code
        for item in items.values()
        if item.kind == "unit" and item.code not in older and item.event not in apart
    ]


def _touched(
    view: Reading, items: Mapping[str, Item], links: Sequence[Link], times: Mapping[int, int]
) -> dict[str, int]:
    """Map every item to when it came to be, was moved, or something was made of it."""
    touched = {item.code: times.get(item.event, 0) for item in items.values()}
    for code, event in view.last_moves().items():
        touched[code] = max(touched[code], times.get(event, 0))
    for link in links:
        touched[link.parent] = max(touched[link.parent], times.get(link.event, 0))
    # what lies at a bench is used with every unit that is built there
    for link in links:
        if items[link.child].kind == "bench-setup" and items[link.parent].family is Family.MATERIAL:
            touched[link.parent] = max(touched[link.parent], touched[link.child])
    return touched
