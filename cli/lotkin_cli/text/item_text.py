"""One item for people: what it is, its neighbours, its states and its history."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.goods_in.keeping import BY_PLAN
from lotkin.core.values.quantities import show_quantity
from lotkin_answers.unit.standing_text import in_case
from lotkin_answers.words import moment
from lotkin_cli.output.streams import clean, write
from lotkin_cli.text.answer_text import described
from lotkin_cli.text.form.table import Column, capped, print_table

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import tzinfo

    from lotkin.core.genealogy.view import Entry
    from lotkin.uses.asking.show import Neighbour, Shown
    from lotkin_answers.places import Places

__all__ = ["print_item"]

NEIGHBOUR_COLUMNS = (
    Column("kind"),
    Column("code"),
    Column("part"),
    Column("taken", right=True),
    Column("mixing"),
    Column("per piece", right=True),
    Column("position"),
)

HISTORY_COLUMNS = (
    Column("event", right=True),
    Column("when"),
    Column("kind"),
    Column("by"),
    Column("station"),
    Column("rules broken", wraps=True),
)


def print_item(shown: Shown, places: Places, *, everything: bool) -> None:
    """Print all that is known of an item."""
    write(described(shown.item))
    width = max(len(name) for name, _ in _facts(shown, places))
    for name, value in _facts(shown, places):
        if value:
            write(f"  {name.ljust(width)}  {clean(value)}")
    item = shown.item
    _print_neighbours("made from", shown.made_from, everything=everything)
    _print_neighbours("went into", shown.used_in, everything=everything, unit=item.unit)
    if len(shown.states) > 1:
        write("")
        write("states of this serial")
        for state in shown.states:
            write(f"  {state.code}  {moment(state.made_at, places.zone)}".rstrip())
    _print_history(shown.history, places.zone, everything=everything)


def _facts(shown: Shown, places: Places) -> list[tuple[str, str]]:
    item, zone = shown.item, places.zone
    began = "begun" if item.kind == "unit" else "started"
    by_plan = BY_PLAN[shown.due_by_plan] if shown.due_by_plan else ""
    return [
        ("quantity", show_quantity(item.quantity, item.unit) if item.quantity else ""),
        ("serial", item.serial),
        ("made", moment(item.made_at, zone)),
        (began, moment(item.started_at, zone)),
        ("due", ", ".join(filter(None, [moment(item.due_at, zone), by_plan]))),
        ("step", item.step),
        ("station", places.titled(item.station) if item.station else ""),
        ("supplier", places.titled(item.supplier) if item.supplier else ""),
        ("their number", item.supplier_lot),
        ("held", shown.hold),
        ("cases", "; ".join(in_case(each, places) for each in shown.cases)),
        ("where", places.where(shown.row.at, item.unit)),
        ("recorded", f"by event {item.event}, plan of event {item.plan}"),
    ]


def _print_neighbours(
    title: str, neighbours: Sequence[Neighbour], *, everything: bool, unit: str = ""
) -> None:
    if not neighbours:
        return
    write("")
    write(f"{title} ({len(neighbours)})")
    shown = capped(neighbours, everything=everything)
    rows = [
        (
            each.item.kind,
            each.item.code,
            each.item.part,
            _taken(each, unit or each.item.unit),
            str(each.link.mixing),
            show_quantity(each.link.per) if each.link.per != 10**6 else "",
            each.link.position,
        )
        for each in shown
    ]
    print_table(
        NEIGHBOUR_COLUMNS,
        rows,
        more=len(neighbours) - len(shown),
        how_to_see_all="--all or --json",
    )


def _taken(each: Neighbour, unit: str) -> str:
    """Say how much went along a link, in the unit of its parent."""
    return "" if each.link.quantity is None else show_quantity(each.link.quantity, unit)


def _print_history(history: Sequence[Entry], zone: tzinfo | None, *, everything: bool) -> None:
    write("")
    write(f"history ({len(history)})")
    shown = capped(history, everything=everything)
    rows = [
        (
            str(entry.seq),
            moment(entry.at, zone),
            f"{entry.kind} (reported)" if entry.reported else entry.kind,
            entry.by,
            entry.station,
            "; ".join(breach.message for breach in entry.breaches),
        )
        for entry in shown
    ]
    print_table(
        HISTORY_COLUMNS, rows, more=len(history) - len(shown), how_to_see_all="--all or --json"
    )
