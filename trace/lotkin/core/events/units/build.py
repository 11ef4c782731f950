"""`build`: a unit is put together at a bench."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Event, Instant
from lotkin.core.events.bench_use import (
    Needed,
    held_by,
    is_set_for,
    link_setups,
    needed_of,
    shares,
)
from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.events.units.assembly import check_bill
from lotkin.core.events.units.bench import setups_between
from lotkin.core.events.units.fitted import Fitted, fit, link_fitted
from lotkin.core.genealogy.draft import Draft
from lotkin.core.genealogy.items import Item
from lotkin.core.rules.written_codes import check_serial
from lotkin.core.values.instants import to_us
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from lotkin.core.plan import PartPlan
    from lotkin.core.rules.checking import Shop

__all__ = ["Build"]


class Build(Event):
    """One unit from what is mounted at a bench and from components of its own.

    Of a bench that is set for several products it takes what its bill of material needs.

    A unit that was `started` before the bench was changed may hold either lot.
    """

    kind: Literal["build"] = "build"
    serial: Code
    part: Code
    bench: Code | None = None
    place: Code | None = Field(
        default=None, description="Where it stands then; the bench's station"
    )
    started: Instant | None = None
    inputs: tuple[Fitted, ...] = ()
    quantity: Amount = Decimal(1)
    resources: tuple[Code, ...] = ()
    needs: Annotated[tuple[Needed, ...] | None, FilledIn()] = Field(
        default=None,
        description="Filled in: what it takes of the bench, if that is not set for it alone",
    )

    def complete(self, shop: Shop) -> Self:
        """Find the components, check the bill of material and that each position has enough."""
        shop.free_code(self.serial)
        part = shop.plan.part(self.part) if shop.plan is not None else None
        self._check(shop, part)
        done = self._spell_out(shop, part)
        check_bill(shop, done, done._mounted(shop))
        return done

    def _check(self, shop: Shop, part: PartPlan | None) -> None:
        """Check that it is one unit of a part of the plan, with a serial as the plan writes them.

        Raises:
            RuleBroken: It is not (asked events only).
        """
        if self.quantity != 1:
            raise BadEvent(self.serial, "a unit is one piece; record one event for each serial")
        if part is not None:
            check_serial(shop, self.serial, self.part, part.serials)
        elif shop.plan is not None:
            shop.breach("unknown-part", self.serial, f"part {self.part} is not in the plan")
        if self.started is not None and self.started > self.at:
            raise BadEvent(self.serial, "was started after it was finished")

    def _spell_out(self, shop: Shop, part: PartPlan | None) -> Self:
        """Say where it stands, which components went into it, and what it takes of the bench."""
        bench = shop.plan.bench(self.bench) if shop.plan is not None and self.bench else None
        place = self.place or (bench.place if bench else None) or self.station or self.bench
        if place is None:
            raise BadEvent(self.serial, "needs a bench, a place or a station")
        inputs = fit(shop, self.inputs, self.serial)
        resources = tuple(shop.resolve(code).code for code in self.resources)
        done = self.but(inputs=inputs, place=place, resources=resources)
        if part is None or self.bench is None:
            return done
        is_plain = bench is not None and part.needs and is_set_for(bench, part)
        return done.but(needs=None if is_plain else needed_of(part))

    def establish(self, draft: Draft) -> None:
        """Note a unit that takes only part of a bench, for a mount that is told later."""
        if self.needs is not None and self.bench is not None:
            draft.fact("built-at", self.bench, unit=self.serial)

    def _mounted(self, shop: Shop) -> list[tuple[str, str, int]]:
        """List (lot, position, per) of the setup in force, each spoken for."""
        if self.bench is None:
            return []
        setups = setups_between(Draft(shop.view), self.bench, None, self.at_us)
        if not setups:
            shop.breach(
                "nothing-mounted",
                self.serial,
                f"nothing was mounted at {self.bench} when {self.serial} was built",
                hint="record the mount first",
            )
            return []
        mounted = []
        spot = Spot(shop.exact(setups[-1]).station)
        held = held_by(Draft(shop.view), setups[-1])
        amounts = [o.per for o in held] if self.needs is None else shares(self.needs, held)
        for one, amount in zip(held, amounts, strict=True):
            if amount or self.needs is None:
                shop.take(shop.exact(one.lot), amount, spot, doing=f"built into {self.serial}")
                mounted.append((one.lot, one.position, amount))
        return mounted

    def derive(self, draft: Draft) -> None:
        """Make the unit and link it to the setups and to its own components."""
        draft.make(
            Item(
                code=self.serial,
                kind="unit",
                part=self.part,
                quantity=MICRO,
                unit="pcs",
                made_at=self.at_us,
                started_at=to_us(self.started) if self.started else None,
                event=draft.seq,
                serial=self.serial,
                plan=draft.plan,
            ),
            Spot(self.place or ""),
        )
        self._link_setups(draft)
        for fitted in self.inputs:
            draft.move(fitted.item, fitted.micro, fitted.spot, Spot(End.USED_IN))
        link_fitted(draft, self.serial, self.inputs)
        for resource in self.resources:
            draft.link(resource, self.serial)

    def _link_setups(self, draft: Draft) -> None:
        if self.bench is None:
            return
        started = to_us(self.started) if self.started else None
        setups = setups_between(draft, self.bench, started, self.at_us)
        if setups:
            link_setups(draft, self.serial, setups, self.needs)
