"""Cards for stations: commands, positions of benches, badges, places."""

from __future__ import annotations

import pytest

from lotkin.core.errors import UnknownCode
from lotkin.core.plan import parse_plan
from lotkin.core.scan.commands import ScanCommand, read_bench_spot, read_command
from lotkin_demo import plan_text
from lotkin_labels import (
    Card,
    badge_cards,
    bench_cards,
    command_cards,
    place_cards,
    print_cards,
)
from lotkin_labels.errors import NothingToPrint
from lotkin_labels.paper.marks import Symbol
from lotkin_labels.shop_floor.cards import card_pages
from tests.labels.rendering import codes_on, rasterise, text_of
from tests.labels.sample_labels import HOSTILE_TEXTS
from tests.labels.shop_floor.test_traveller import check

PLAN, _ = parse_plan(plan_text(), "works.toml")
assert PLAN is not None


def read_all(cards: list[Card], dots_per_inch: int) -> list[str]:
    pages = rasterise(print_cards(cards), dots_per_inch)
    return sorted(code for page in pages for code in codes_on(page))


@pytest.mark.parametrize("dots_per_inch", [203, 300])
def test_there_is_a_card_for_every_command_and_it_is_read_back(dots_per_inch: int) -> None:
    read = read_all(command_cards(), dots_per_inch)

    assert read == sorted(command.value for command in ScanCommand)
    assert None not in [read_command(code) for code in read]


def test_every_command_card_says_what_it_does() -> None:
    assert [card.title for card in command_cards() if not card.text] == []


@pytest.mark.parametrize("bench", ["BENCH-A", "BENCH-B"])
def test_every_position_of_a_bench_has_a_card(bench: str) -> None:
    assert PLAN is not None
    found = PLAN.bench(bench)
    assert found is not None
    spots = [read_bench_spot(code) for code in read_all(bench_cards(bench, PLAN), 203)]

    assert spots == sorted((bench, position.code) for position in found.positions)


def test_a_position_says_what_is_mounted_there_and_how_many() -> None:
    assert PLAN is not None
    text = " ".join(text_of(print_cards(bench_cards("BENCH-A", PLAN))))

    assert "SCREW Screw M3 x 8, 6 per unit" in text
    assert "HEAD Pump head" in text


def test_badges_and_places_are_read_back_as_their_codes() -> None:
    assert PLAN is not None

    assert read_all(badge_cards(PLAN), 203) == sorted(person.code for person in PLAN.people)
    assert read_all(place_cards(PLAN), 203) == sorted(place.code for place in PLAN.shop_places)


def test_cards_are_large_and_keep_their_quiet_zones() -> None:
    for page in card_pages(command_cards()):
        check(page)
        symbols = [mark for mark in page.marks if isinstance(mark, Symbol)]
        assert all(symbol.side_mm > 30 for symbol in symbols)


@pytest.mark.parametrize("text", HOSTILE_TEXTS, ids=range(len(HOSTILE_TEXTS)))
def test_hostile_texts_stay_in_their_place(text: str) -> None:
    cards = [Card(payload="$AT B A", title=text, text=text, place=text)] * 3

    for page in card_pages(cards):
        check(page)
    assert print_cards(cards)


def test_an_unknown_bench_offers_the_nearest() -> None:
    assert PLAN is not None
    with pytest.raises(UnknownCode) as caught:
        bench_cards("BENCH-C", PLAN)

    assert "BENCH-A" in caught.value.hint


def test_no_card_is_no_document() -> None:
    with pytest.raises(NothingToPrint, match="no card"):
        print_cards([])
