"""What a run brings forth: lots with their quantity, mass and place."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Literal

from pydantic import Field

from lotkin.core.errors import BadEvent
from lotkin.core.events.base import Amount, Code, Instant, PartOfEvent, Text
from lotkin.core.events.parts.inputs import Share
from lotkin.core.genealogy.items import Item
from lotkin.core.rules.serialised import carries_serial, check_one_piece
from lotkin.core.values.instants import to_us
from lotkin.core.values.places import Spot
from lotkin.core.values.quantities import MICRO, to_micro

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.events.parts.inputs import Taken
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["Output", "check_outputs", "make_output", "with_serial"]

MadeKind = Literal[
    "bar-lot",
    "powder-lot",
    "purchased-lot",
    "powder-blend",
    "machined-lot",
    "printed-lot",
    "treated-lot",
    "mixed-lot",
    "bath",
    "tool",
    "fixture",
]


class Output(PartOfEvent):
    """A lot that a run brings forth.

    `mass_kg` is its recorded mass; without it the plan's mass of one piece counts. `of` names the
    inputs it was made from when they were kept apart.
    """

    code: Code
    item_kind: MadeKind | None = None
    part: Code
    serial: Code | None = Field(
        default=None,
        description="Of the piece, where each carries one; that of the piece it was made from, "
        "or its code, if left out",
    )
    quantity: Amount
    unit: Literal["pcs", "kg", "m"] | None = None
    place: Code | None = None
    step: Text = ""
    mass_kg: Amount | None = None
    piece_mass_g: Amount | None = None
    of: tuple[Code, ...] = ()
    due: Instant | None = None
    hold: Text = Field(default="", description="Reason why it is held from the beginning")

    def weight_of_one(self) -> Decimal:
        """Give the relative weight of one unit: grams where a mass is known, else 1."""
        if self.unit == "kg":
            return Decimal(1000)
        if self.mass_kg is not None and self.quantity:
            return round(self.mass_kg * 1000 / self.quantity, 6)
        return self.piece_mass_g if self.piece_mass_g is not None else Decimal(1)

    def share(self) -> Share:
        """Give its share in what was taken, as a weight."""
        if self.mass_kg is not None:
            return Share(to=self.code, weight=self.mass_kg * 1000, of=self.of)
        return Share(
            to=self.code, weight=round(self.quantity * self.weight_of_one(), 6), of=self.of
        )


def check_outputs(
    shop: Shop, outputs: Sequence[Output], *, station: str | None, step: str
) -> tuple[Output, ...]:
    """Complete the outputs of an event: kind, unit, place and mass of one piece from the plan."""
    codes = [output.code for output in outputs]
    if len(set(codes)) != len(codes):
        raise BadEvent(codes[0], "two outputs have the same code")
    done = tuple(check_output(shop, output, station=station, step=step) for output in outputs)
    if len(done) > 1 and not _comparable(done):
        shop.breach(
            "no-mass",
            codes[0],
            f"{', '.join(codes)}: the input cannot be divided over them by mass",
            hint="give mass_kg of each output, or piece_mass_g in the plan",
        )
    return done


def check_output(shop: Shop, output: Output, *, station: str | None, step: str) -> Output:
    """Complete one output: what is left out comes from the plan and the station."""
    shop.free_code(output.code)
    part = shop.plan.part(output.part) if shop.plan is not None else None
    planned = shop.plan.step(output.part, step) if shop.plan is not None and step else None
    kind = output.item_kind or (planned.output_kind if planned else None)
    kind = kind or (part.kind if part else None)
    unit = output.unit or (part.unit if part else "pcs")
    place = output.place or station
    if kind is None:
        raise BadEvent(output.code, "needs item_kind: the plan does not know its part")
    if place is None:
        raise BadEvent(output.code, "needs a place, or the event a station")
    shop.check_place(place)
    shop.check_amount(output.code, unit, to_micro(output.quantity, record=output.code))
    mass = output.piece_mass_g or (part.piece_mass_g if part else None)
    return output.but(
        item_kind=kind,
        unit=unit,
        place=place,
        step=output.step or (step if planned else ""),
        piece_mass_g=mass if unit == "pcs" else None,
    )


def with_serial(shop: Shop, output: Output, used: Sequence[Taken]) -> Output:
    """Complete the serial of an output, where each finished piece of its part carries one.

    Args:
        shop: The works as the event meets it.
        output: Completed but for that.
        used: What it was made from.

    Raises:
        RuleBroken: It is more than one piece (asked events only).
    """
    part = shop.plan.part(output.part) if shop.plan is not None else None
    if part is None or not carries_serial(shop.plan, output.part, output.step):
        return output
    quantity = to_micro(output.quantity)
    before = [item for item in map(shop.exact, {one.item for one in used}) if item.serial]
    same = [item.serial for item in before if item.part == output.part]
    serial = output.serial or (same[0] if len(same) == 1 else output.code)
    check_one_piece(shop, output.code, part, quantity, serial)
    return output.but(serial=serial) if quantity == MICRO else output


def _comparable(outputs: Sequence[Output]) -> bool:
    has_mass = [
        o.unit == "kg" or o.mass_kg is not None or o.piece_mass_g is not None for o in outputs
    ]
    same_part = len({(o.part, o.unit) for o in outputs}) == 1
    return all(has_mass) or (same_part and not any(has_mass)) or all(o.of for o in outputs)


def make_output(draft: Draft, output: Output) -> None:
    """Make the item of a completed output and put it at its place."""
    item = Item(
        code=output.code,
        kind=str(output.item_kind),
        part=output.part,
        quantity=to_micro(output.quantity),
        unit=output.unit or "pcs",
        made_at=draft.at,
        event=draft.seq,
        step=output.step,
        serial=output.serial or "",
        due_at=to_us(output.due) if output.due else None,
        plan=draft.plan,
    )
    draft.make(item, Spot(output.place or ""))
    if output.hold:
        draft.fact("hold", output.code, reason=output.hold)
    if output.serial and output.serial != output.code:
        draft.fact("label", output.serial, item=output.code)
