"""`make`: inputs become outputs in a run, with scrap, samples and process loss."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Event, Text
from lotkin.core.events.material.bar_cut import check_bars
from lotkin.core.events.material.route import check_step
from lotkin.core.events.parts.inputs import Share, Taken, divide, gather, take
from lotkin.core.events.parts.outputs import Output, check_outputs, make_output, with_serial
from lotkin.core.events.parts.run import Run
from lotkin.core.genealogy.items import Item
from lotkin.core.values.instants import to_us
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.places import End

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Make"]


class Make(Event):
    """One or more lots made from what was taken.

    Inputs of the same part that are taken together are mixed (`one-of`, or `blend` in kg);
    an output that names its inputs in `of` was kept apart. `scrap` and `samples` count pieces
    that were made but are no lot. More pieces than the bars taken give by the plan break a rule:
    reported, all that was made is held until somebody knows which other bars are in it.
    """

    kind: Literal["make"] = "make"
    run: Run | None = None
    step: Text = Field(default="", description="Step of the route of the first output's part")
    traveller: Text = ""
    inputs: tuple[Taken, ...] = ()
    outputs: tuple[Output, ...] = Field(min_length=1)
    scrap: Amount = Decimal(0)
    samples: Amount = Decimal(0)
    mixing: Mixing | None = None

    def complete(self, shop: Shop) -> Self:
        """Find the inputs, check stock, holds and the route, and spell out the weights."""
        if self.run is not None:
            shop.free_code(self.run.code)
        if self.mixing is Mixing.FORMER:
            raise BadEvent(self.outputs[0].code, "former is for states of a serial only")
        resources = []
        for text in self.run.resources if self.run else ():
            item = shop.resolve(text)
            shop.check_free(item, "used in a run")
            resources.append(item.code)
        inputs = tuple(take(shop, taken, doing="used") for taken in self.inputs)
        run = self.run.but(resources=tuple(resources)) if self.run else None
        outputs = check_outputs(shop, self.outputs, station=self.station, step=self.step)
        done = self.but(run=run, inputs=inputs, outputs=outputs)
        known = {taken.item for taken in done.inputs}
        for output in done.outputs:
            strange = [shop.resolve(code).code for code in output.of]
            if not set(strange) <= known:
                raise BadEvent(output.code, "is made of something that is no input")
        done = done.but(
            outputs=tuple(
                with_serial(
                    shop, output, [one for one in inputs if not output.of or one.item in output.of]
                )
                for output in outputs
            )
        )
        check_step(shop, done)
        check_bars(shop, done)
        return done

    def derive(self, draft: Draft) -> None:
        """Make run and outputs, divide the inputs, link them."""
        if self.run is not None:
            self._make_run(draft, self.run)
        for output in self.outputs:
            make_output(draft, output)
        into = divide(draft, self.inputs, self._shares())
        for output in self.outputs:
            gather(draft, output.code, self.inputs, into, self._mixing(draft))
            if self.run is not None:
                draft.link(self.run.code, output.code)

    def _mixing(self, draft: Draft) -> Mixing:
        if self.mixing is not None:
            return self.mixing
        in_mass = all(draft.item(taken.item).unit == "kg" for taken in self.inputs)
        return Mixing.BLEND if in_mass else Mixing.ONE_OF

    def _make_run(self, draft: Draft, run: Run) -> None:
        draft.make(
            Item(
                code=run.code,
                kind=run.run_kind,
                part=self.outputs[0].part or "",
                made_at=self.at_us,
                started_at=to_us(run.started) if run.started else None,
                event=draft.seq,
                step=self.step,
                station=self.station or "",
                plan=draft.plan,
            ),
            None,
        )
        for resource in run.resources:
            draft.link(resource, run.code)

    def _shares(self) -> list[Share]:
        shares = [output.share() for output in self.outputs]
        first = self.outputs[0]
        one = first.weight_of_one()
        for end, count in ((End.SCRAP, self.scrap), (End.SAMPLE, self.samples)):
            if count:
                shares.append(Share(to=end, weight=count * one))
        return shares
