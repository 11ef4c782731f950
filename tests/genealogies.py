"""Small genealogies written as text, read into the columns that the core computes with.

A line that begins with a kind declares items, a line with an arrow is one group of links::

    heat H48
    bar-lot A 60 m, B 40 m
    machined-lot M 100
    unit U
    H48 -> A
    A 60 + B 40 -> M : one-of
    M -> U : per 2

A number behind a parent is the quantity taken from it, in its own unit; without one, or with `?`,
it is not recorded. Behind the colon stand how the group mixes (`each` if nothing is said, each
parent then by itself) and how many pieces of it are in one piece of the child. All other lines
are prose. Lots are counted in pcs, powder in kg, if no unit is named; a unit is one piece.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

import pytest

from lotkin.core.exposure.exposure import expose
from lotkin.core.exposure.reach import LinkColumns, NodeColumns, Reach
from lotkin.core.genealogy.items import Item, Link
from lotkin.core.values.kinds import FAMILY_OF, Family, Mixing
from lotkin.core.values.quantities import MICRO, to_micro

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = ["Genealogy", "Seen", "genealogy", "read_genealogy"]

UNCOUNTED = ("heat", "source-lot", "bench-setup")
IN_KG = ("powder-lot", "powder-blend")


class Seen(NamedTuple):
    """How an item is exposed, as `lotkin.core.exposure.exposure.Exposure` says it."""

    certain: bool
    chance: float | None
    low: float
    high: float
    content: float | None
    removed: bool


@dataclass(frozen=True, slots=True)
class Genealogy:
    """Items and links; parents are declared before their children or after, as is readable."""

    items: tuple[Item, ...]
    links: tuple[Link, ...]

    def whole(self, *starts: str) -> Reach:
        """Give everything, whether the starts lead there or not."""
        return self._reach([item.code for item in self.items], self.links, starts)

    def below(self, *starts: str) -> Reach:
        """Give what a store finds from the starts downwards: the rest counts for shares only."""
        reached, frontier = set(starts), list(starts)
        while frontier:
            parent = frontier.pop()
            for link in self.links:
                if link.parent == parent and link.child not in reached:
                    reached.add(link.child)
                    frontier.append(link.child)
        shared = (Mixing.ONE_OF, Mixing.EITHER, Mixing.BLEND)
        links = [
            link
            for link in self.links
            if link.child in reached and (link.parent in reached or link.mixing in shared)
        ]
        return self._reach([i.code for i in self.items if i.code in reached], links, starts)

    def exposed_to(self, *sources: str) -> dict[str, Seen]:
        """Compute what a store would answer for everything that some items lead to."""
        reach = self.below(*sources)
        found = expose(reach, reach.starts)
        return {
            code: Seen(
                found.certain[i],
                found.chance[i],
                found.low[i],
                found.high[i],
                found.content[i],
                found.removed[i],
            )
            for i, code in enumerate(reach.nodes.code)
            if found.reached[i]
        }

    def _reach(self, codes: Sequence[str], links: Iterable[Link], starts: Sequence[str]) -> Reach:
        at = {code: i for i, code in enumerate(codes)}
        by_code = {item.code: item for item in self.items}
        items = [by_code[code] for code in codes]
        columns = {
            column.name: [getattr(item, column.name) for item in items]
            for column in fields(NodeColumns)
        }
        rows = list(links)
        link_columns = LinkColumns(
            parent=[at.get(link.parent, -1) for link in rows],
            child=[at[link.child] for link in rows],
            event=[link.event for link in rows],
            group=[link.group for link in rows],
            mixing=[link.mixing for link in rows],
            quantity=[link.quantity for link in rows],
            per=[link.per for link in rows],
            parent_unit=[by_code[link.parent].unit for link in rows],
        )
        return Reach(NodeColumns(**columns), link_columns, [at[start] for start in starts])


def read_genealogy(text: str) -> Genealogy:
    """Read a genealogy.

    Raises:
        ValueError: A line is wrong, or links something that is not declared.
    """
    items: dict[str, Item] = {}
    links: list[Link] = []
    for number, line in enumerate(map(str.strip, text.splitlines()), start=1):
        kind = line.split(" ", 1)[0]
        try:
            if " -> " in line:
                links += _read_links(line, group=number)
            elif kind in FAMILY_OF:
                for declared in line.removeprefix(kind).split(","):
                    item = _read_item(kind, declared)
                    if item.code in items:
                        raise ValueError(f"{item.code} is declared twice")
                    items[item.code] = item
        except (ArithmeticError, ValueError) as error:
            raise ValueError(f"line {number}: {line!r}: {error}") from error
    for link in links:
        for code in (link.parent, link.child):
            if code not in items:
                raise ValueError(f"line {link.group}: {code} is not declared")
    return Genealogy(tuple(items.values()), tuple(links))


def _read_item(kind: str, text: str) -> Item:
    code, quantity, unit, *rest = [*text.split(), "", ""]
    if rest != ["", ""][: len(rest)]:
        raise ValueError("an item is a code, a quantity and a unit")
    counted = FAMILY_OF[kind] is Family.MATERIAL and kind not in UNCOUNTED
    if kind in ("unit", "carton"):
        counted, quantity = True, quantity or "1"
    if counted and not quantity:
        raise ValueError(f"{code} needs a quantity, or ? if it is not recorded")
    return Item(
        code=code,
        kind=kind,
        part=code.split("/", maxsplit=1)[0],
        quantity=_read_quantity(quantity),
        unit=unit or ("kg" if kind in IN_KG else "pcs") if counted else unit,
        serial=code.split("/", maxsplit=1)[0] if kind == "unit" else "",
        event=1,
    )


def _read_links(line: str, group: int) -> list[Link]:
    parents, _, rest = line.partition(" -> ")
    child, _, said = rest.partition(" : ")
    mixing, per = Mixing.EACH, MICRO
    words = said.split()
    if words and words[0] != "per":
        mixing = Mixing(words.pop(0))
    if words:
        if words[0] != "per" or len(words) != 2:
            raise ValueError("after the mixing comes `per` and a number")
        per = to_micro(Decimal(words[1]))
    links = []
    for number, parent in enumerate(parents.split(" + ")):
        code, quantity, *more = [*parent.split(), ""]
        if more not in ([], [""]):
            raise ValueError("a parent is a code and a quantity")
        own = number + 1 if mixing is Mixing.EACH else 0
        links.append(Link(code, child, group, mixing, _read_quantity(quantity), per, "", event=own))
    return links


def _read_quantity(text: str) -> int | None:
    return None if text in ("", "?") else to_micro(Decimal(text))


@pytest.fixture
def genealogy(request: pytest.FixtureRequest) -> Genealogy:
    """Read the genealogy in the docstring of the test that asks for it."""
    return read_genealogy(str(request.function.__doc__))
