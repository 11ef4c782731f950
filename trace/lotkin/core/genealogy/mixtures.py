"""Mixtures of which pieces were identified: what left them, and what they hold since."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from lotkin.core.errors import BadEvent
from lotkin.core.genealogy.draft import grouped
from lotkin.core.values.kinds import Mixing

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from lotkin.core.genealogy.draft import Draft
    from lotkin.core.genealogy.items import Fact, Link

__all__ = ["Identified", "adjust", "leaving", "mixture_of"]


@dataclass(frozen=True, slots=True)
class Identified:
    """What one identification took out of a mixture.

    Attributes:
        micro: Millionths of the mixture.
        parts: Proven parent -> millionths of it, in its own unit.
    """

    micro: int
    parts: Mapping[str, int]

    @classmethod
    def of(cls, fact: Fact) -> Identified:
        """Read it from the fact that says so."""
        said = fact.value.get("parts")
        parts = said.items() if isinstance(said, dict) else ()
        return cls(int(str(fact.value["micro"])), {code: int(str(q)) for code, q in parts})


def mixture_of(links: Sequence[Link], parents: Sequence[str]) -> list[Link] | None:
    """Find the group of pieces of several lots that holds all the named parents."""
    for group in grouped(links):
        mixed = group[0].mixing in (Mixing.ONE_OF, Mixing.EITHER)
        if mixed and set(parents) <= {link.parent for link in group}:
            return group
    return None


def leaving(code: str, links: Sequence[Link], whole: int, taken: Identified) -> list[Link]:
    """Tell what leaves a mixture with identified pieces.

    Args:
        code: The mixture.
        links: Links into it as it was made.
        whole: Millionths of it as it was made.
        taken: What was identified.

    Returns:
        The links with the quantities that leave: the proven parents of the one group, and of all
        other groups the share that is in so many pieces.

    Raises:
        BadEvent: The mixture does not hold the parents, or not as much.
    """
    chosen = mixture_of(links, tuple(taken.parts))
    if chosen is None or taken.micro > whole:
        raise BadEvent(
            code,
            f"does not hold the {', '.join(taken.parts)} that was identified from it",
            hint="amend or void the identification as well",
        )
    left: list[Link] = []
    for link in links:
        if (link.event, link.group) != (chosen[0].event, chosen[0].group):
            portion = None if link.quantity is None else link.quantity * taken.micro // whole
            left.append(link._replace(quantity=portion))
        elif link.parent in taken.parts:
            part = None if link.quantity is None else taken.parts[link.parent]
            left.append(link._replace(quantity=part))
    return left


def adjust(draft: Draft, made: Sequence[str]) -> None:
    """Lessen mixtures by what was identified from them.

    Args:
        draft: Holds the rows of the event that made the mixtures, as it made them.
        made: Codes of the items it made.

    Raises:
        BadEvent: More was identified than a mixture holds.
    """
    for code in made:
        facts = draft.facts("identified", code)
        if facts:
            _lessen(draft, code, [Identified.of(fact) for fact in facts])


def _lessen(draft: Draft, code: str, identified: Sequence[Identified]) -> None:
    item = draft.items[code]
    links = tuple(link for link in draft.links if link.child == code)
    whole = item.quantity or 0
    draft.as_made[code] = (whole, links)
    less: dict[tuple[int, int, str], int] = {}
    for taken in identified:
        for link in leaving(code, links, whole, taken):
            key = (link.event, link.group, link.parent)
            less[key] = less.get(key, 0) + (link.quantity or 0)
    total = sum(taken.micro for taken in identified)
    draft.items[code] = replace(item, quantity=whole - total)
    for i, link in enumerate(draft.links):
        gone = less.get((link.event, link.group, link.parent), 0) if link.child == code else 0
        if link.quantity is not None and gone:
            draft.links[i] = link._replace(quantity=link.quantity - gone)
            if gone > link.quantity:
                whole = -1
    if total > whole:
        raise BadEvent(
            code,
            "holds less than was identified from it",
            hint="amend or void the identifications as well",
        )
    for i, movement in enumerate(draft.movements):
        if movement.item == code and movement.origin is None:
            draft.movements[i] = movement._replace(quantity=movement.quantity - total)
