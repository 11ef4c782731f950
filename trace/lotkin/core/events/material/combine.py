"""`blend` and `pool`: several lots become one, by share or piece by piece."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, ClassVar, Literal, Self

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Code, Event, Text
from lotkin.core.events.parts.inputs import Share, Taken, divide, gather, take
from lotkin.core.events.parts.outputs import Output, check_output, make_output, with_serial
from lotkin.core.values.kinds import KINDS, Family, Mixing
from lotkin.core.values.quantities import from_micro

if TYPE_CHECKING:
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Blend", "Pool"]


WORKING_RUNS = frozenset(KINDS[Family.RUN]) - {"inspection"}


class Combine(Event):
    """What `blend` and `pool` share: everything taken, less loss, is in the one output."""

    mixing: ClassVar[Mixing]
    default_kind: ClassVar[Literal["powder-blend", "mixed-lot"]]

    code: Code
    part: Code | None = Field(default=None, description="Part of the result; that of the inputs")
    place: Code | None = None
    inputs: tuple[Taken, ...] = Field(min_length=1)
    step: Text = ""

    def complete(self, shop: Shop) -> Self:
        """Find the inputs, check stock and holds, spell out part and place."""
        inputs = tuple(take(shop, taken, doing="mixed") for taken in self.inputs)
        items = [shop.exact(taken.item) for taken in inputs]
        if len({item.unit for item in items}) > 1:
            raise BadEvent(self.code, "the lots to be mixed are counted in different units")
        part = self.part or items[0].part
        if len({item.part for item in items}) > 1 and self.part is None:
            raise BadEvent(
                self.code,
                "the lots to be mixed are of different parts; name the part of the result",
            )
        output = self._output(inputs, part, items[0].unit, self.place or inputs[0].place)
        output = check_output(shop, output, station=self.station, step="")
        self._check_used_share(shop, inputs, part)
        steps = {item.step for item in items}
        passed = self.step or (steps.pop() if len(steps) == 1 else "")
        with_serial(shop, output.but(step=passed), inputs)
        return self.but(
            inputs=tuple(taken.but(group="all") for taken in inputs),
            part=part,
            place=output.place,
            step=passed,
        )

    def _check_used_share(self, shop: Shop, inputs: tuple[Taken, ...], part: str) -> None:
        """Check that no more used powder goes in than the plan allows; what a run made is used."""
        planned = shop.plan.part(part) if shop.plan is not None else None
        if planned is None or planned.used_share_max is None:
            return
        used = sum(
            taken.micro
            for taken in inputs
            if any(
                shop.exact(link.parent).kind in WORKING_RUNS
                for link in shop.view.parents(taken.item)
            )
        )
        share = Decimal(used) / Decimal(sum(taken.micro for taken in inputs))
        if share > planned.used_share_max:
            shop.breach(
                "too-much-used",
                self.code,
                f"{self.code}: {share:.0%} of it is used powder, "
                f"{part} allows {planned.used_share_max:.0%}",
                hint="add virgin powder",
            )

    def _output(self, inputs: tuple[Taken, ...], part: str, unit: str, place: str | None) -> Output:
        total = sum(taken.micro - taken.loss_micro for taken in inputs)
        return Output(
            code=self.code,
            item_kind=self.default_kind,
            part=part,
            quantity=from_micro(total),
            unit=unit if unit in ("pcs", "kg", "m") else None,  # type: ignore[arg-type]
            place=place,
            step=self.step,
        )

    def derive(self, draft: Draft) -> None:
        """Make the result and link it to all that went in, in one group."""
        first = draft.item(self.inputs[0].item)
        output = self._output(self.inputs, self.part or "", first.unit, self.place)
        make_output(draft, output)
        into = divide(draft, self.inputs, [Share(to=self.code, weight=Decimal(1))])
        gather(draft, self.code, self.inputs, into, self.mixing)


class Blend(Combine):
    """Powder or liquid mixed so well that every part of the result holds all of the inputs."""

    mixing: ClassVar[Mixing] = Mixing.BLEND
    default_kind: ClassVar[Literal["powder-blend", "mixed-lot"]] = "powder-blend"
    kind: Literal["blend"] = "blend"


class Pool(Combine):
    """Pieces of several lots tipped together; nobody knows afterwards which is which."""

    mixing: ClassVar[Mixing] = Mixing.ONE_OF
    default_kind: ClassVar[Literal["powder-blend", "mixed-lot"]] = "mixed-lot"
    kind: Literal["pool"] = "pool"
