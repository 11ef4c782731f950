"""Dispersion: how many units a recall takes, for all lots or seen from one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.exposure.dispersion import disperse
from lotkin.uses.lookup.resolve import resolve

if TYPE_CHECKING:
    from lotkin.core.exposure.dispersion import Dispersion, Mixed
    from lotkin.core.genealogy.items import Item
    from lotkin.uses.ports import CanRead

__all__ = ["Dispersed", "dispersion"]


@dataclass(frozen=True, slots=True)
class Dispersed:
    """How far lots spread.

    Attributes:
        subject: The item asked about; None for the works as a whole.
        whole: The figures of the works.
        lots: Material with what it spreads to, the widest first; of a subject what it went into
            and what is behind it, itself included.
        mixed: What was mixed, the most costly first; of a subject what it was mixed in.
        as_of: Journal position.
    """

    subject: Item | None
    whole: Dispersion
    lots: tuple[Item, ...]
    mixed: tuple[Mixed, ...]
    as_of: int


def dispersion(store: CanRead, text: str | None = None) -> Dispersed:
    """Find how far lots spread.

    Args:
        store: Where to look.
        text: Code of an item to narrow the answer to; None for all.

    Raises:
        NotFound, Ambiguous: The text leads nowhere, or to several items.
    """
    with store.reading() as view:
        subject = None if text is None else resolve(view, text)
        whole = disperse(list(view.all_items()), list(view.all_links()))
        wanted: set[str] | None = None
        below: set[str] | None = None
        if subject is not None:
            below = set(view.reach([subject.code], "down").nodes.code)
            wanted = below | set(view.reach([subject.code], "up").nodes.code)
        lots = [
            item
            for item in whole.items
            if item.family == "material"
            and item.kind not in ("unit", "bench-setup")
            and (wanted is None or item.code in wanted)
        ]
        lots.sort(key=lambda item: (-whole.units_of(item.code), item.code))
        return Dispersed(
            subject,
            whole,
            tuple(lots),
            tuple(one for one in whole.mixed if below is None or one.item.code in below),
            view.journal_head()[0],
        )
