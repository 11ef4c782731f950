"""Containment for people: what a quality lead needs in the first minute."""

from __future__ import annotations

from typing import TYPE_CHECKING

import typer

from lotkin.core.answers.whereabouts import serials_of
from lotkin.core.values.amounts import show_micro
from lotkin_answers.containment_words import (
    CHANCE_MEANS,
    DUTY,
    UNKNOWN_MEANS,
    certain_and_possible,
    has_chances,
    no_customer,
)
from lotkin_answers.words import counted, listed, percent_range, shortened
from lotkin_cli.output.streams import output, write
from lotkin_cli.text.account_text import print_accounts
from lotkin_cli.text.answer_text import described, narrowed, print_left_out, print_outside
from lotkin_cli.text.form.table import Column, capped, print_table

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import tzinfo

    from lotkin.core.answers.containment import Containment
    from lotkin.core.answers.rows import Row
    from lotkin.uses.asking.where import Question
    from lotkin_answers.places import Places

__all__ = ["print_containment"]

PLACE_COLUMNS = (
    Column("place", wraps=True),
    Column("is a"),
    Column("kind"),
    Column("part"),
    Column("quantity", right=True),
    Column("certainty", wraps=True),
    Column("held"),
    Column("codes", wraps=True),
)

CUSTOMER_COLUMNS = (
    Column("customer", wraps=True),
    Column("kind"),
    Column("part"),
    Column("quantity", right=True),
    Column("certainty", wraps=True),
    Column("held"),
    Column("serials or codes", wraps=True),
)

UNKNOWN_COLUMNS = (Column("place", wraps=True), *CUSTOMER_COLUMNS[1:])


def print_containment(
    found: Containment, question: Question, places: Places, *, everything: bool
) -> None:
    """Print a containment: how many, the account, then what to act on by place and customer."""
    _print_headline(found, question, places.zone)
    print_accounts(found.accounts, places)
    _heading(f"In the works and at suppliers: {_how_many(found.places)}")
    _print_groups(
        PLACE_COLUMNS, _groups(found.places, places, everything=everything), everything=everything
    )
    _heading(f"At customers: {_at_customers(found, question)}")
    # the kind of place is told by the heading
    at_customers = [
        (group[0], *group[2:]) for group in _groups(found.customers, places, everything=everything)
    ]
    _print_groups(CUSTOMER_COLUMNS, at_customers, everything=everything)
    if found.unknown_places:
        _heading(f"At places of unknown kind: {_how_many(found.unknown_places)}")
        _print_groups(
            UNKNOWN_COLUMNS,
            [
                (group[0], *group[2:])
                for group in _groups(found.unknown_places, places, everything=everything)
            ],
            everything=everything,
        )
        write(f"{UNKNOWN_MEANS}.")
    write("")
    if has_chances(found):
        write(CHANCE_MEANS)
    write(DUTY)


def _print_headline(found: Containment, question: Question, zone: tzinfo | None) -> None:
    print_outside(found.answer.outside, question, zone)
    subjects = found.answer.subjects
    if len(subjects) == 1:
        _heading(f"Containment of {described(subjects[0])}", gap=False)
    else:
        _heading(f"Containment of {len(subjects)} items", gap=False)
        for subject in subjects:
            write(f"  {described(subject)}")
    write(f"as of event {found.answer.as_of}")
    for line in narrowed(question, zone):
        write(line)
    write("")
    certain, possible = certain_and_possible(found)
    if found.units:
        write(f"{counted(found.units, 'unit')} suspect: {certain} certain, {possible} possible")
        write(f"affected: {found.expected.text} expected, {found.at_most_units} at most")
        write(found.by_place.text)
    else:
        write("no unit contains it or was exposed to it")
    if found.removed_units:
        write(f"{counted(found.removed_units, 'more unit')} did before a swap or a repair")
    counts = [(kind, n) for kind, n in found.answer.counts.items() if kind != "unit"]
    if counts:
        write(f"also reached: {listed(counts)}")
    print_left_out(found.answer, question)


def _heading(text: str, *, gap: bool = True) -> None:
    if gap:
        write("")
    write(typer.style(text, bold=True) if output().has_colour else text)


def _at_customers(found: Containment, question: Question) -> str:
    """Say how many customers have some, or that none has."""
    if found.customers:
        return _how_many(found.customers)
    return no_customer(found, is_narrowed=bool(question.families or question.kinds))


def _how_many(by_place: Mapping[str, Sequence[Row]]) -> str:
    if not by_place:
        return "nothing"
    units = serials_of([row for rows in by_place.values() for row in rows])
    where = counted(len(by_place), "place")
    return f"{counted(len(units), 'unit')}, {where}" if units else where


def _print_groups(
    columns: Sequence[Column], groups: Sequence[Sequence[str]], *, everything: bool
) -> None:
    if groups:
        shown = capped(groups, everything=everything)
        print_table(columns, shown, more=len(groups) - len(shown), how_to_see_all="--all or --csv")


def _groups(
    by_place: Mapping[str, Sequence[Row]], places: Places, *, everything: bool
) -> list[tuple[str, ...]]:
    """Put what lies at one place together by kind and part, in cells of `PLACE_COLUMNS`."""
    groups: list[tuple[str, ...]] = []
    for place, rows in by_place.items():
        alike: dict[tuple[str, str, str], list[Row]] = {}
        for row in rows:
            alike.setdefault((row.kind, row.part, row.unit), []).append(row)
        groups += [
            (
                places.titled(place),
                members[0].at[0].place_kind,
                kind,
                part,
                _quantity(members, unit),
                _sure(members),
                _held(members),
                shortened(
                    (row.serial or row.code if kind == "unit" else row.code for row in members),
                    everything=everything,
                ),
            )
            for (kind, part, unit), members in sorted(alike.items(), key=_units_first)
        ]
    return groups


def _quantity(members: Sequence[Row], unit: str) -> str:
    """Say how much lies there; of what has no quantity, how many items."""
    if all(row.quantity is None for row in members):
        return str(len(members))
    return show_micro(sum(row.at[0].quantity for row in members), unit)


def _units_first(group: tuple[tuple[str, str, str], list[Row]]) -> tuple[bool, str, str]:
    (kind, part, _), _ = group
    return kind != "unit", kind, part


def _sure(members: Sequence[Row]) -> str:
    """Say how sure it is of some: `certain`, `possible, 12 %`, `4 of 6 certain, others 12 %`."""
    others = [row for row in members if not row.certain]
    if not others:
        return "certain"
    chance = percent_range(
        min(row.chance_low if row.chance is None else row.chance for row in others),
        max(row.chance_high if row.chance is None else row.chance for row in others),
    )
    if len(others) == len(members):
        return f"possible, {chance}"
    sure = len(members) - len(others)
    return f"{sure} of {len(members)} certain, {'other' if len(others) == 1 else 'others'} {chance}"


def _held(members: Sequence[Row]) -> str:
    count = sum(row.held for row in members)
    if count == len(members):
        return "held"
    return f"{count} of {len(members)} held" if count else ""
