"""Drills: a trace in both directions, timed, judged and put on record."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from random import Random
from typing import TYPE_CHECKING
from uuid import uuid4

from lotkin.core.account.words import account_title
from lotkin.core.audit.genealogy import missing_of
from lotkin.core.errors import NothingToDrill
from lotkin.core.events import Drill
from lotkin.core.events.quality.drill import Accounted
from lotkin.core.genealogy.draft import Draft
from lotkin.core.values.instants import from_us
from lotkin.core.values.kinds import Family
from lotkin.core.values.planned_places import kind_of_place
from lotkin.uses.asking.amended_events import AsRead
from lotkin.uses.asking.audit import bill_of
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import where_from
from lotkin.uses.recording.record import record

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence
    from contextlib import AbstractContextManager
    from typing import Protocol

    from lotkin.core.account.sheet import Account
    from lotkin.core.answers.containment import Containment
    from lotkin.core.answers.rows import Row
    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.view import Entry
    from lotkin.uses.ports import CanRead, CanRecord, Clock, Reading

    class CanDrill(CanRecord, Protocol):
        """A store that can be asked, and that remembers that it was."""

        def reading(self) -> AbstractContextManager[Reading]:
            """Give a view of one state of the store."""


__all__ = ["Drilled", "drill", "drills", "pick"]

MOST_GAPS = 100
"""Gaps that are put on record by name; how many units lack something is told in full."""


@dataclass(frozen=True, slots=True)
class Drilled:
    """A drill and what it found.

    Attributes:
        subject: The unit or lot that was followed.
        drill: As recorded.
        event: Its number in the journal.
        customers: Code of a customer -> units and lots that they have of it, packs not counted.
        unknown_places: The same for places of which nobody knows whether they are customers.
    """

    subject: Item
    drill: Drill
    event: int
    customers: dict[str, int]
    unknown_places: dict[str, int] = field(default_factory=dict)


def pick(store: CanRead, seed: int) -> str:
    """Choose a shipped unit or a lot that was used; the same seed chooses the same one.

    Raises:
        NothingToDrill: There is none.
    """
    with store.reading() as view:
        plan_number = view.plan_number()
        plan = view.plan(plan_number) if plan_number else None
        sent_to = view.places_shipped_to()
        used = {link.parent for link in view.all_links()}
        shipped = {
            code
            for code, spot, _ in view.all_stock()
            if not spot.is_end and kind_of_place(spot.place, plan, lambda: sent_to) == "customer"
        }
        units, lots = [], []
        for item in view.all_items():
            if item.kind == "unit" and item.code in shipped:
                units.append(item.code)
            elif (
                item.family is Family.MATERIAL
                and item.kind not in ("unit", "bench-setup")
                and item.code in used
            ):
                lots.append(item.code)
    choices = [some for some in (units, lots) if some]
    if not choices:
        raise NothingToDrill
    chance = Random(seed)
    return chance.choice(chance.choice(choices))


def drill(
    store: CanDrill, text: str, *, by: str, clock: Clock, timer: Callable[[], float]
) -> Drilled:
    """Follow an item in both directions, time it, and put the result on record.

    Args:
        store: Where to look, and to record.
        text: Code, serial, label or supplier's number.
        by: Who does it.
        clock: Tells when it happens.
        timer: Seconds that only ever grow, to measure with.

    Raises:
        NotFound, Ambiguous: The text leads nowhere, or to several items.
    """
    at = clock()
    began = timer()
    origin = where_from(store, text)
    subject = origin.subjects[0]
    contained = contain(store, [subject.code])
    behind, ahead = list(origin.items), list(contained.answer.items)
    units = _units(subject, ahead)
    with store.reading() as view:
        lacking = _lacking(view, units)
        gaps = [*lacking.values(), *_without_origin(view, subject, behind)]
    gaps += _not_accounted_for(contained)
    seconds = Decimal(max(timer() - began, 0.0)).quantize(Decimal("0.001"))
    event = Drill(
        id=uuid4(),
        at=from_us(at),
        by=by,
        subject=subject.code,
        seconds=seconds,
        behind=len(behind),
        ahead=len(ahead),
        units=len(units),
        complete_units=len(units) - len(lacking),
        accounts=tuple(_accounted(account) for account in contained.accounts),
        gaps=tuple(gaps[:MOST_GAPS]),
    )
    (recorded,) = record(store, [event], clock)
    customers, unknown = _things_at(contained.customers), _things_at(contained.unknown_places)
    return Drilled(subject, event, recorded.seq, customers, unknown)


def _units(subject: Item, ahead: Iterable[Row]) -> dict[str, str]:
    """Map the serial of each affected unit to the code of its newest state that is affected."""
    found: dict[str, str] = {}
    if subject.kind == "unit":
        return {subject.serial or subject.code: subject.code}
    gone = set()
    for row in ahead:
        if row.kind == "unit":
            serial = row.serial or row.code
            found[serial] = row.code
            if row.removed:
                gone.add(serial)
    return {serial: code for serial, code in found.items() if serial not in gone}


def _lacking(view: Reading, units: dict[str, str]) -> dict[str, str]:
    """Map units that lack something of their bill to what they lack, in words."""
    draft = Draft(view)
    found = {}
    for serial in sorted(units):
        states = view.states_of(serial)
        unit = states[-1] if states else draft.item(units[serial])
        if view.entry(unit.event).kind == "dismantle":
            continue
        plan = view.plan(unit.plan) if unit.plan else None
        missing = missing_of(plan, unit.part, bill_of(draft, unit.code))
        if missing:
            found[serial] = f"{unit.code} lacks {', '.join(sorted(missing))}"
    return found


def _without_origin(view: Reading, subject: Item, behind: Sequence[Row]) -> list[str]:
    """List material of which nobody knows the supplier or what it was made from."""
    codes = [subject.code, *(row.code for row in behind if row.family == Family.MATERIAL)]
    found = []
    for code in codes:
        item = view.item(code)
        if item is None or item.kind == "bench-setup" or item.supplier:
            continue
        made_of = (view.item(link.parent) for link in view.parents(code))
        if not any(one is not None and one.family is Family.MATERIAL for one in made_of):
            found.append(f"{code}: neither a supplier nor what it was made from is recorded")
    return found


def _accounted(account: Account) -> Accounted:
    balance = account.balance
    return Accounted(
        unit=balance.unit,
        part=account.part,
        of=_amount(balance.of),
        found=_amount(balance.found),
        verdict=balance.verdict.value,
        missing=_amount(balance.missing),
        more_used_than_made=_amount(balance.over),
        only_counted=_amount(balance.surplus),
        not_known=_amount(balance.untold + balance.nowhere + balance.doubtful),
    )


def _not_accounted_for(contained: Containment) -> list[str]:
    return [
        f"{account_title(account)}: {account.balance.text}"
        for account in contained.accounts
        if not account.is_complete
    ]


def _things_at(by_place: Mapping[str, Sequence[Row]]) -> dict[str, int]:
    """Count units and lots at each place, packs not counted."""
    found = {
        place: len({row.serial or row.code for row in rows if row.family == Family.MATERIAL})
        for place, rows in by_place.items()
    }
    return {place: number for place, number in found.items() if number}


def _amount(value: float) -> Decimal:
    rounded = round(Decimal(value), 6)
    return Decimal(int(rounded)) if rounded == int(rounded) else rounded.normalize()


def drills(store: CanRead) -> list[tuple[Entry, Drill]]:
    """List the drills on record in their order."""
    with store.reading() as view:
        events = AsRead(view).events(view.entries_of(["drill"]))
        return [(entry, event) for entry, event in events if isinstance(event, Drill)]
