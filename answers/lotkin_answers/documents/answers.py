"""Answers as data: the documents of where-from, where-used, contain and account, and CSV rows."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from lotkin.core.answers.whereabouts import serials_of
from lotkin.core.values.instants import show_instant
from lotkin_answers.json_document import number, tidy

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from lotkin.core.account.sheet import Account
    from lotkin.core.answers.containment import Answer, Containment
    from lotkin.core.answers.left_out import LeftOut
    from lotkin.core.answers.rows import Row
    from lotkin.core.answers.window import Deed
    from lotkin.core.genealogy.items import Item
    from lotkin_answers.json_document import Data, Value
    from lotkin_answers.places import Places
    from lotkin_answers.spreadsheet import Cell

__all__ = [
    "ACT_COLUMNS",
    "ITEM_COLUMNS",
    "account_data",
    "account_document",
    "act_rows",
    "answer_document",
    "containment_document",
    "expected_data",
    "item_rows",
    "outside_data",
    "row_data",
    "subject_data",
]

ITEM_COLUMNS = (
    "code", "kind", "family", "part", "quantity", "unit", "certainty", "chance", "chance_low",
    "chance_high", "content", "removed", "held", "at",
)  # fmt: skip

ACT_COLUMNS = ("place", "place_name", "place_kind", "within", "quantity_here", *ITEM_COLUMNS[:-1])


def subject_data(item: Item) -> Data:
    """Describe an item that was asked about."""
    return {"code": item.code, "kind": item.kind, "family": str(item.family), "part": item.part}


def row_data(row: Row) -> Data:
    """Describe an item of an answer."""
    return {
        "code": row.code,
        "kind": row.kind,
        "family": row.family,
        "part": row.part,
        "quantity": number(row.quantity),
        "unit": row.unit,
        "certainty": "certain" if row.certain else "possible",
        "chance": row.chance,
        "chance_low": row.chance_low,
        "chance_high": row.chance_high,
        "content": row.content,
        "removed": row.removed,
        "held": row.held,
        "start_not_recorded": row.start_not_recorded,
        "at": [
            {
                "place": here.place,
                "place_kind": here.place_kind,
                "within": here.within,
                "quantity": number(here.quantity),
            }
            for here in row.at
        ],
    }


def outside_data(one: LeftOut) -> Data:
    """Describe an item that the time asked about leaves out."""
    return {
        "code": one.code,
        "runs": one.runs,
        "nearest_before": _nearest(one.before),
        "nearest_after": _nearest(one.after),
        "time_not_recorded": one.not_recorded,
    }


def _nearest(deed: Deed | None) -> Data | None:
    if deed is None:
        return None
    began, ended = (None if us is None else show_instant(us) for us in deed.span)
    return {"code": deed.code, "began": began, "ended": ended}


def answer_document(answer: Answer) -> dict[str, Value | Iterable[Value]]:
    """Describe an answer; its lists are made while they are written."""
    return {
        "subject": subject_data(answer.subjects[0]),
        "direction": answer.direction,
        "items": (row_data(row) for row in answer.items),
        "counts": dict(answer.counts),
        "left_out": (row_data(row) for row in answer.left_out),
        "outside_the_time": [outside_data(one) for one in answer.outside],
        "as_of": answer.as_of,
    }


def containment_document(
    found: Containment, places: Places, *, case: str = ""
) -> dict[str, Value | Iterable[Value]]:
    """Describe a containment: an answer, and what there is to act on."""
    accounts: list[Value] = [account_data(account) for account in found.accounts]
    return {
        "outside_the_time": [outside_data(one) for one in found.answer.outside],
        "subject": subject_data(found.answer.subjects[0]),
        "subjects": [subject_data(item) for item in found.answer.subjects],
        "direction": found.answer.direction,
        "units": found.units,
        "removed_units": found.removed_units,
        **expected_data(found),
        "at_most_units": found.at_most_units,
        "units_by_place": units_by_place_data(found),
        "account": accounts[0] if accounts else None,
        "accounts": accounts,
        "places": list(_by_place(found.places, places, "place")),
        "customers": list(_by_place(found.customers, places, "customer")),
        "unknown_places": list(_by_place(found.unknown_places, places, "place")),
        "case": case or None,
        "items": (row_data(row) for row in found.answer.items),
        "counts": dict(found.answer.counts),
        "left_out": (row_data(row) for row in found.answer.left_out),
        "as_of": found.answer.as_of,
    }


def expected_data(found: Containment) -> Data:
    """Describe how many units are expected to be affected: null and a range if not known."""
    expected = found.expected
    return {
        "expected_units": None if expected.value is None else tidy(expected.value),
        "expected_units_low": tidy(expected.low),
        "expected_units_high": tidy(expected.high),
    }


def units_by_place_data(found: Containment) -> Data:
    """Describe where the units are, each counted once; the numbers sum to all units."""
    counts = found.by_place
    return {
        "at_customers": counts.at_customers,
        "in_works_and_at_suppliers": counts.here,
        "at_places_of_unknown_kind": counts.unknown,
        "ended": dict(counts.ended),
        "elsewhere": counts.elsewhere,
    }


def account_document(found: Containment) -> dict[str, Value | Iterable[Value]]:
    """Describe the account alone."""
    accounts: list[Value] = [account_data(account) for account in found.accounts]
    return {
        "subject": subject_data(found.answer.subjects[0]),
        "account": accounts[0] if accounts else None,
        "accounts": accounts,
        "as_of": found.answer.as_of,
    }


def account_data(account: Account) -> Data:
    """Describe where a quantity went, and how far it is accounted for."""
    balance = account.balance
    return {
        "quantity": tidy(account.quantity),
        "unit": account.unit,
        "part": account.part,
        "lines": [
            {"where": line.where, "quantity": tidy(line.quantity), "exact": line.exact}
            for line in account.lines
        ],
        "verdict": balance.verdict.value,
        "missing": tidy(balance.missing),
        "more_used_than_made": tidy(balance.over),
        "only_counted": tidy(balance.surplus),
        "used_without_quantity": tidy(balance.untold),
        "at_no_recorded_place": tidy(balance.nowhere),
        "may_be_of_another_lot": tidy(balance.doubtful),
        "found": tidy(balance.found),
        "of": tidy(balance.of),
    }


def _by_place(found: Mapping[str, Sequence[Row]], places: Places, called: str) -> Iterator[Value]:
    for code, rows in found.items():
        serials = sorted(serials_of(rows))
        yield {
            called: code,
            "name": places.name(code),
            "place_kind": rows[0].at[0].place_kind,
            "units": len(serials),
            "serials": list(serials),
            "items": [row_data(row) for row in rows],
        }


def item_rows(rows: Iterable[Row]) -> Iterator[tuple[Cell, ...]]:
    """Write items as rows of `ITEM_COLUMNS`."""
    for row in rows:
        at = "; ".join(
            f"{here.within + '@' if here.within else ''}{here.place}: {number(here.quantity)}"
            for here in row.at
        )
        yield (*_cells(row), at)


def act_rows(found: Containment, places: Places) -> Iterator[tuple[Cell, ...]]:
    """Write every item of a containment, the subjects first, a row for each place it is at."""
    for row in chain(found.subject_rows, found.answer.items):
        if not row.at:
            yield (*("",) * 4, None, *_cells(row))
        for here in row.at:
            place = (here.place, places.name(here.place), here.place_kind, here.within)
            yield (*place, number(here.quantity), *_cells(row))


def _cells(row: Row) -> tuple[Cell, ...]:
    return (
        row.code,
        row.kind,
        row.family,
        row.part,
        number(row.quantity),
        row.unit,
        "certain" if row.certain else "possible",
        row.chance,
        row.chance_low,
        row.chance_high,
        row.content,
        row.removed,
        row.held,
    )
