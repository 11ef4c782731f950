"""A drill, for people and as a document."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_cli.shown.answer_data import subject_data
from lotkin_cli.shown.answer_text import described
from lotkin_cli.shown.complaint_tables import title
from lotkin_cli.shown.words import counted, percent
from lotkin_cli.streams import clean, write

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.events import Drill
    from lotkin.uses.drill import Drilled
    from lotkin_cli.shown.json_document import Data, Value
    from lotkin_cli.shown.places import Places

__all__ = ["accounted", "drill_data", "drill_document", "print_drill"]


def print_drill(done: Drilled, places: Places) -> None:
    """Print what a drill found."""
    drill = done.drill
    title(f"Drill on {described(done.subject)}", gap=False)
    said = [
        ("answered in", f"{drill.seconds} s"),
        ("one way", f"{counted(drill.behind, 'item')} behind it"),
        ("other way", f"{counted(drill.ahead, 'item')} that it went into"),
        ("units", _units(drill)),
        ("account", accounted(drill) or "nothing that has a quantity came from it"),
        ("customers", _customers(done, places) or "none"),
        ("on record", f"event {done.event}"),
    ]
    for name, value in said:
        write(f"  {name.ljust(11)}  {clean(value)}")
    if not drill.gaps:
        write("  no gaps")
        return
    title(f"Gaps: {len(drill.gaps)}")
    for gap in drill.gaps:
        write(f"  {clean(gap)}")


def _units(drill: Drill) -> str:
    if not drill.units:
        return "none affected"
    share = percent(drill.complete_units / drill.units)
    return (
        f"{drill.units} affected, {drill.complete_units} of them ({share}) have all of their "
        "bill of material on record"
    )


def _customers(done: Drilled, places: Places) -> str:
    return ", ".join(
        f"{places.titled(customer)} {number}" for customer, number in done.customers.items()
    )


def accounted(drill: Drill) -> str:
    """Say how much was found of how much."""
    return ", ".join(
        f"{account.found:f} of {account.of:f} {account.unit} found" for account in drill.accounts
    )


def drill_document(done: Drilled, seed: int | None) -> dict[str, Value | Iterable[Value]]:
    """Describe a drill just done."""
    return {
        "subject": subject_data(done.subject),
        "seed": seed,
        **drill_data(done.drill),
        "customers": [
            {"customer": customer, "items": number} for customer, number in done.customers.items()
        ],
        "event": done.event,
    }


def drill_data(drill: Drill) -> Data:
    """Describe what a drill measured."""
    complete = drill.complete_units / drill.units if drill.units else None
    return {
        "seconds": drill.seconds,
        "behind": drill.behind,
        "ahead": drill.ahead,
        "units": drill.units,
        "complete_units": drill.complete_units,
        "completeness": complete,
        "accounts": [
            {"unit": account.unit, "of": account.of, "found": account.found}
            for account in drill.accounts
        ],
        "gaps": list(drill.gaps),
    }
