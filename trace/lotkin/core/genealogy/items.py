"""What is stored: items, the links between them, the movements of their pieces, and facts."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.values.kinds import FAMILY_OF, ONE_THING, Family, Mixing
from lotkin.core.values.quantities import MICRO

if TYPE_CHECKING:
    from lotkin.core.values.canonical import Json
    from lotkin.core.values.places import Spot

__all__ = ["Fact", "Item", "Link", "Movement"]


@dataclass(frozen=True, slots=True)
class Item:
    """One identifiable thing: a lot, a run, a resource in one period, a unit, a carton.

    Attributes:
        code: Public code, unique for ever.
        kind: One of `KINDS`; it fixes the family.
        part: Part or material number; "" for runs and packs.
        quantity: Millionths of `unit` that were made or received; None if not recorded.
        unit: `pcs`, `kg` or `m`; "" where quantity means nothing.
        made_at: Microseconds UTC when it came to be; None if not known (a melt, say).
        started_at: For runs and units: when it began; None if not recorded.
        event: Number of the event that it comes from.
        step: Step of the route that it has passed last; "" for none.
        serial: Serial that it is a state of; "" if it is none.
        supplier: Code of the supplier; "" if made here.
        supplier_lot: Their lot, heat or batch number; never unique by itself.
        due_at: Microseconds UTC after which it must not be used (expiry, calibration).
        station: Where a run was done; for a bench setup, where its lots lie.
        plan: Number of the event that loaded the plan revision it was made under; 0 for none.
    """

    code: str
    kind: str
    part: str = ""
    quantity: int | None = None
    unit: str = ""
    made_at: int | None = None
    started_at: int | None = None
    event: int = 0
    step: str = ""
    serial: str = ""
    supplier: str = ""
    supplier_lot: str = ""
    due_at: int | None = None
    station: str = ""
    plan: int = 0

    @property
    def family(self) -> Family:
        """The family of its kind."""
        return FAMILY_OF[self.kind]

    @property
    def is_one_thing(self) -> bool:
        """Tell whether all of it shares one fate, unlike a lot of separate pieces."""
        return (
            self.kind in ONE_THING
            or FAMILY_OF[self.kind] is not Family.MATERIAL
            or self.unit != "pcs"
            or self.quantity == MICRO
        )


class Link(NamedTuple):
    """One edge from parent to child.

    Attributes:
        group: Number within the child; `mixing` is said of all parents with the same number.
        quantity: Millionths of the parent's unit that were taken; None if not recorded.
        per: Millionths of pieces of this group in one piece of the child.
        position: Where in the child it sits; "" if not said.
        event: Number of the event that it comes from.
    """

    parent: str
    child: str
    group: int
    mixing: Mixing = Mixing.EACH
    quantity: int | None = None
    per: int = MICRO
    position: str = ""
    event: int = 0


class Movement(NamedTuple):
    """Pieces of one item going from one spot to another: double entry in one row.

    `origin` is None when the pieces came to be. The sum over all spots of what came in less what
    went out equals what was made, always.
    """

    item: str
    quantity: int
    origin: Spot | None
    destination: Spot
    event: int = 0


@dataclass(frozen=True, slots=True)
class Fact:
    """Something an event establishes about a subject; the newest living one counts.

    Topics: `hold` and `label` and `test` (subject: item code or text), `mount` and `built`
    (bench), `unpacked` (carton), `identified` (lot), `amended` and `void` (event number).
    """

    topic: str
    subject: str
    at: int
    value: dict[str, Json] = field(default_factory=dict)
    event: int = 0
    ordinal: int = 0
