"""The next best question: which one fact would free the most of what is suspect.

Where pieces of several lots were mixed, or it is not known which lot a bin was, what was made of
them is suspect although part of it is sound. Sorting the pieces, or finding out which lot it was,
frees that part.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.answers.holding_points import UNREACHED, dominators
from lotkin.core.exposure.reach import LinkColumns, NodeColumns, Reach
from lotkin.core.values.kinds import Mixing

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.exposure.exposure import Exposure
    from lotkin.core.exposure.reach import Group

__all__ = ["NextQuestion", "next_questions"]

ROUNDING = 1e-9
"""Shares that sum to one may miss it by so much in floating point."""

ASKED = frozenset({Mixing.ONE_OF, Mixing.EITHER})


@dataclass(frozen=True, slots=True)
class NextQuestion:
    """One thing to find out.

    Attributes:
        item: Position of the lot or unit that it is asked of.
        event, group: Which group of links into it is in question.
        mixing: `one-of`: each piece has a parent of its own; `either`: all of it has the same.
        suspects: Positions of the suspect parents in question.
        chance_free: Chance that a piece, or all of it, is of a parent that is not suspect.
        is_assumed: Whether shares are not recorded, and parents were taken as equally likely.
        hanging: What is suspect for no other reason, in the unit of the weights.
        expected: What the answer is expected to free: chance times what hangs on it.
    """

    item: int
    event: int
    group: int
    mixing: Mixing
    suspects: tuple[int, ...]
    chance_free: float
    is_assumed: bool
    hanging: int
    expected: float


Key = tuple[int, int, int]
"""A group of links: position of the child, event, number of the group."""


def next_questions(
    reach: Reach, exposure: Exposure, weights: Mapping[int, int]
) -> list[NextQuestion]:
    """Rank what could be found out by what it is expected to free, most first.

    Args:
        reach: What is reached downwards from the subjects.
        exposure: How it is exposed to them.
        weights: Position of an item -> how much of it is suspect; what is not there is worth
            nothing.

    Returns:
        Questions that would free something.

    Complexity: that of `dominators`.
    """
    open_groups = _open_groups(reach, exposure)
    hanging = _hanging(reach, list(open_groups), weights)
    found = []
    for key, (group, parents) in open_groups.items():
        if hanging[key] <= 0:
            continue
        free, is_assumed = _chance_free(group, exposure, parents)
        if free > ROUNDING:
            found.append(
                NextQuestion(
                    item=key[0],
                    event=key[1],
                    group=key[2],
                    mixing=group[0],
                    suspects=tuple(parent for parent, _, _ in group[2]),
                    chance_free=free,
                    is_assumed=is_assumed,
                    hanging=hanging[key],
                    expected=free * hanging[key],
                )
            )
    code = reach.nodes.code
    return sorted(found, key=lambda question: (-question.expected, code[question.item]))


def _open_groups(reach: Reach, exposure: Exposure) -> dict[Key, tuple[Group, int]]:
    """Find mixed groups of which it is not certain that they bring what is suspect.

    Each with how many parents it has, those that are not suspect counted too.
    """
    members: dict[int, dict[Key, list[int]]] = {}
    links = reach.links
    for k, (child, mixing) in enumerate(zip(links.child, links.mixing, strict=True)):
        if mixing is not Mixing.EACH:
            key = (child, links.event[k], links.group[k])
            members.setdefault(child, {}).setdefault(key, []).append(links.parent[k])
    groups = reach.groups()
    found: dict[Key, tuple[Group, int]] = {}
    for child, by_key in members.items():
        # both lists are in the order of the links
        mixed = [group for group in groups[child] if group[0] is not Mixing.EACH]
        keys = [key for key, parents in by_key.items() if max(parents) >= 0]
        for key, group in zip(keys, mixed, strict=True):
            _, complete, inside, _ = group
            is_certain = complete and all(exposure[parent].certain for parent, _, _ in inside)
            if group[0] in ASKED and not is_certain and not exposure[child].certain:
                found[key] = (group, len(by_key[key]))
    return found


def _chance_free(group: Group, exposure: Exposure, parents: int) -> tuple[float, bool]:
    """Give the chance that the answer is a parent that is not suspect at all.

    One that is only possibly suspect frees nothing: its pieces stay as suspect as it is.
    """
    _, _, inside, _ = group
    shares = [share for _, share, _ in inside if share is not None]
    is_assumed = len(shares) < len(inside)
    if is_assumed:
        shares = [1 / parents] * len(inside)
    suspect = 0.0
    for (parent, _, _), share in zip(inside, shares, strict=True):
        if not exposure[parent].removed:
            suspect += share
    return max(0.0, 1.0 - suspect), is_assumed


def _hanging(reach: Reach, keys: Sequence[Key], weights: Mapping[int, int]) -> dict[Key, int]:
    """Add up what every way leads to through a group: each group is made an item of its own."""
    n = len(reach)
    place = {key: n + number for number, key in enumerate(keys)}
    wider = _widened(reach, place)
    nearest = dominators(wider)
    sums = [weights.get(i, 0) if nearest[i] != UNREACHED else 0 for i in range(len(wider))]
    for i in reversed(wider.order()):
        if nearest[i] >= 0:
            sums[nearest[i]] += sums[i]
    return {key: sums[i] for key, i in place.items()}


def _widened(reach: Reach, place: Mapping[Key, int]) -> Reach:
    """Put an item between the parents and the child of some groups."""
    nodes, links, more = reach.nodes, reach.links, len(place)
    parent, child, mixing = [], [], []
    for k, (above, below) in enumerate(zip(links.parent, links.child, strict=True)):
        between = place.get((below, links.event[k], links.group[k]))
        parent.append(above)
        child.append(below if between is None else between)
        mixing.append(links.mixing[k])
    for (below, _, _), between in place.items():
        parent.append(between)
        child.append(below)
        mixing.append(Mixing.EITHER)
    none = [0] * len(parent)
    return Reach(
        NodeColumns(
            [*nodes.code, *[""] * more],
            [*nodes.kind, *["mixed-lot"] * more],
            [*nodes.part, *[""] * more],
            [*nodes.quantity, *[None] * more],
            [*nodes.unit, *["pcs"] * more],
            [*nodes.serial, *[""] * more],
        ),
        LinkColumns(parent, child, none, none, mixing, none, none, [""] * len(parent)),
        reach.starts,
    )
