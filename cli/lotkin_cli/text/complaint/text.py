"""A complaint for people: what answers a phone call, the most asked first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_answers.unit.recorded import change_rows, way_rows
from lotkin_answers.unit.standing_text import standing
from lotkin_answers.unit.wording import no_papers, no_way
from lotkin_answers.words import certainty, counted, listed, moment, shortened
from lotkin_cli.output.streams import clean, write
from lotkin_cli.text.answer_text import described
from lotkin_cli.text.complaint.tables import print_components, print_tests, title
from lotkin_cli.text.form.table import Column, print_table

if TYPE_CHECKING:
    from collections.abc import Iterable

    from lotkin.core.answers.rows import Row
    from lotkin.uses.complaints.complaint import Complaint
    from lotkin_answers.places import Places

__all__ = ["print_complaint"]

WENT_COLUMNS = (
    Column("when"),
    Column("what"),
    Column("state"),
    Column("carton"),
    Column("shipment"),
    Column("customer", wraps=True),
    Column("order"),
    Column("reason", wraps=True),
)

CHANGE_COLUMNS = (
    Column("when"),
    Column("what"),
    Column("state"),
    Column("taken out", wraps=True),
    Column("put in", wraps=True),
    Column("by"),
    Column("note", wraps=True),
)

CORRECTION_COLUMNS = (
    Column("when"),
    Column("event", right=True),
    Column("what"),
    Column("of event", right=True),
    Column("by"),
    Column("reason", wraps=True),
)

PAPER_COLUMNS = (
    Column("lot"),
    Column("part"),
    Column("supplier", wraps=True),
    Column("certificate"),
    Column("in it"),
    Column("documents", wraps=True),
)


def print_complaint(found: Complaint, places: Places, *, everything: bool) -> None:
    """Print all that is on record of a unit."""
    _print_headline(found, places)
    _print_went(found, places)
    _print_changes(found, places)
    print_tests(found, places)
    print_components(found, everything=everything)
    _print_corrections(found, places)
    _print_papers(found, places)
    _print_behind(found, everything=everything)


def _print_headline(found: Complaint, places: Places) -> None:
    unit, zone = found.unit, places.zone
    write(clean(f"{unit.serial or unit.code}: {standing(found, places)}"))
    title(described(unit))
    where = ", ".join(
        f"{places.titled(here.place)}{f' in {here.within}' if here.within else ''}"
        for here in found.here
    )
    began = f", begun {moment(found.started, zone)}" if found.started is not None else ""
    said = [
        ("where", where or "nowhere"),
        ("held", found.hold),
        ("built", f"{moment(found.built, zone)}{began}"),
        ("states", ", ".join(state.code for state in found.states) if found.changes else ""),
        ("as of", f"event {found.as_of}"),
    ]
    for name, value in said:
        if value:
            write(f"  {name.ljust(6)}  {clean(value)}")


def _print_went(found: Complaint, places: Places) -> None:
    title("Where it went")
    rows = list(way_rows(found, places))
    if rows:
        print_table(WENT_COLUMNS, rows)
    else:
        write(f"  {no_way(is_imported=found.unit_imported)}")


def _print_changes(found: Complaint, places: Places) -> None:
    if not found.changes:
        return
    title("Repaired or changed")
    print_table(CHANGE_COLUMNS, list(change_rows(found, places)))


def _print_corrections(found: Complaint, places: Places) -> None:
    if not found.corrections:
        return
    title("Corrections of the record behind it")
    rows = [
        (
            moment(each.at, places.zone),
            str(each.event),
            each.what,
            ", ".join(map(str, each.of)),
            each.by,
            each.reason,
        )
        for each in found.corrections
    ]
    print_table(CORRECTION_COLUMNS, rows)


def _print_papers(found: Complaint, places: Places) -> None:
    title("Certificates and documents of the material behind it")
    rows = [
        (
            " or ".join((paper.lot.code, *paper.instead)),
            paper.lot.part,
            places.titled(paper.lot.supplier) if paper.lot.supplier else "",
            paper.certificate,
            certainty(paper.row),
            ", ".join(document.name for document in paper.documents),
        )
        for paper in found.papers
    ]
    if rows:
        print_table(PAPER_COLUMNS, rows)
    else:
        write(f"  {no_papers(is_imported=found.material_imported)}")


def _print_behind(found: Complaint, *, everything: bool) -> None:
    title("Behind it")
    write(f"  {listed(found.counts.items()) or 'nothing'}")
    for kind, rows in _by_kind(found.behind):
        named = (_with_their_number(row.code, found) for row in rows)
        codes = shortened(named, everything=everything)
        doubtful = sum(not row.certain for row in rows)
        said = f"; {counted(doubtful, 'is', 'are')} only possible" if doubtful else ""
        write(f"  {kind}: {clean(codes)}{said}")


def _with_their_number(code: str, found: Complaint) -> str:
    number = found.load_numbers.get(code)
    return f"{code} (their number {number})" if number else code


def _by_kind(rows: Iterable[Row]) -> list[tuple[str, list[Row]]]:
    kinds: dict[str, list[Row]] = {}
    for row in rows:
        if not row.removed:
            kinds.setdefault(row.kind, []).append(row)
    return list(kinds.items())
