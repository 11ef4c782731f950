"""What must hold in every store, whatever was recorded in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import networkx as nx
from sqlalchemy import text

from lotkin.core.account.sheet import NOT_RECORDED
from lotkin.core.events.reading import read
from lotkin.core.events.stock.shipping import Ship
from lotkin.core.genealogy.draft import Draft
from lotkin.core.values.kinds import ONE_THING, Family, Mixing
from lotkin.core.values.places import Spot
from lotkin.store.connection.database import of_connection
from lotkin.store.stock.stock_sums import stock_sums
from lotkin.uses.asking.amended_events import AsRead
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.hold_first import hold_first
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from lotkin.uses.lookup.resolve import resolve

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from lotkin.core.account.sheet import Account
    from lotkin.core.answers.containment import Containment
    from lotkin.core.answers.rows import Row
    from lotkin.core.genealogy.items import Item, Link
    from tests.small_works import Works

__all__ = [
    "check_accounts",
    "check_conserved",
    "check_counts",
    "check_exposure",
    "check_graph",
    "check_membership",
    "check_records",
    "check_stops",
    "graph_of",
    "items_of",
    "links_of",
    "name_of",
]

TOLERANCE = 1e-9


def items_of(works: Works) -> dict[str, Item]:
    """Give all living items by code."""
    with works.store.reading() as view:
        return {item.code: item for item in view.all_items()}


def links_of(works: Works) -> list[Link]:
    """Give all living links."""
    with works.store.reading() as view:
        return list(view.all_links())


def graph_of(works: Works) -> nx.DiGraph[str]:
    """Give items and links as a graph of another library's."""
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(items_of(works))
    graph.add_edges_from((link.parent, link.child) for link in links_of(works))
    return graph


def name_of(works: Works, code: str) -> str:
    """Give what leads to exactly this item: a unit's serial leads to its newest state."""
    with works.store.reading() as view:
        item = view.item(code)
        old = item is not None and item.kind == "unit" and view.label(code) not in (None, code)
        return f"{code}/1" if old else code


def check_records(works: Works) -> None:
    """The journal is sound, and what is derived from it is what is stored."""
    assert verify(works.store).is_sound
    assert rebuild(works.store, check_only=True).difference == ""


def check_conserved(works: Works) -> None:
    """All that was made of an item is somewhere, and the stock is the sum of all movements."""
    with works.store.engine.connect() as connection:
        items = connection.execute(text("SELECT id, code, kind, quantity FROM item"))
        rows = items.all()
        stock: dict[int, dict[int, int]] = {row.id: {} for row in rows}
        for item, spot, quantity in connection.execute(
            text("SELECT item, spot, quantity FROM stock")
        ):
            stock[item][spot] = quantity
        sums = stock_sums(of_connection(connection), sorted(stock))
    wrong = {}
    for number, code, _, quantity in rows:
        summed = {spot: micro for spot, micro in sums.get(number, {}).items() if micro}
        if summed != stock[number]:
            wrong[code] = f"stock {stock[number]}, movements {summed}"
        elif quantity is not None and sum(summed.values()) != quantity:
            wrong[code] = f"quantity {quantity}, somewhere {sum(summed.values())}"
    assert wrong == {}


def check_graph(works: Works) -> None:
    """There is no circle, and nothing is older than what it was made from.

    What looked at a thing came after it; that is no older than the event.
    """
    assert nx.is_directed_acyclic_graph(graph_of(works))
    items = items_of(works)
    with works.store.reading() as view:
        events = {entry.seq: read(Draft(view), entry) for entry in view.entries()}
    older = []
    for link in links_of(works):
        event = events[link.event]
        child_at = event.at_us if event.kind in ("inspect", "test") else items[link.child].made_at
        parent_at = items[link.parent].made_at
        if child_at is not None and parent_at is not None and child_at < parent_at:
            older.append((link.child, link.parent))
    assert older == []


def check_membership(works: Works, codes: Iterable[str] | None = None) -> None:
    """Answers hold exactly what another library's search along the links finds."""
    graph = graph_of(works)
    for code in graph.nodes if codes is None else codes:
        name = name_of(works, code)
        assert set(works.used(name)) == nx.descendants(graph, code), code
        assert set(works.origin(name)) == nx.ancestors(graph, code), code


def check_exposure(works: Works, codes: Iterable[str] | None = None) -> None:
    """Chances are chances, bounds bound them, and what is certain has a chance of one."""
    for code in items_of(works) if codes is None else codes:
        name = name_of(works, code)
        for answer in (works.used(name), works.origin(name)):
            for row in answer.values():
                _check_numbers(code, row)


def _check_numbers(subject: str, row: Row) -> None:
    about = f"{subject} in {row}"
    assert -TOLERANCE <= row.chance_low <= row.chance_high + TOLERANCE, about
    assert row.chance_high <= 1 + TOLERANCE, about
    if row.chance is not None:
        assert row.chance_low - TOLERANCE <= row.chance <= row.chance_high + TOLERANCE, about
    if row.certain:
        assert row.chance == 1.0, about
    if row.content is not None:
        assert -TOLERANCE <= row.content <= 1 + TOLERANCE, about
    if row.removed:
        assert row.chance == 0.0, about
        assert not row.certain, about


def check_accounts(works: Works, codes: Iterable[str] | None = None) -> None:
    """The account of every item sums to its quantity, and says complete only where it is."""
    items, links = items_of(works), links_of(works)
    everything_recorded = not (_vague(items, links) or _forked(links) or _unposted(items, links))
    for code in items if codes is None else codes:
        item = items[code]
        accounts = works.accounts(name_of(works, code))
        for account in accounts:
            _check_account(code, account, all_told=everything_recorded)
        if item.family is Family.MATERIAL and item.quantity is not None:
            assert [account.unit for account in accounts] == [item.unit], code
            (account,) = accounts
            assert account.quantity == item.quantity / 1_000_000, code


def _check_account(code: str, account: Account, *, all_told: bool) -> None:
    about = f"{code}: {account}"
    lines = sum(line.quantity for line in account.lines)
    assert abs(lines - account.quantity) <= 1e-6, about
    balance = account.balance
    unknown = balance.untold + balance.nowhere
    assert abs(balance.found + balance.missing + unknown - balance.over - balance.of) <= 1e-6, about
    lacks = [
        line
        for line in account.lines
        if line.quantity < 0 or line.where in ("lost", NOT_RECORDED, "unknown", "imported")
    ]
    assert account.is_complete == (not lacks), about
    assert account.is_complete == ("accounted for" in balance.text and "," not in balance.text)
    if any(line.quantity < 0 for line in account.lines):
        assert not any(line.exact for line in account.lines), about
    if all_told:
        assert not any(line.where == NOT_RECORDED for line in account.lines), about


def check_counts(works: Works, codes: Iterable[str] | None = None) -> None:
    """Expected and at most lie between what is certain and the pieces that there were."""
    items = items_of(works)
    for code in items if codes is None else codes:
        found = contain(works.store, [name_of(works, code)])
        about = f"{code}: {found.expected}, at most {found.at_most_units} of {found.units}"
        rows = [row for row in (*found.subject_rows, *found.answer.items) if row.kind == "unit"]
        gone = {row.serial for row in rows if row.removed}
        certain = {row.serial for row in rows if row.certain} - gone
        assert 0 <= found.expected.low <= found.expected.high <= found.at_most_units, about
        assert len(certain) <= found.at_most_units <= found.units, about
        assert len(certain) <= found.expected.low + TOLERANCE, about
        assert found.by_place.total == found.units, about
        if _is_whole_all_the_way(items[code], found):
            for account in found.accounts:
                if not (account.balance.over or account.balance.doubtful):
                    assert found.at_most_units <= account.quantity, about


def _is_whole_all_the_way(item: Item, found: Containment) -> bool:
    """Tell whether an item is pieces that stay what they are until they are in a unit."""
    if item.family is not Family.MATERIAL or item.unit != "pcs" or item.kind in ONE_THING:
        return False
    below = [
        row
        for row in found.answer.items
        if row.family == "material" and row.kind not in ("unit", "bench-setup")
    ]
    return all(row.unit == "pcs" and row.part == item.part for row in below)


def _vague(items: Mapping[str, Item], links: Iterable[Link]) -> set[str]:
    """Name material that something was made from without a quantity in any link of its group."""
    said: set[tuple[str, int, int]] = set()
    silent: dict[tuple[str, int, int], set[str]] = {}
    for link in links:
        parent, child = items[link.parent], items[link.child]
        if parent.quantity is None or child.family is not Family.MATERIAL:
            continue
        if child.kind == "bench-setup" or link.mixing is Mixing.FORMER:
            continue
        key = (link.child, link.event, link.group)
        if link.quantity is None:
            silent.setdefault(key, set()).add(link.parent)
        else:
            said.add(key)
    return {code for key, codes in silent.items() if key not in said for code in codes}


def _forked(links: Iterable[Link]) -> set[str]:
    """Name states of units that two later states claim to follow, after a wrong correction."""
    later = [link.parent for link in links if link.mixing is Mixing.FORMER]
    return {code for code in later if later.count(code) > 1}


def _unposted(items: Mapping[str, Item], links: Iterable[Link]) -> set[str]:
    """Name units begun with a position filled that was empty when they were finished.

    Pieces are posted from the last setup, which has none there.
    """
    positions: dict[str, set[str]] = {}
    setups: dict[str, list[Link]] = {}
    for link in links:
        if items[link.child].kind == "bench-setup":
            positions.setdefault(link.child, set()).add(link.position)
        elif items[link.parent].kind == "bench-setup":
            setups.setdefault(link.child, []).append(link)
    found = set()
    for unit, into in setups.items():
        last = [link.parent for link in into if link.quantity is not None]
        held = set().union(*(positions.get(code, set()) for code in last))
        if any(positions.get(link.parent, set()) - held for link in into):
            found.add(unit)
    return found


def check_stops(works: Works, code: str) -> None:
    """Check that every suspect piece on hand is in the list of what to stop, exactly once.

    What is suspect is found in the graph by another library; what lies where, in the stock.
    """
    graph = nx.DiGraph(
        (link.parent, link.child) for link in links_of(works) if link.mixing is not Mixing.FORMER
    )
    items = items_of(works)
    with works.store.reading() as view:
        code = resolve(view, code).code
        places = view.planned_places(view.plan_number())
        lying = {(item, spot.place, spot.within): q for item, spot, q in view.all_stock()}
        inside = view.batch_remainder(code) if items[code].kind == "outside-batch" else ()
        entries = [view.entry(recorded.seq) for recorded in works.log]
        events = [event for _, event in AsRead(view).events(entries)]
    customers = {event.customer for event in events if isinstance(event, Ship)}
    kinds = {code: place.kind for code, place in places.by_code.items()}
    at_customers = {code for code in customers if kinds.get(code, "customer") == "customer"}
    at_customers |= {code for code, kind in kinds.items() if kind == "customer"}
    graph.add_node(code)
    suspect = nx.descendants(graph, code) | {code}
    wanted = {
        key: quantity
        for key, quantity in lying.items()
        if key[0] in suspect and not Spot(key[1]).is_end
    }
    wanted |= {(item, spot.place, spot.within): q for item, spot, q in inside if not spot.is_end}
    on_hand = {
        key: quantity if quantity > 0 else None  # below zero: to be counted
        for key, quantity in wanted.items()
        if quantity and items[key[0]].family is not Family.PACK and key[1] not in at_customers
    }
    found = hold_first(works.store, [code]).stops
    keys = [(stop.code, stop.place, stop.within) for stop in found]
    assert len(keys) == len(set(keys))
    assert dict(zip(keys, (stop.quantity for stop in found), strict=True)) == on_hand
