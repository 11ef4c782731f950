"""`mount`: a lot goes to a position of a bench; units built from then on have it."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, ClassVar, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent, UnknownPosition
from lotkin.core.events.base import Amount, Code, Event, PartOfEvent
from lotkin.core.genealogy.items import Item
from lotkin.core.values.places import Spot
from lotkin.core.values.quantities import from_micro, to_micro

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.genealogy.items import Fact
    from lotkin.core.rules.checking import Shop

__all__ = ["Mount", "Mounted", "setup_code", "setups_between"]


class Mounted(PartOfEvent):
    """What a position holds from now on; no item: it is emptied."""

    position: Code
    item: Code | None = None
    per: Amount | None = Field(default=None, description="Pieces in one unit; from the plan")
    origin: Code | None = Field(default=None, description="Where the lot was taken from")
    quantity: Amount | None = Field(default=None, description="How much was brought; all there is")


class Mount(Event):
    """A change of one or more positions of a bench, which begins a new bench setup.

    Recorded late, with the time when it happened, it moves the units built since to the new setup.
    """

    kind: Literal["mount"] = "mount"
    rank: ClassVar[int] = 0

    bench: Code
    place: Code | None = Field(default=None, description="Station of the bench; from the plan")
    positions: tuple[Mounted, ...] = Field(min_length=1)

    def remember(self, before: Event) -> Self:
        """Keep where a lot came from that stays at its position."""
        if not isinstance(before, Mount):
            return self
        known = {(m.position, m.item): m for m in before.positions}
        kept = [
            known.get((m.position, m.item), m) if m.origin is None and m.quantity is None else m
            for m in self.positions
        ]
        return self.but(positions=tuple(kept))

    def complete(self, shop: Shop) -> Self:
        """Find the lots and bring what is not there yet to the bench."""
        bench = shop.plan.bench(self.bench) if shop.plan is not None else None
        place = self.place or (bench.place if bench is not None else self.bench)
        if len({mounted.position for mounted in self.positions}) != len(self.positions):
            raise BadEvent(self.bench, "a position is named twice")
        done: list[Mounted] = []
        for mounted in self.positions:
            one = self._complete(shop, mounted)
            done.append(one if one.item is None else self._bring(shop, one, place, done))
        return self.but(place=place, positions=tuple(done))

    def _complete(self, shop: Shop, mounted: Mounted) -> Mounted:
        bench = shop.plan.bench(self.bench) if shop.plan is not None else None
        planned = None
        if bench is not None:
            planned = {p.code: p for p in bench.positions}.get(mounted.position)
            if planned is None:
                known = [p.code for p in bench.positions]
                raise UnknownPosition(self.bench, mounted.position, known)
        if mounted.item is None:
            return mounted
        item = shop.lot_of(mounted.item)
        shop.check_free(item, f"mounted at {self.bench}")
        if planned is not None and planned.part != item.part:
            shop.breach(
                "wrong-part",
                item.code,
                f"{item.code} is {item.part}, but {self.bench} {mounted.position} "
                f"holds {planned.part}",
                hint="scan the position again, or take the right lot",
            )
        per = mounted.per if mounted.per is not None else (planned.per if planned else Decimal(1))
        shop.check_amount(item.code, item.unit, to_micro(per))
        return mounted.but(item=item.code, per=per)

    def _bring(self, shop: Shop, mounted: Mounted, place: str, done: Sequence[Mounted]) -> Mounted:
        """Say where the lot comes from: nothing moves if some of it is at the bench already.

        What another position has brought is at the bench for this one as well.
        """
        item = shop.exact(mounted.item or "")
        if mounted.quantity is not None and mounted.origin is not None:
            quantity = to_micro(mounted.quantity)
            if quantity and shop.on_hand(item, Spot(mounted.origin)) < quantity:
                shop.take(item, quantity, Spot(mounted.origin), doing="mounted")
            return mounted
        brought = any(one.item == item.code for one in done)
        if mounted.origin is None and (brought or shop.on_hand(item, Spot(place)) > 0):
            return mounted.but(quantity=Decimal(0))
        spot = shop.spot_of(item, mounted.origin or "")
        wanted = None if mounted.quantity is None else to_micro(mounted.quantity)
        amount = shop.take(item, wanted, spot, doing="mounted")
        return mounted.but(origin=spot.place, quantity=from_micro(amount))

    def establish(self, draft: Draft) -> None:
        """Note that a new setup begins."""
        draft.fact("mount", self.bench)

    def touches(self, draft: Draft) -> set[int]:
        """Name the later mounts and the units built since, up to when all is mounted anew."""
        facts = draft.facts("mount", self.bench)
        before = [f for f in facts if (f.at, f.event) < (self.at_us, draft.seq)]
        after = [f for f in facts if (f.at, f.event) > (self.at_us, draft.seq)]
        setups = [setup_code(self.bench, before[-1].event)] if before else []
        touched: set[int] = set()
        for fact in after:
            touched.add(fact.event)
            setups.append(setup_code(self.bench, fact.event))
        for setup in [*setups, setup_code(self.bench, draft.seq)]:
            for link in draft.children(setup):
                unit = draft.item(link.child)
                if (unit.made_at or 0) >= self.at_us:
                    touched.add(link.event)
        built = draft.facts("built-at", self.bench)
        return touched | {fact.event for fact in built if fact.at >= self.at_us}

    def derive(self, draft: Draft) -> None:
        """Make the setup: what this mount changes, and what stayed from the one before."""
        code = setup_code(self.bench, draft.seq)
        draft.make(
            Item(
                code=code,
                kind="bench-setup",
                part=self.bench,
                made_at=self.at_us,
                event=draft.seq,
                station=self.place or "",
                plan=draft.plan,
            ),
            None,
        )
        changed = {mounted.position for mounted in self.positions}
        before = _before(draft, self.bench, self.at_us, draft.seq)
        for link in draft.parents(setup_code(self.bench, before.event)) if before else ():
            if link.position not in changed:
                draft.link(link.parent, code, per=link.per, position=link.position)
        for mounted in self.positions:
            if mounted.item is None:
                continue
            if mounted.origin and mounted.quantity:
                quantity = to_micro(mounted.quantity)
                draft.move(mounted.item, quantity, Spot(mounted.origin), Spot(self.place or ""))
            per = to_micro(mounted.per) if mounted.per is not None else 0
            draft.link(mounted.item, code, per=per, position=mounted.position)


def setup_code(bench: str, mount: int) -> str:
    """Name the setup that a mount began: the bench and the number of the event."""
    return f"{bench}:{mount}"


def _before(draft: Draft, bench: str, at: int, seq: int) -> Fact | None:
    last = draft.last_fact("mount", bench, at)
    if last is not None and (last.at, last.event) < (at, seq):
        return last
    facts = [f for f in draft.facts("mount", bench) if (f.at, f.event) < (at, seq)]
    return facts[-1] if facts else None


def setups_between(draft: Draft, bench: str, started: int | None, at: int) -> list[str]:
    """List the setups in force from `started` to `at`, oldest first; the last is that at `at`."""
    last = draft.last_fact("mount", bench, at)
    if last is None:
        return []
    if started is None or last.at <= started:
        return [setup_code(bench, last.event)]
    facts = [f for f in draft.facts("mount", bench) if f.at <= at]
    first = max((i for i, f in enumerate(facts) if f.at <= started), default=0)
    return [setup_code(bench, fact.event) for fact in facts[first:]]
