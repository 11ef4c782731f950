"""Whether a test can be judged: a test of the plan, a unit in the works, a rig in its period."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from lotkin.core.errors import did_you_mean

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from lotkin.core.genealogy.items import Item
    from lotkin.core.plan import UnitTestPlan
    from lotkin.core.rules.checking import Shop
    from lotkin.core.values.places import Spot

    class Tested(Protocol):
        """What was read."""

        @property
        def name(self) -> str: ...

        @property
        def readings(self) -> tuple[Decimal, ...]: ...

        @property
        def min(self) -> Decimal | None: ...

        @property
        def max(self) -> Decimal | None: ...

        @property
        def resources(self) -> tuple[str, ...]: ...


__all__ = ["equipment_of", "limits_of", "planned_test", "unfit_now"]

EQUIPMENT = frozenset({"gauge", "fixture", "program"})
"""What units are tested with: a rig is a gauge; what holds the unit and what runs go with it."""


def planned_test(shop: Shop, unit: Item, name: str) -> UnitTestPlan | None:
    """Give the test of the plan; None where there is none of that name.

    Raises:
        RuleBroken: There is a plan, but it has no such test (asked events only).
    """
    if shop.plan is None:
        return None
    part = shop.plan.part(unit.part)
    names = [test.name for test in part.tests] if part is not None else []
    if part is not None and name in names:
        return part.tests[names.index(name)]
    near = [known for known in names if known.casefold() == name.casefold()]
    listed = f"tests in the plan: {', '.join(names)}" if names else "add it to the plan"
    shop.breach(
        "unknown-test",
        unit.code,
        f"{unit.code}: {unit.part} has no test {name} in the plan",
        hint=f"did you mean {near[0]}?" if near else did_you_mean(name, names) or listed,
    )
    return None


def limits_of(
    shop: Shop, unit: Item, test: Tested, planned: UnitTestPlan | None
) -> tuple[Decimal | None, Decimal | None]:
    """Give the limits: those of the plan where it has the test, else those that were sent.

    Raises:
        RuleBroken: Other limits were sent, or too few readings (asked events only).
    """
    if planned is None:
        return test.min, test.max
    if len(test.readings) != planned.readings:
        shop.breach(
            "readings-missing",
            unit.code,
            f"{unit.code}: {test.name} needs {planned.readings} readings, "
            f"{len(test.readings)} given",
            hint="record all readings of the test together",
        )
    for said, limit, name in ((test.min, planned.min, "min"), (test.max, planned.max, "max")):
        if said is not None and said != limit:
            shop.breach(
                "other-limits",
                unit.code,
                f"{unit.code}: {name} of {test.name} is {limit} in the plan, not {said}",
                hint="leave the limits out; they are those of the plan",
            )
    return planned.min, planned.max


def unfit_now(shop: Shop, unit: Item, test: Tested, spot: Spot) -> str:
    """Say why unit or rig allow no verdict as things stand; "" if they do.

    Raises:
        RuleBroken: The unit is not in the works, the rig is held or out of its period (asked only).
    """
    why = ""
    place = shop.plan.place(spot.place) if shop.plan is not None else None
    away = place is not None and place.kind in ("customer", "supplier")
    if away or shop.on_hand(unit, spot) <= 0:
        why = f"{unit.code} is at {spot}" if away else f"{unit.code} is nowhere in the works"
        shop.breach(
            "not-in-the-works",
            unit.code,
            f"{why}; it cannot be tested",
            hint="record where it came back to first",
        )
    before = len(shop.breaches)
    for text in test.resources:
        shop.check_free(shop.resolve(text), "used for a test")
    return why or (shop.breaches[before].message if len(shop.breaches) > before else "")


def equipment_of(shop: Shop, resources: Sequence[str]) -> tuple[tuple[str, ...], bool]:
    """Find what a unit was tested with, and tell whether all of it is test equipment.

    Raises:
        RuleBroken: Something is not (asked events only).
    """
    codes, fits = [], True
    for text in resources:
        item = shop.resolve(text)
        codes.append(item.code)
        if item.kind not in EQUIPMENT:
            fits = False
            shop.breach(
                "no-test-equipment",
                item.code,
                f"{item.code} is a {item.kind}, which no unit is tested with",
                hint="name the rig or gauge that took the readings",
            )
    return tuple(codes), fits
