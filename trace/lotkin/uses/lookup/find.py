"""Finding the item that a scan means: our own QR, a supplier's label, GS1 data, any number."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from lotkin.core.errors import AmbiguousCode, UnknownCode, UnreadableLabel
from lotkin.core.rules.known_otherwise import known_otherwise
from lotkin.core.scan import OwnCode, Unreadable, match_scan, read_scan
from lotkin.core.scan.characters import shown
from lotkin.uses.lookup.by_text import by_text

if TYPE_CHECKING:
    from lotkin.core.genealogy.items import Item
    from lotkin.core.scan import Scan
    from lotkin.uses.ports import CanRead, Reading

__all__ = ["Found", "by_scan", "find", "find_in"]


@dataclass(frozen=True, slots=True)
class Found:
    """The item that a scan means.

    Attributes:
        item: The item.
        scan: All else that the label says: quantity, order, dates.
        warnings: What was repaired in the label, and what could not be proven.
    """

    item: Item
    scan: Scan
    warnings: tuple[str, ...] = ()


def find(store: CanRead, text: str) -> Found:
    """Find the item that a scan means now.

    Args:
        store: Where to look.
        text: As scanned or typed.

    Raises:
        UnknownCode: Nothing goes by what the label says.
        AmbiguousCode: Several items do; the error lists them in `candidates`.
        UnreadableLabel: The label is damaged so that any reading would be a guess.
    """
    with store.reading() as view:
        return find_in(view, text)


def find_in(view: Reading, text: str) -> Found:
    """Find the item that a scan means now, within a view; raises as `find` does."""
    scan = read_scan(text)
    try:
        return Found(by_text(view, text), scan, scan.warnings)
    except UnknownCode as unknown:
        try:
            return by_scan(view, scan, unknown)
        except UnknownCode as nothing:
            plan = view.plan(view.plan_number())
            # what a label says within comes after the text as it is
            said = known_otherwise(view, plan, text) or known_otherwise(view, plan, nothing.record)
            raise said or nothing from None


def by_scan(view: Reading, scan: Scan, unknown: UnknownCode, as_of: int | None = None) -> Found:
    """Find the item that a scan means, after its text as it is has led nowhere.

    As of an earlier position only our own codes lead anywhere.

    Raises:
        UnknownCode: Nothing goes by what the label says: `unknown` itself if it says nothing more.
        AmbiguousCode: Several items do.
        UnreadableLabel: It is a damaged label.
    """
    if isinstance(scan, Unreadable) and scan.form:
        raise UnreadableLabel(shown(scan.raw), scan.form, scan.why) from unknown
    if as_of is not None:
        if not isinstance(scan, OwnCode):
            raise unknown
        return Found(by_text(view, scan.code, as_of), scan, scan.warnings)
    number = view.plan_number()
    match = match_scan(scan, view, view.plan(number) if number else None)
    if len(match.items) > 1:
        raise AmbiguousCode(match.number, sorted(item.code for item in match.items)) from unknown
    if match.items:
        return Found(match.items[0], scan, (*scan.warnings, *match.warnings))
    if match.number in ("", unknown.record):
        raise unknown
    raise UnknownCode(match.number, near=view.near(match.number)) from unknown
