"""What a unit takes of what is mounted at a bench: only what it needs, in its own number."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.events.base import Amount, Code, PartOfEvent
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.places import End, Spot
from lotkin.core.values.quantities import MICRO, to_micro

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.genealogy.items import Link
    from lotkin.core.plan import BenchPlan, PartPlan

__all__ = ["Held", "Needed", "held_by", "is_set_for", "link_setups", "needed_of", "shares"]


class Needed(PartOfEvent):
    """A line of the bill of material as it stood."""

    part: Code
    per: Amount
    position: Code | None = None


class Held(NamedTuple):
    """What a position of a bench holds, and how much of it one unit takes by the set-up."""

    lot: str
    part: str
    position: str
    per: int


def needed_of(part: PartPlan) -> tuple[Needed, ...]:
    """Write down what a part needs."""
    return tuple(Needed(part=n.part, per=n.per, position=n.position) for n in part.needs)


def is_set_for(bench: BenchPlan, part: PartPlan) -> bool:
    """Tell whether a bench holds nothing but what a product needs, in its number."""
    wanted: dict[str, int] = {}
    for need in part.needs:
        wanted[need.part] = wanted.get(need.part, 0) + to_micro(need.per)
    given: dict[str, int] = {}
    for position in bench.positions:
        given[position.part] = given.get(position.part, 0) + to_micro(position.per)
    return all(wanted.get(code) == per for code, per in given.items())


def shares(needs: Sequence[Needed], held: Sequence[Held]) -> list[int]:
    """Tell how much a unit takes of each position, in millionths; 0 of what it does not need.

    A need that names a position is met there, if that holds the part. Several positions of a part
    give what the set-up says, in their order; what is still needed comes from the last of them.
    """
    taken = [0] * len(held)
    for need in sorted(needs, key=lambda need: need.position is None):
        of_part = [i for i, one in enumerate(held) if one.part == need.part]
        there = [i for i in of_part if held[i].position == need.position] or of_part
        left = to_micro(need.per)
        for i in there:
            amount = min(left, max(held[i].per - taken[i], 0))
            taken[i] += amount
            left -= amount
        if there and left:
            taken[there[-1]] += left
    return taken


def held_by(draft: Draft, setup: str) -> list[Held]:
    """List what a bench set-up holds."""
    return [
        Held(link.parent, draft.item(link.parent).part, link.position, link.per)
        for link in draft.parents(setup)
    ]


def link_setups(
    draft: Draft, unit: str, setups: Sequence[str], needs: Sequence[Needed] | None
) -> None:
    """Link a unit to what it took at a bench, and take that from the stock there.

    Args:
        draft: Receives the rows.
        unit: The unit.
        setups: Those in force while it was built, oldest first; the last gave the pieces.
        needs: What it needs; None if it takes all that is mounted.
    """
    held = {setup: held_by(draft, setup) for setup in setups}
    taken = {
        setup: [one.per for one in rows] if needs is None else shares(needs, rows)
        for setup, rows in held.items()
    }
    is_whole = all(amounts == [one.per for one in held[setup]] for setup, amounts in taken.items())
    if is_whole:
        _link_whole(draft, unit, setups)
        return
    pieces = [list(zip(held[setup], taken[setup], strict=True)) for setup in setups]
    spot = Spot(draft.item(setups[-1]).station)
    last = set(pieces[-1])
    for position, found in _by_position(pieces).items():
        number = draft.group(unit) if found else 0
        mixing = Mixing.EACH if len(found) == 1 else Mixing.EITHER
        for i, (one, amount) in enumerate(found):
            is_posted = i == 0 and (one, amount) in last
            draft.link(
                one.lot, unit, mixing, group=number, per=found[0][1], position=position,
                quantity=found[0][1] if is_posted else None,
            )  # fmt: skip
            if is_posted:
                draft.move(one.lot, amount, spot, Spot(End.USED_IN))


def _by_position(
    pieces: Sequence[Sequence[tuple[Held, int]]],
) -> dict[str, list[tuple[Held, int]]]:
    """Gather the lots that a unit may hold at each position, each once, the newest first."""
    found: dict[str, list[tuple[Held, int]]] = {}
    for of_setup in reversed(pieces):
        for one, amount in of_setup:
            known = found.setdefault(one.position, [])
            if amount and one.lot not in [other.lot for other, _ in known]:
                known.append((one, amount))
    return found


def _link_whole(draft: Draft, unit: str, setups: Sequence[str]) -> None:
    """Link a unit to the set-ups themselves: it takes all that they hold, as they say."""
    number = draft.group(unit)
    mixing = Mixing.EACH if len(setups) == 1 else Mixing.EITHER
    for setup in setups[:-1]:
        draft.link(setup, unit, mixing, group=number)
    draft.link(setups[-1], unit, mixing, group=number, quantity=MICRO)
    station = draft.item(setups[-1]).station
    parents: list[Link] = draft.parents(setups[-1])
    for link in parents:
        draft.consume(link.parent, Spot(station), link.per)
