"""What was done with some items within a time, and what that leaves out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.answers.left_out import LeftOut, left_out, said_of
from lotkin.core.answers.window import Deed, Now, Window, deeds_of
from lotkin.core.errors import NothingOverlaps
from lotkin.core.values.zone import zone_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin.core.genealogy.items import Item, Link
    from lotkin.uses.ports import Reading

__all__ = ["Narrowing", "Window", "narrow", "refuse_nothing"]


@dataclass(frozen=True, slots=True)
class Narrowing:
    """What a window makes of the items that were named.

    Attributes:
        first: Codes of direct children to go on from; None without a window.
        outside: Items that were named and that it leaves out.
        not_recorded: Codes of what is listed because its start is not recorded.
    """

    first: list[str] | None = None
    outside: tuple[LeftOut, ...] = ()
    not_recorded: frozenset[str] = frozenset()


def narrow(
    view: Reading, subjects: Iterable[Item], window: Window | None, *, as_of: int | None = None
) -> Narrowing:
    """Find what was done with the subjects, or came out of them, within a window.

    Args:
        view: Where to look.
        subjects: The items asked about.
        window: The time asked about; None for all of it.
        as_of: Journal position; None for now.
    """
    if window is None:
        return Narrowing()
    past = _Then(view, as_of)
    inside: list[Deed] = []
    outside = []
    named = set()
    for subject in subjects:
        named.add(subject.code)
        deeds = deeds_of(past, subject, window)
        found = [deed for deed in deeds if window.overlaps(deed.span)]
        inside += found
        if not found:
            outside.append(left_out(subject.code, deeds, window))
    return Narrowing(
        sorted({deed.code for deed in inside} - named),
        tuple(outside),
        frozenset(deed.code for deed in inside if deed.span.began is None),
    )


def refuse_nothing(
    view: Reading, narrowing: Narrowing, named: int, window: Window | None, as_of: int | None
) -> None:
    """Refuse to answer with zeros where a window leaves out all that was named.

    Raises:
        NothingOverlaps: It does.
    """
    if window is None or len(narrowing.outside) < named:
        return
    zone = zone_of(view.planned_places(view.plan_number(as_of)).timezone)
    findings = [said_of(one, window, zone) for one in narrowing.outside]
    raise NothingOverlaps([one.code for one in narrowing.outside], findings)


class _Then(Now):
    """What was on record at a journal position; None for now."""

    def __init__(self, view: Reading, as_of: int | None) -> None:
        super().__init__(view)
        self._reading = view
        self._as_of = as_of
        self._known: dict[str, list[tuple[Link, Item]]] = {}
        self._ats: dict[int, int] = {}

    def children(self, code: str) -> list[tuple[Link, Item]]:
        """List (link, child) below an item."""
        if code not in self._known:
            found = self._reading.children_then(code, self._as_of)
            self._known[code] = [(link, child) for link, child, _ in found]
            self._ats |= {link.event: at for link, child, at in found if child.event != link.event}
        return self._known[code]

    def at(self, event: int) -> int:
        """Tell when an event took place, as it read then."""
        return self._ats[event] if event in self._ats else super().at(event)

    def run_of(self, child: str, event: int) -> Item | None:
        """Give the run by which an event brought an item forth, as it read then."""
        run = super().run_of(child, event)
        return run if run is None else self._reading.item_as_of(run.code, self._as_of) or run

    def filling(self, batch: str) -> Sequence[int]:
        """List the events by which something was sent with a batch until then."""
        limit = self._as_of
        return [e for e in super().filling(batch) if limit is None or e <= limit]

    def is_out(self, batch: str) -> bool:
        """Tell whether anything that was sent with a batch was still out then."""
        rows = self._reading.batch_remainder(batch, self._as_of)
        return any(q > 0 and not spot.is_end for _, spot, q in rows)
