"""Which undecided members of a case a decision is for, by kind and by where they are."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.errors import AmbiguousCode, NothingFits

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin.core.genealogy.items import Item
    from lotkin.core.genealogy.view import View
    from lotkin.core.plan import ShopPlan

__all__ = ["MOST_UNASKED", "Selection", "fitting", "members_at"]

MOST_UNASKED = 50
"""A decision on more members than these is asked about once more."""


@dataclass(frozen=True, slots=True)
class Selection:
    """Which undecided members a decision is for; empty fields do not narrow.

    `count` says how many they are, where somebody has confirmed it.
    """

    codes: tuple[str, ...] = ()
    kind: str = ""
    place: str = ""
    customer: str = ""
    count: int | None = None


def members_at(view: View, codes: Iterable[str]) -> Counter[str]:
    """Count members by the place that they are at, ends left out."""
    return Counter(place for code in codes for place in _places(view, code))


def _places(view: View, code: str) -> set[str]:
    return {spot.place for spot, q in view.stock(code).items() if q > 0 and not spot.is_end}


def fitting(
    view: View, plan: ShopPlan | None, case: str, undecided: Sequence[str], chosen: Selection
) -> tuple[str, ...]:
    """List the undecided members that a selection takes in.

    Raises:
        NothingFits: None does; where members are is named.
        AmbiguousCode: A name is that of several places.
    """
    there = members_at(view, undecided)
    wanted = {_place_of(plan, said, there) for said in (chosen.place, chosen.customer) if said}
    found = [item for code in undecided if (item := view.item(code)) is not None]
    fits = [
        item.code
        for item in found
        if chosen.kind in ("", item.kind) and wanted <= _places(view, item.code)
    ]
    if not fits:
        said = [each for each in (chosen.kind, chosen.place, chosen.customer) if each]
        raise NothingFits(case, " and ".join(said), _listed(found, there))
    return tuple(fits)


def _place_of(plan: ShopPlan | None, said: str, there: Counter[str]) -> str:
    """Give the code of a place that is said by its code or its name, in any case."""
    if said in there or (plan is not None and plan.place(said) is not None):
        return said
    wanted = said.strip().casefold()
    places = plan.places().values() if plan is not None else ()
    found = {code for code in there if code.casefold() == wanted}
    found |= {
        each.code for each in places if wanted in (each.code.casefold(), each.name.casefold())
    }
    if len(found) > 1:
        raise AmbiguousCode(said, sorted(found))
    return found.pop() if found else said


def _listed(found: Sequence[Item], there: Counter[str]) -> str:
    if not found:
        return "every member is decided"
    kinds = Counter(item.kind for item in found)
    at = [f"{code} ({count})" for code, count in sorted(there.items())]
    of = [f"{kind} ({count})" for kind, count in sorted(kinds.items())]
    return f"undecided members are at {', '.join(at)}; they are {', '.join(of)}"
