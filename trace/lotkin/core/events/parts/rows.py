"""What holds of items and links that come as rows: imported tables, adopted documents."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Annotated

from pydantic import AfterValidator, StringConstraints

from lotkin.core.errors import BadEvent, ChildBeforeParent, Circle, UnknownCode
from lotkin.core.genealogy.circles import find_circle
from lotkin.core.rules.known_otherwise import known_otherwise
from lotkin.core.values.instants import show_instant
from lotkin.core.values.kinds import FAMILY_OF, Family

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from lotkin.core.genealogy.items import Item
    from lotkin.core.rules.checking import Shop

__all__ = ["Kind", "OptionalCode", "check_age", "check_links", "check_unused"]


def _known_kind(kind: str) -> str:
    if kind not in FAMILY_OF:
        msg = f"{kind[:40]} is no kind of item"
        raise ValueError(msg)
    return kind


Kind = Annotated[str, AfterValidator(_known_kind)]
OptionalCode = Annotated[str, StringConstraints(max_length=80, pattern=r"^[!-~]*$")]


def check_unused(shop: Shop, children: Iterable[str]) -> None:
    """Check that links may still go into items that are recorded already.

    Then no circle can come about but within the rows themselves.

    Raises:
        UnknownCode: One is not recorded.
        BadEvent: Something was made from one.
    """
    for child in sorted(children):
        if shop.view.item(child) is None:
            raise known_otherwise(shop.view, shop.plan, child) or UnknownCode(child)
        if shop.view.is_used(child):
            raise BadEvent(
                child,
                "is recorded already and things were made from it",
                hint="correct what it was made from by amending its event",
            )


def check_links(links: Sequence[tuple[str, str, int]]) -> None:
    """Check links, given as (parent, child, group), among themselves.

    Raises:
        BadEvent: One stands twice.
        Circle: They go in a circle.
    """
    if len(set(links)) < len(links):
        for (parent, child, group), _ in Counter(links).most_common(1):
            raise BadEvent(child, f"is linked to {parent} twice in group {group}")
    circle = find_circle([(parent, child) for parent, child, _ in links])
    if circle:
        raise Circle(circle)


def check_age(parent: Item, child: Item) -> None:
    """Check that material is not older than what it was made from.

    Raises:
        ChildBeforeParent: It is.
    """
    if parent.made_at is None or child.made_at is None or child.made_at >= parent.made_at:
        return
    if parent.family in (Family.MATERIAL, Family.PACK):
        made = show_instant(child.made_at), show_instant(parent.made_at)
        raise ChildBeforeParent(child.code, parent.code, *made)
