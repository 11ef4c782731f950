"""A drill, for people and as a document."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.account.words import NO_ACCOUNT
from lotkin_answers.documents.drills import accounted
from lotkin_answers.words import counted, percent
from lotkin_cli.output.streams import clean, write
from lotkin_cli.text.answer_text import described
from lotkin_cli.text.complaint.tables import title

if TYPE_CHECKING:
    from lotkin.core.events import Drill
    from lotkin.uses.asking.drill import Drilled
    from lotkin_answers.places import Places

__all__ = ["print_drill"]


def print_drill(done: Drilled, places: Places) -> None:
    """Print what a drill found."""
    drill = done.drill
    title(f"Drill on {described(done.subject)}", gap=False)
    said = [
        ("answered in", f"{drill.seconds} s"),
        ("one way", f"{counted(drill.behind, 'item')} behind it"),
        ("other way", f"{counted(drill.ahead, 'item')} that it went into"),
        ("units", _units(drill)),
        ("account", accounted(drill) or NO_ACCOUNT),
        ("customers", _customers(done, places)),
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
    """Say who has some; `none` only where every place is known."""
    said = [f"{places.titled(customer)} {number}" for customer, number in done.customers.items()]
    if done.unknown_places:
        unknown = ", ".join(f"{place} {number}" for place, number in done.unknown_places.items())
        said.append(f"not known whether places are: {unknown}")
    return ", ".join(said) or "none"
