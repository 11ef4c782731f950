"""Tests and components of a unit for people, each beside those of its siblings."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import typer

from lotkin.core.values.quantities import show_quantity
from lotkin_answers.unit.recorded import inspection_rows, limits_of_test
from lotkin_answers.unit.wording import no_tests, verdict
from lotkin_answers.words import counted, listed, moment, plain_number
from lotkin_cli.output.streams import clean, output, write
from lotkin_cli.text.form.table import Column, print_table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.uses.complaints.complaint import Complaint
    from lotkin.uses.complaints.parts import BuiltIn, Sharing
    from lotkin.uses.complaints.tests import Tested
    from lotkin_answers.places import Places

__all__ = ["print_components", "print_tests", "title"]

PLACES_NAMED = 3

TEST_COLUMNS = (
    Column("when"),
    Column("state"),
    Column("test"),
    Column("reading", right=True),
    Column("limits"),
    Column("result"),
    Column("rank", right=True),
    Column("percentile", right=True),
    Column("siblings"),
)

INSPECTION_COLUMNS = (
    Column("when"),
    Column("inspection"),
    Column("of"),
    Column("result"),
    Column("measured", wraps=True),
    Column("reason", wraps=True),
    Column("by"),
)

COMPONENT_COLUMNS = (
    Column("at"),
    Column("part"),
    Column("lot", wraps=True),
    Column("quantity", right=True),
    Column("supplier and number", wraps=True),
    Column("other units", right=True),
    Column("where these are", wraps=True),
)

HOW_RANKED = (
    "rank 1 is the lowest; siblings: lowest, median, highest of units of this part "
    "tested within 90 days"
)


def title(text: str, *, gap: bool = True) -> None:
    """Write a heading."""
    if gap:
        write("")
    said = clean(text)
    write(typer.style(said, bold=True) if output().has_colour else said)


def print_tests(found: Complaint, places: Places) -> None:
    """Print tests and inspections of the unit, and what inspections of its lots found."""
    title("Tests")
    rows = [row for test in found.tests for row in _test_rows(test, places)]
    if rows:
        print_table(TEST_COLUMNS, rows)
        write(f"  {HOW_RANKED}")
    else:
        write(f"  {no_tests(is_imported=found.unit_imported)}")
    told = [
        row for row in inspection_rows(found, places) if row.is_of_unit or row.result != "accepted"
    ]
    if told:
        title("Inspections of the unit, and of lots behind it that were not accepted")
        print_table(
            INSPECTION_COLUMNS,
            [
                (row.at, row.inspection, row.item, row.result, row.measured, row.reason, row.by)
                for row in told
            ],
        )
    accepted = Counter(each.result for each in found.inspections if not each.of_unit)
    if accepted:
        write(f"  inspections of lots behind it: {listed(sorted(accepted.items()))}")


def _test_rows(test: Tested, places: Places) -> list[tuple[str, ...]]:
    rows: list[tuple[str, ...]] = []
    of_each = [
        (plain_number(value), standing)
        for value, standing in zip(test.readings, test.standings, strict=True)
    ]
    if len(of_each) > 1:
        middle = round(sum(test.readings, start=test.readings[0] * 0) / len(test.readings), 3)
        of_each.append((f"mean {plain_number(middle)}", test.mean))
    said = verdict(test.passed)
    if test.passed is False:
        said = said.upper()
    for number, (value, standing) in enumerate(of_each):
        first = number == 0
        rows.append(
            (
                moment(test.at, places.zone) if first else "",
                test.state if first else "",
                test.name if first else "",
                f"{value} {test.unit}".strip(),
                limits_of_test(test) if first else "",
                said if first else "",
                f"{standing.rank} of {standing.of}",
                f"{standing.percentile:g}",
                " ".join(
                    plain_number(round(bound, 3))
                    for bound in (standing.low, standing.median, standing.high)
                ),
            )
        )
    return rows


def print_components(found: Complaint, *, everything: bool) -> None:
    """Print what is in the unit, then what is no longer, with who else has the same lots."""
    now = [one for one in found.components if not one.removed]
    gone = [one for one in found.components if one.removed]
    title("What is in it, and who else has it")
    if now:
        _print_lots(now, found, everything=everything)
    else:
        write("  nothing is on record")
    if gone:
        title("No longer in it")
        _print_lots(gone, found, everything=everything)


def _print_lots(some: Sequence[BuiltIn], found: Complaint, *, everything: bool) -> None:
    rows = []
    for one in some:
        lots = [one.lot, *one.alternatives]
        for number, lot in enumerate(lots):
            shared = found.shared[lot.code]
            source = " ".join(filter(None, (one.supplier, one.supplier_lot)))
            rows.append(
                (
                    one.position if not number else "",
                    lot.part if not number else "",
                    lot.code if not number else f"or {lot.code}",
                    show_quantity(one.per, lot.unit) if not number else "",
                    source if not number else "",
                    _others(shared),
                    _where(shared, everything=everything),
                )
            )
    print_table(COMPONENT_COLUMNS, rows)


def _others(shared: Sharing) -> str:
    if shared.certain == shared.units:
        return str(shared.units)
    return f"{shared.units} ({shared.certain} certain)"


def _where(shared: Sharing, *, everything: bool) -> str:
    at = list(shared.at.items())
    named = at if everything else at[:PLACES_NAMED]
    said = [f"{place or 'nowhere'} {units}" for place, units in named]
    rest = sum(units for _, units in at[len(named) :])
    if rest:
        said.append(f"{rest} at {counted(len(at) - len(named), 'more place')}")
    return ", ".join(said)
