"""What goes out with something else, and what must have passed its tests before it goes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.places import Spot

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.events.parts.inputs import Taken
    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.rules.checking import Shop

__all__ = ["check_tested", "take_along"]


def check_tested(shop: Shop, code: str, doing: str) -> None:
    """Check that a unit has passed every test that the plan asks for.

    Raises:
        RuleBroken: It has not (asked events only).
    """
    item = shop.exact(code)
    part = shop.plan.part(item.part) if shop.plan is not None else None
    if item.kind != "unit" or part is None:
        return
    results = {str(f.value["name"]): f.value["passed"] for f in shop.view.facts("test", code)}
    for test in part.tests:
        if results.get(test.name) is not True:
            shop.breach(
                "not-tested",
                code,
                f"{code} cannot be {doing}: it has not passed {test.name}",
                hint="record the test first",
            )


def take_along(draft: Draft, inside: Sequence[Taken], place: str) -> None:
    """Move what a carton holds to where the carton goes."""
    for taken in inside:
        if taken.place != place:
            draft.move(taken.item, taken.micro, taken.spot, Spot(place, taken.within or ""))
