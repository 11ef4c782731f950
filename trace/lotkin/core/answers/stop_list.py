"""The list to go round the works with: everything suspect that is on hand, place by place.

What is nearest to a customer comes first: dispatch, then where cartons are packed, then the route
backwards, what is in quarantine already, and at last what lies at suppliers.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.answers.holding_points import UNREACHED, holding_points
from lotkin.core.values.kinds import Family

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from lotkin.core.answers.left_out import LeftOut
    from lotkin.core.answers.rows import Here, Row
    from lotkin.core.exposure.reach import Reach

__all__ = ["Feeder", "Stop", "StopList", "stop_list"]

FEEDING = frozenset({"shelf", "station", ""})
"""Kinds of places that lots are issued from; "" is a place that no plan tells of."""


NOT_OURS = frozenset({"customer", "end"})
"""Kinds of places where nothing is stopped."""


class Stop(NamedTuple):
    """Pieces of one item to stop at one place; `within` a carton or outside batch.

    `quantity` is in millionths, None where the item is below zero on record: more of it was taken
    from there than came, so nobody knows what lies there until it is counted.
    """

    place: str
    place_kind: str
    within: str
    code: str
    kind: str
    part: str
    serial: str
    quantity: int | None
    unit: str
    held: bool


@dataclass(frozen=True, slots=True)
class Feeder:
    """A lot on hand that more may be made of: to stop issuing from.

    Attributes:
        code, kind, part, unit: The lot.
        own: Millionths of it that are on hand.
        at: Where that is.
        descending: Millionths of other pieces on hand that came through this lot alone. Not issuing
            from it does not stop them: they are stops of their own.
    """

    code: str
    kind: str
    part: str
    unit: str
    own: int
    at: tuple[Here, ...]
    descending: int


@dataclass(frozen=True, slots=True)
class StopList:
    """What to stop, and what to issue no more.

    Attributes:
        stops: Everything on hand, each piece once, and where it must be counted.
        feeders: The lots on hand that others on hand came through, and those that stand alone,
            most pieces first; what is made of any lot on the list is suspect as well.
        outside: Items that were named and that the time asked about leaves out.
    """

    stops: tuple[Stop, ...]
    feeders: tuple[Feeder, ...]
    outside: tuple[LeftOut, ...] = ()

    @property
    def pieces(self) -> int:
        """Millionths of pieces to stop, as far as they are known."""
        return sum(stop.quantity or 0 for stop in self.stops if stop.unit == "pcs")

    @property
    def to_count(self) -> int:
        """How many of the stops are of a quantity that nobody knows."""
        return sum(stop.quantity is None for stop in self.stops)

    @property
    def units(self) -> int:
        """How many units are among them."""
        return len({stop.serial or stop.code for stop in self.stops if stop.kind == "unit"})

    @property
    def places(self) -> list[str]:
        """Places to go to, in order."""
        return list(dict.fromkeys(stop.place for stop in self.stops))


def stop_list(
    reach: Reach, places: Mapping[str, Iterable[Row]], suspect: Iterable[Row] = ()
) -> StopList:
    """Put the list together.

    Args:
        reach: What is reached downwards from the subjects.
        places: Rows of what is on hand by place, each of one spot.
        suspect: All that is suspect, wherever it is: for what is below zero somewhere.
    """
    on_hand = [(row, here) for rows in places.values() for row in rows for here in row.at]
    below_zero = [
        (row, here)
        for row in suspect
        for here in row.at
        if here.quantity < 0 and not row.removed and here.place_kind not in NOT_OURS
    ]
    stops = [
        Stop(
            here.place, here.place_kind, here.within, row.code, row.kind, row.part, row.serial,
            here.quantity if here.quantity > 0 else None, row.unit, row.held,
        )
        for row, here in (*on_hand, *below_zero)
        if row.family != Family.PACK
    ]  # fmt: skip
    along = _how_far_along(reach)
    rank = _ranks(stops, along)

    def turn(stop: Stop) -> tuple[object, ...]:
        packed = (not stop.within, stop.within)
        far = (stop.kind != "unit", -along.get(stop.code, 0))
        return (*rank[stop.place], stop.place, *packed, *far, stop.code)

    stops.sort(key=turn)
    return StopList(tuple(stops), tuple(_feeders(reach, places)))


def _how_far_along(reach: Reach) -> dict[str, int]:
    """Map codes to how many generations of material they are from the subjects."""
    above: list[list[int]] = [[] for _ in range(len(reach))]
    for parent, child in zip(reach.links.parent, reach.links.child, strict=True):
        if parent >= 0:
            above[child].append(parent)
    far = [0] * len(reach)
    for i in reach.order():
        far[i] = max((far[k] for k in above[i]), default=0) + reach.is_material(i)
    return dict(zip(reach.nodes.code, far, strict=True))


def _ranks(stops: Sequence[Stop], along: Mapping[str, int]) -> dict[str, tuple[int, bool, int]]:
    """Map places to their turn: a group, units before lots, then how far along these are."""
    ranks: dict[str, tuple[int, bool, int]] = {}
    for stop in stops:
        groups = {"dispatch": 0, "quarantine": 3, "supplier": 4}
        packed = 1 if stop.within else 2
        group = groups.get(stop.place_kind, packed)
        mine = (group, stop.kind != "unit", -along.get(stop.code, 0))
        ranks[stop.place] = min(mine, ranks.get(stop.place, mine))
    return ranks


def _feeders(reach: Reach, places: Mapping[str, Iterable[Row]]) -> Iterable[Feeder]:
    """List the lots that can still be issued and that most of what is on hand came through."""
    position = {code: i for i, code in enumerate(reach.nodes.code)}
    on_hand: dict[int, tuple[Here, ...]] = {}
    for rows in places.values():
        for row in rows:
            if row.code in position and row.family == Family.MATERIAL:
                i = position[row.code]
                on_hand[i] = (*on_hand.get(i, ()), *row.at)
    for point in holding_points(reach, on_hand):
        is_lot = point.kind != "unit" and position.get(point.code, UNREACHED) in on_hand
        at = tuple(here for here in point.at if here.place_kind in FEEDING and not here.within)
        if is_lot and at:
            own = sum(here.quantity for here in at)
            counted = point.own if point.unit == "pcs" else 0
            yield Feeder(
                point.code, point.kind, point.part, point.unit, own, at, point.pieces - counted
            )
