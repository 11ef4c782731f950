"""Parts and materials: what they are, what they need, how they are cut and tested."""

from __future__ import annotations

from pydantic import Field

from lotkin.core.plan.entries.entry import PlanEntry
from lotkin.core.plan.entries.steps import StepPlan
from lotkin.core.plan.kinds import CertificateKind, PartKind, Unit
from lotkin.core.plan.values import (
    Code,
    Days,
    Gtin,
    Mask,
    Millimetres,
    Name,
    Note,
    Number,
    Percent,
    PositiveMillimetres,
    PositiveNumber,
    Readings,
    Share,
    YesNo,
)

__all__ = ["BarPlan", "NeedPlan", "PartPlan", "UnitTestPlan"]


class BarPlan(PlanEntry):
    """`[part.bar]`: how the part is cut from bar, in millimetres with at most three decimals.

    Attributes:
        length_mm: Of one full bar.
        part_mm: Of one finished part.
        cutoff_mm, facing_mm: Lost per part.
        remnant_mm: Least that stays in the machine of each bar.

    More pieces than the bars can give by these lengths are refused when asked; reported, they are
    held.
    """

    length_mm: PositiveMillimetres
    part_mm: PositiveMillimetres
    cutoff_mm: Millimetres
    facing_mm: Millimetres
    remnant_mm: Millimetres


class NeedPlan(PlanEntry):
    """`[[part.need]]`: one line of the bill of material.

    Attributes:
        part: Code of the part that goes in.
        per: How much of it one piece takes, in that part's unit; whole where that is pieces.
        position: Where it goes, if that is told apart.
    """

    part: Code
    per: PositiveNumber
    position: Code | None = None


class UnitTestPlan(PlanEntry):
    """`[[part.test]]`: a test that a unit must pass in all readings.

    Attributes:
        unit: Of the readings and limits, e.g. `kPa`.
        readings: How many are taken, >= 1.
        min, max: Limits, inclusive; at least one is given.
    """

    name: Name
    unit: Name
    readings: Readings
    min: Number | None = None
    max: Number | None = None


class PartPlan(PlanEntry):
    """`[[part]]`: a part or material number.

    Attributes:
        kind: Kind of the items that carry it.
        unit: Unit of their quantities.
        piece_mass_g: Mass of one piece, for allocation by mass.
        certificate: Type of inspection document asked for (EN 10204).
        gtin: GTIN-8, -12, -13 or -14 with a right check digit.
        serialised: True where each finished piece carries a serial: it is received, made or taken
            back one by one. False where none does; left out, a piece may have one or not. Units
            always have one.
        serials: How serials are written: `#` a digit, `@` a capital letter, `?` either; () where
            any code will do.
        shelf_life_days: Days after which it must not be used any more. Where no printed expiry is
            given they count from the receipt, and the record says so.
        moisture_max_percent: Most moisture, in percent by mass, that a delivery may have; above
            it, or where the moisture is not given, it is received on hold.
        used_share_max: Largest fraction (0 to 1) of used powder in a blend; powders only.
        cautions: What labels and travellers warn of.
        needs: The bill of material; empty for what is bought or made of one input.
        steps: The route, in order; empty for what is bought.
        tests: What a finished unit must pass.
    """

    code: Code
    name: Name
    revision: Name
    kind: PartKind
    unit: Unit
    piece_mass_g: PositiveNumber | None = None
    material: Name | None = None
    certificate: CertificateKind | None = None
    gtin: Gtin | None = None
    serialised: YesNo | None = None
    serials: tuple[Mask, ...] = ()
    shelf_life_days: Days | None = None
    moisture_max_percent: Percent | None = None
    used_share_max: Share | None = None
    cautions: tuple[Note, ...] = ()
    bar: BarPlan | None = None
    needs: tuple[NeedPlan, ...] = Field(default=(), alias="need")
    steps: tuple[StepPlan, ...] = Field(default=(), alias="step")
    tests: tuple[UnitTestPlan, ...] = Field(default=(), alias="test")
