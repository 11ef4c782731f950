"""Things that events of others name, and lists of them with how much of each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.epcis.partner.values import Amount
from lotkin.core.values.kinds import FAMILY_OF, Family

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Thing", "by_part", "once_each"]


@dataclass(slots=True)
class Thing:
    """Something that events name.

    Attributes:
        ours: Whether it was recorded here before the document.
        micro: How much of it there is; None if not known.
    """

    code: str
    kind: str
    part: str
    unit: str
    micro: int | None
    ours: bool

    @property
    def is_material(self) -> bool:
        """Whether it is something that quantities are kept of."""
        return FAMILY_OF[self.kind] is Family.MATERIAL


def once_each(found: Iterable[tuple[Thing, Amount]]) -> list[tuple[Thing, Amount]]:
    """Add up what a list names several times, such as two bundles of one lot."""
    sums: dict[str, tuple[Thing, Amount]] = {}
    for thing, amount in found:
        before = sums[thing.code][1] if thing.code in sums else None
        sums[thing.code] = thing, amount if before is None else _added(before, amount)
    return list(sums.values())


def _added(one: Amount, other: Amount) -> Amount:
    if one.micro is None or other.micro is None or one.unit != other.unit:
        return Amount(None, "")
    return Amount(one.micro + other.micro, one.unit)


def by_part(
    into: Iterable[tuple[Thing, Amount]],
) -> list[list[tuple[Thing, Amount]]]:
    """Gather what stands for each other: lots and pieces of one part. All else stands alone."""
    groups: dict[str, list[tuple[Thing, Amount]]] = {}
    for thing, amount in into:
        key = f"part {thing.part}" if thing.part and thing.is_material else f"code {thing.code}"
        groups.setdefault(key, []).append((thing, amount))
    return list(groups.values())
