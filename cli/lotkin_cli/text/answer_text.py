"""Answers of where-from and where-used for people."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.answers.left_out import said_of
from lotkin.core.values.amounts import show_micro
from lotkin_answers.containment_words import BOUNDS_MEAN
from lotkin_answers.places import Places
from lotkin_answers.words import certainty, counted, listed, moment, percent
from lotkin_cli.output.streams import clean, write
from lotkin_cli.text.form.table import Column, capped, print_table

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import tzinfo

    from lotkin.core.answers.containment import Answer
    from lotkin.core.answers.left_out import LeftOut
    from lotkin.core.answers.rows import Row
    from lotkin.core.genealogy.items import Item
    from lotkin.uses.asking.where import Question

__all__ = [
    "described",
    "kind_counts",
    "narrowed",
    "print_answer",
    "print_left_out",
    "print_outside",
]

HOW_TO_SEE_ALL = "--all, --csv or --json"

COLUMNS = (
    Column("kind"),
    Column("code"),
    Column("part"),
    Column("quantity", right=True),
    Column("certainty", wraps=True),
    Column("content", right=True),
    Column("held"),
    Column("where", wraps=True),
)


def print_answer(
    answer: Answer, question: Question, zone: tzinfo | None, *, everything: bool
) -> None:
    """Print an answer: the counts first, then the items."""
    for subject in answer.subjects:
        write(f"{answer.direction} of {described(subject)}")
    write(f"as of event {answer.as_of}")
    for line in narrowed(question, zone):
        write(line)
    write(f"found: {listed(answer.counts.items()) or 'nothing'}")
    print_left_out(answer, question)
    if answer.items:
        write("")
        shown = capped(answer.items, everything=everything)
        print_table(
            COLUMNS,
            [_cells(row) for row in shown],
            more=len(answer.items) - len(shown),
            how_to_see_all=HOW_TO_SEE_ALL,
        )
        if any(not row.certain and not row.removed for row in shown):
            write("")
            write(BOUNDS_MEAN)


def described(item: Item) -> str:
    """Say what an item is: code, kind and part."""
    return clean(f"{item.code} ({', '.join(filter(None, (item.kind, item.part)))})")


def narrowed(question: Question, zone: tzinfo | None) -> list[str]:
    """Say what narrows an answer, in the time zone of the works; nothing if nothing does."""
    parts = [f"family {family}" for family in sorted(question.families)]
    parts += [f"kind {kind}" for kind in sorted(question.kinds)]
    lines = [f"only {', '.join(parts)}"] if parts else []
    span = question.window
    if span is not None:
        start = f" from {moment(span.start, zone)}" if span.start is not None else ""
        end = f" to {moment(span.end, zone)}" if span.end is not None else ""
        lines.append(f"only what may have been done with it{start}{end}")
    return lines


def print_outside(outside: Sequence[LeftOut], question: Question, zone: tzinfo | None) -> None:
    """Say which of the items that were named the time asked about leaves out."""
    if question.window is None or not outside:
        return
    write(f"left out by the time asked about: {counted(len(outside), 'item')}")
    for one in outside:
        write(f"  {clean(said_of(one, question.window, zone))}")


def print_left_out(answer: Answer, question: Question) -> None:
    """Say what a threshold left out."""
    if question.min_content is None:
        return
    counts = listed(kind_counts(answer.left_out)) or "nothing"
    how = "; --json lists it" if answer.left_out else ""
    write(f"left out, content below {percent(question.min_content)}: {counts}{how}")


def kind_counts(rows: Iterable[Row]) -> list[tuple[str, int]]:
    """Count rows by kind, units by serial."""
    codes: dict[str, set[str]] = {}
    for row in rows:
        codes.setdefault(row.kind, set()).add(
            (row.serial or row.code) if row.kind == "unit" else row.code
        )
    return [(kind, len(codes[kind])) for kind in sorted(codes)]


def _cells(row: Row) -> Sequence[str]:
    return (
        row.kind,
        row.code,
        row.part,
        show_micro(row.quantity, row.unit) if row.quantity is not None else "",
        certainty(row),
        "" if row.content is None else percent(row.content),
        "held" if row.held else "",
        Places.where(row.at, row.unit),
    )
