"""The demo works against networkx: every question about every item, and every account."""

from __future__ import annotations

from typing import TYPE_CHECKING

import networkx as nx
import pytest

import lotkin_demo
from lotkin.core.account.account import account_of
from lotkin.core.events import Send
from lotkin.core.events.reading import parse_event
from lotkin.core.exposure.exposure import expose
from lotkin.core.values.places import End
from lotkin.core.values.quantities import MICRO
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import where_from, where_used
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from tests.demo_stores import demo_store

if TYPE_CHECKING:
    from lotkin.core.genealogy.items import Item
    from lotkin.store.store import Store


@pytest.fixture(scope="module")
def demo() -> tuple[Store, lotkin_demo.DemoWorks]:
    return demo_store()


@pytest.fixture(scope="module")
def items(demo: tuple[Store, lotkin_demo.DemoWorks]) -> list[Item]:
    with demo[0].reading() as view:
        return list(view.all_items())


@pytest.fixture(scope="module")
def graph(demo: tuple[Store, lotkin_demo.DemoWorks], items: list[Item]) -> nx.DiGraph[str]:
    found: nx.DiGraph[str] = nx.DiGraph()
    found.add_nodes_from(item.code for item in items)
    with demo[0].reading() as view:
        found.add_edges_from((link.parent, link.child) for link in view.all_links())
    return found


def test_the_genealogy_has_no_circle(graph: nx.DiGraph[str]) -> None:
    assert nx.is_directed_acyclic_graph(graph)


def test_where_used_of_every_item_is_what_networkx_finds(
    demo: tuple[Store, lotkin_demo.DemoWorks], items: list[Item], graph: nx.DiGraph[str]
) -> None:
    with demo[0].reading() as view:
        for item in items:
            found = set(view.reach([item.code], "down").nodes.code)
            assert found == nx.descendants(graph, item.code) | {item.code}, item.code


def test_where_from_of_every_item_is_what_networkx_finds(
    demo: tuple[Store, lotkin_demo.DemoWorks], items: list[Item], graph: nx.DiGraph[str]
) -> None:
    with demo[0].reading() as view:
        for item in items:
            found = set(view.reach([item.code], "up").nodes.code)
            assert found == nx.ancestors(graph, item.code) | {item.code}, item.code


def test_answers_list_what_was_reached(
    demo: tuple[Store, lotkin_demo.DemoWorks], graph: nx.DiGraph[str]
) -> None:
    store, works = demo
    for code in (works.bad_anodise_batch, works.powder_at_the_start, works.topped_up_lot):
        assert {row.code for row in where_used(store, code).items} == nx.descendants(graph, code)
    for unit in (works.straddling_unit, works.unit_with_recovered_motor):
        answer = where_from(store, unit)
        ancestors = nx.ancestors(graph, answer.subjects[0].code)
        assert {row.code for row in answer.items} == ancestors


def test_the_account_of_every_material_item_is_complete_unless_it_says_why_not(
    demo: tuple[Store, lotkin_demo.DemoWorks], items: list[Item]
) -> None:
    with demo[0].reading() as view:
        for item in items:
            if item.family != "material" or item.quantity is None:
                continue
            reach = view.reach([item.code], "down")
            exposed = expose(reach, reach.starts)
            possible = [not sure and not gone for sure, gone in zip(
                exposed.certain, exposed.removed, strict=True)]  # fmt: skip
            (account,) = account_of(reach, view.reached_stock(), exposed.certain, possible)
            below = any(line.quantity < 0 for line in account.lines)
            lost = any(line.where == End.LOST for line in account.lines)
            assert account.is_complete == (not (below or lost)), (item.code, account)
            assert sum(line.quantity for line in account.lines) == pytest.approx(account.quantity)
            assert account.quantity == pytest.approx(item.quantity / MICRO)


def test_numbers_of_every_answer_are_sound(
    demo: tuple[Store, lotkin_demo.DemoWorks], items: list[Item]
) -> None:
    """Chance and content lie in [0, 1], chance within its bounds, certain means chance 1."""
    with demo[0].reading() as view:
        for item in items:
            if item.kind in ("unit", "carton", "shipment"):
                continue
            reach = view.reach([item.code], "down")
            for exposed in set(expose(reach, reach.starts).items):
                assert 0 <= exposed.low <= exposed.high <= 1
                if exposed.chance is not None:
                    assert exposed.low - 1e-9 <= exposed.chance <= exposed.high + 1e-9
                if exposed.certain:
                    assert exposed.chance == exposed.low == 1
                assert exposed.content is None or 0 <= exposed.content <= 1 + 1e-12


def test_the_bad_anodise_batch_is_accounted_for_to_the_piece(
    demo: tuple[Store, lotkin_demo.DemoWorks],
) -> None:
    """What was sent equals what the places and ends hold, counted without the account."""
    store, works = demo
    found = contain(store, [works.bad_anodise_batch])
    with store.reading() as view:
        batch = view.item(works.bad_anodise_batch)
        assert batch is not None
        sending = parse_event(view.entry(batch.event).data, "sending")
    assert isinstance(sending, Send)
    sent = sum(taken.micro for taken in sending.inputs) / MICRO
    (account,) = found.accounts
    assert account.quantity == account.found == sent
    assert account.is_complete


def test_the_journal_is_sound_and_everything_follows_from_it(
    demo: tuple[Store, lotkin_demo.DemoWorks],
) -> None:
    store, works = demo
    assert verify(store).is_sound
    assert verify(store).events == works.events
    assert rebuild(store, check_only=True).difference == ""
