"""`send` and `take-back`: lots go to an outside service and come back, apart or mixed."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Annotated, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Code, Event, PartOfEvent, Text
from lotkin.core.events.parts.filled_in import FilledIn
from lotkin.core.events.parts.inputs import Share, Taken, divide, gather, take
from lotkin.core.events.parts.outputs import Output, check_output, make_output, with_serial
from lotkin.core.genealogy.items import Item
from lotkin.core.rules.leading import Mode
from lotkin.core.rules.outside_services import check_service
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.places import End, Spot
from lotkin.core.values.printed_numbers import folded
from lotkin.core.values.quantities import allocate, from_micro, show_quantity, to_micro

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Returned", "Send", "TakeBack"]


class Send(Event):
    """A dispatch to an outside service, as one load until told otherwise.

    A batch code that is known already joins that load.
    """

    kind: Literal["send"] = "send"
    batch: Code
    supplier: Code
    service: Text = Field(
        default="",
        description="What is asked for, one of the services that the plan lists of the supplier",
    )
    step: Text = ""
    inputs: tuple[Taken, ...] = Field(min_length=1)

    def complete(self, shop: Shop) -> Self:
        """Find the lots, check stock and holds, and that the batch is one at this supplier."""
        known = shop.view.item(self.batch)
        if known is None:
            shop.free_code(self.batch)
        elif known.kind != "outside-batch" or known.supplier != self.supplier:
            raise BadEvent(self.batch, f"is not an outside batch at {self.supplier}")
        shop.check_place(self.supplier)
        inputs = tuple(take(shop, taken, doing="sent out") for taken in self.inputs)
        parts = {shop.exact(taken.item).part for taken in inputs}
        steps = [(part, self.step) for part in sorted(parts)]
        check_service(shop, self.batch, self.supplier, self.service, steps)
        return self.but(inputs=inputs)

    def derive(self, draft: Draft) -> None:
        """Make the batch, unless it is known, and move the pieces to the supplier."""
        if not draft.has(self.batch):
            draft.make(
                Item(
                    code=self.batch,
                    kind="outside-batch",
                    part=draft.item(self.inputs[0].item).part,
                    made_at=self.at_us,
                    started_at=self.at_us,
                    event=draft.seq,
                    step=self.step,
                    supplier=self.supplier,
                    supplier_lot=_their_numbers(draft, self.batch),
                    plan=draft.plan,
                ),
                None,
            )
        for taken in self.inputs:
            draft.move(taken.item, taken.micro, taken.spot, Spot(self.supplier, self.batch))


class Returned(PartOfEvent):
    """One lot that came back: from one sent lot, or from several tipped together."""

    output: Output
    of: tuple[Taken, ...] = Field(
        min_length=1, description="Lots sent; quantities left out are found from what is still out"
    )


class TakeBack(Event):
    """Pieces come back from an outside service.

    Returns may come in parts. More than was sent breaks a rule: reported, it is `found`, and all
    that came back is held until somebody knows which pieces are whose. The missing rest counts as
    lost only when the dispatch is closed with `close`.
    """

    kind: Literal["take-back"] = "take-back"
    batch: Code
    supplier: Code | None = None
    step: Text = ""
    supplier_batch: Text = Field(
        default="",
        description="The supplier's own number of the load, as on their papers; leads to the batch",
    )
    returns: tuple[Returned, ...] = ()
    scrap: tuple[Taken, ...] = Field(default=(), description="Sent lots: pieces spoilt there")
    close: bool = Field(default=False, description="Nothing more will come back")
    lost: Annotated[tuple[Taken, ...], FilledIn()] = Field(
        default=(), description="Filled in when closing"
    )
    found: Annotated[tuple[Taken, ...], FilledIn()] = Field(
        default=(), description="Filled in for an over-count"
    )

    def complete(self, shop: Shop) -> Self:
        """Find what is still out and divide what came back over it."""
        batch = shop.resolve(self.batch)
        if batch.kind != "outside-batch":
            raise BadEvent(batch.code, "is not an outside batch")
        spot = Spot(batch.supplier, batch.code)
        out = {code: q for code, where, q in shop.view.within(batch.code) if where == spot}
        scrap = tuple(self._claim(shop, out, spot, taken) for taken in self.scrap)
        returns = tuple(self._complete(shop, out, spot, back) for back in self.returns)
        self._check_surplus(shop, batch.code, out)
        lost, found = self.lost, self.found
        if shop.mode is not Mode.AMENDED:
            lost = _rows(spot, out) if self.close else ()
            found = _rows(spot, {code: -q for code, q in out.items()})
        return self.but(
            batch=batch.code,
            supplier=batch.supplier,
            step=self.step or batch.step,
            returns=returns,
            scrap=scrap,
            lost=lost,
            found=found,
        )

    def _check_surplus(self, shop: Shop, batch: str, out: Mapping[str, int]) -> None:
        """Check that no more came back than was out; whatever else came is to be identified."""
        if shop.mode is Mode.AMENDED:
            return  # what is out today says nothing about that day
        for code, quantity in sorted(out.items()):
            if quantity >= 0:
                continue
            item = shop.exact(code)
            more = show_quantity(-quantity, item.unit)
            shop.breach(
                "more-than-sent",
                code,
                f"{more} more came back of {code} than were out with {batch}",
                hint="count again; if it is so, report it: all that came back is held then",
            )
            shop.hold_what_is_made(
                f"{more} more came back than were sent of {code}: other pieces may be among them"
            )

    def _claim(self, shop: Shop, out: dict[str, int], spot: Spot, taken: Taken) -> Taken:
        item = shop.resolve(taken.item)
        if item.code not in out and shop.mode is not Mode.AMENDED:
            shop.breach(
                "not-sent",
                item.code,
                f"{item.code} is not recorded as sent with {spot.within}",
                hint="record the dispatch first, or name the lot that was sent",
            )
        quantity = out.get(item.code, 0) if taken.quantity is None else to_micro(taken.quantity)
        out[item.code] = out.get(item.code, 0) - quantity
        return taken.but(
            item=item.code,
            quantity=from_micro(quantity),
            place=spot.place,
            within=spot.within,
            group="sent",
        )

    def _complete(self, shop: Shop, out: dict[str, int], spot: Spot, back: Returned) -> Returned:
        """Complete one return; quantities not given follow what is still out."""
        step = self.step or shop.resolve(self.batch).step
        output = check_output(shop, back.output, station=self.station, step=step)
        came = to_micro(output.quantity, record=output.code)
        open_ones = [taken for taken in back.of if taken.quantity is None]
        given = sum(taken.micro for taken in back.of)
        still = [max(out.get(shop.resolve(taken.item).code, 0), 0) for taken in open_ones]
        parts = iter(allocate(max(came - given, 0), still) if open_ones else [])
        of = tuple(
            self._claim(
                shop,
                out,
                spot,
                taken
                if taken.quantity is not None
                else taken.but(quantity=from_micro(next(parts))),
            )
            for taken in back.of
        )
        total = sum(taken.micro for taken in of)
        if total != came:
            raise BadEvent(
                output.code, "the quantities of the lots sent do not add up to what came back"
            )
        return back.but(output=with_serial(shop, output, of), of=of)

    def establish(self, draft: Draft) -> None:
        """Note the supplier's number of the load, so that it leads to the batch."""
        if self.supplier_batch:
            draft.fact("load-number", self.batch, number=self.supplier_batch)
            draft.fact("number", folded(self.supplier_batch), item=self.batch)

    def touches(self, draft: Draft) -> set[int]:
        """The dispatch that made the batch has the supplier's number now."""
        return {draft.item(self.batch).event} if self.supplier_batch else set()

    def derive(self, draft: Draft) -> None:
        """Make the treated lots; what exceeds the dispatch comes from `lost`, being found."""
        for back in self.returns:
            make_output(draft, back.output)
            into = divide(draft, back.of, [Share(to=back.output.code, weight=Decimal(1))])
            gather(draft, back.output.code, back.of, into, Mixing.ONE_OF)
            draft.link(self.batch, back.output.code)
        spot = Spot(self.supplier or "", self.batch)
        for taken in self.scrap:
            draft.move(taken.item, taken.micro, spot, Spot(End.SCRAP))
        for taken in self.lost:
            draft.move(taken.item, taken.micro, spot, Spot(End.LOST))
        for taken in self.found:
            draft.move(taken.item, taken.micro, Spot(End.LOST), spot)


def _their_numbers(draft: Draft, batch: str) -> str:
    """Give the numbers under which the supplier ran a batch, each once; "" if none is known."""
    numbers = (str(fact.value["number"]) for fact in draft.facts("load-number", batch))
    return ", ".join(dict.fromkeys(numbers))


def _rows(spot: Spot, quantities: Mapping[str, int]) -> tuple[Taken, ...]:
    """Write down what is above zero, in order of code."""
    return tuple(
        Taken(item=code, quantity=from_micro(q), place=spot.place, within=spot.within)
        for code, q in sorted(quantities.items())
        if q > 0
    )
