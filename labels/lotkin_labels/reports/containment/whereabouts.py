"""Where everything is: place by place, with every code and serial, none left out."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from lotkin.core.answers.whereabouts import said_amount
from lotkin.core.values.amounts import show_micro
from lotkin_answers.containment_words import every_row
from lotkin_answers.places import Places
from lotkin_answers.words import certainty, counted, percent
from lotkin_labels.paper.document import Block
from lotkin_labels.reports.form.figures import unit_name
from lotkin_labels.reports.form.flow import heading, paragraph
from lotkin_labels.reports.form.lists import code_lines, group_head

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from lotkin.core.answers.containment import Containment
    from lotkin.core.answers.rows import Row
    from lotkin.core.plan import ShopPlan
    from lotkin_labels.reports.form.flow import Flow

__all__ = ["put_elsewhere", "put_left_out", "put_whereabouts"]


class _Alike(NamedTuple):
    """What items at one place have in common."""

    kind: str
    part: str
    unit: str
    sureness: str
    is_held: bool


def put_whereabouts(
    flow: Flow,
    title: str,
    by_place: Mapping[str, Sequence[Row]],
    plan: ShopPlan | None,
    *,
    instead: str = "Nothing.",
) -> None:
    """Put what lies at each of some places, units first, with how sure it is.

    Args:
        flow: Where to.
        title: Heading.
        by_place: What lies where.
        plan: For names of places.
        instead: What to say where there is nothing to put.
    """
    if not by_place:
        flow.put(paragraph(instead), head=[heading(title)])
        return
    units = {unit_name(row) for rows in by_place.values() for row in rows if row.kind == "unit"}
    where = counted(len(by_place), "place")
    head = [heading(f"{title}: {counted(len(units), 'unit')}, {where}" if units else title)]
    for place, rows in by_place.items():
        name = Places(plan).titled(place)
        head.append(group_head(name, said_amount(rows)))
        for alike, members in _groups(rows):
            words = (_amount(alike, members), _sure(alike, members), "held" * alike.is_held)
            _put_group(flow, alike, members, head, [name, ", ".join(filter(None, words))])
            head = []


def _put_group(
    flow: Flow, alike: _Alike, members: Sequence[Row], head: list[Block], said: list[str]
) -> None:
    name, detail = said
    codes = [_said(row, alike, members) for row in members]
    flow.put(
        [*code_lines(codes), Block(1.8, ())],
        head=[*head, group_head("", detail)],
        again=group_head(f"{name} (continued)", detail),
        on_top=None if head else group_head(f"{name} (continued)", ""),
    )


def _groups(rows: Iterable[Row]) -> list[tuple[_Alike, list[Row]]]:
    groups: dict[_Alike, list[Row]] = {}
    for row in rows:
        sureness = "no longer" if row.removed else "certain" if row.certain else "possible"
        groups.setdefault(_Alike(row.kind, row.part, row.unit, sureness, row.held), []).append(row)
    return sorted(groups.items(), key=lambda group: (group[0].kind != "unit", group[0]))


def _what(alike: _Alike) -> str:
    return f"{alike.kind.replace('-', ' ')} {alike.part}".strip()


def _amount(alike: _Alike, members: Sequence[Row]) -> str:
    """Say how much of what it is, e.g. `unit DP40, 6 pcs`."""
    if all(row.quantity is None for row in members):
        return f"{_what(alike)}, {counted(len(members), 'item')}"
    quantity = sum(row.at[0].quantity for row in members)
    return f"{_what(alike)}, {show_micro(quantity, alike.unit)}"


def _chances(members: Sequence[Row]) -> set[str]:
    return {certainty(row) for row in members}


def _sure(alike: _Alike, members: Sequence[Row]) -> str:
    """Say how sure it is: with the chance if it is the same for all."""
    chances = _chances(members)
    return chances.pop() if len(chances) == 1 else f"{alike.sureness}, each with its chance"


def _said(row: Row, alike: _Alike, members: Sequence[Row]) -> str:
    """Write a code, with its chance where chances differ."""
    code = row.code if row.kind != "unit" or row.removed or not row.at else unit_name(row)
    if len(_chances(members)) == 1:
        return code
    return f"{code}: {certainty(row).removeprefix(alike.sureness + ', ')}"


def put_elsewhere(flow: Flow, found: Containment) -> None:
    """Put what is reached and at no place: used up, ended, a former state, a run or a setup."""
    everywhere = (found.places, found.customers, found.unknown_places)
    placed = {row.code for by_place in everywhere for rows in by_place.values() for row in rows}
    rest = [row._replace(held=False) for row in every_row(found) if row.code not in placed]
    title = "Also reached: used, ended, or at no place"
    head = [heading(title)]
    for alike, members in _groups(rest):
        detail = f"{_what(alike)}, {counted(len(members), 'item')}, {_sure(alike, members)}"
        _put_group(flow, alike, members, head, [title, detail])
        head = []


def put_left_out(flow: Flow, found: Containment) -> None:
    """Put what a threshold on the content left out, each with its content."""
    left_out = list(found.answer.left_out)
    if not left_out:
        return
    title = f"Left out by the threshold: {counted(len(left_out), 'item')}"
    head = [heading(title)]
    for alike, members in _groups(row._replace(held=False) for row in left_out):
        detail = f"{_what(alike)}, {counted(len(members), 'item')}, {alike.sureness}; content"
        codes = [f"{row.code}: {percent(row.content or 0.0)}" for row in members]
        flow.put(
            [*code_lines(codes), Block(1.8, ())],
            head=[*head, group_head("", detail)],
            again=group_head(f"{title} (continued)", detail),
            on_top=None if head else group_head(f"{title} (continued)", ""),
        )
        head = []
