"""The cards of a works: commands, positions of benches, badges of people, places."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.rules.known_otherwise import not_in_plan
from lotkin.core.scan.commands import ScanCommand, write_bench_spot
from lotkin_labels.shop_floor.cards import Card

if TYPE_CHECKING:
    from lotkin.core.plan import ShopPlan

__all__ = ["badge_cards", "bench_cards", "command_cards", "place_cards"]

_MEANINGS = {
    "START": "It begins now",
    "FINISH": "What was begun is finished",
    "SCRAP": "The next number is scrap",
    "SAMPLE": "The next number is samples",
    "UNDO": "Take back what was recorded last",
    "CONFIRM": "Record what is shown",
    "CANCEL": "Forget what is in hand; nothing is recorded",
    "HELP": "Say what can be scanned now",
    "REPORT": "Record it as something that has happened already",
    "RECEIVE": "Goods come in",
    "BLEND": "Powder is blended",
    "COUNT": "Pieces are counted",
    "MOVE": "Pieces go to another place",
    "PACK": "Pieces go into a carton",
    "SHIP": "Cartons leave for a customer",
    "MIX": "They were tipped together",
    "APART": "They were kept apart",
    "REPLACE": "It takes the place of what was there",
    "CLOSE": "Nothing more comes back",
    "TAKEOVER": "Go on with what somebody else has begun",
}
"""By the name of the command; one that is not here gets a card without this line."""


def command_cards() -> list[Card]:
    """Give a card for each command of a station's dialogue."""
    return [
        Card(
            payload=command.value,
            title=command.name.capitalize(),
            text=_MEANINGS.get(command.name, ""),
        )
        for command in ScanCommand
    ]


def bench_cards(bench: str, plan: ShopPlan) -> list[Card]:
    """Give a card for each position of a bench, in the order of the plan.

    Raises:
        UnknownCode: The plan has no such bench.
    """
    found = plan.bench(bench)
    if found is None:
        raise not_in_plan(bench, "bench", [each.code for each in plan.benches], plan)
    cards = []
    for position in found.positions:
        part = plan.part(position.part)
        name = f" {part.name}" if part is not None else ""
        per = f", {position.per:f} per unit" if position.per != 1 else ""
        cards.append(
            Card(
                payload=write_bench_spot(found.code, position.code),
                title=position.code,
                text=f"{position.part}{name}{per}",
                place=f"{found.code} {found.name}",
            )
        )
    return cards


def badge_cards(plan: ShopPlan) -> list[Card]:
    """Give a badge for each person of the plan."""
    return [
        Card(payload=person.code, title=person.name, text=", ".join(person.roles))
        for person in plan.people
    ]


def place_cards(plan: ShopPlan) -> list[Card]:
    """Give a card for each place inside the works."""
    return [
        Card(payload=place.code, title=place.code, text=place.name, place=place.kind)
        for place in plan.shop_places
    ]
