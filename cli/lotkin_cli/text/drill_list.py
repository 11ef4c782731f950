"""The drills on record, and their trend."""

from __future__ import annotations

from statistics import median
from typing import TYPE_CHECKING

from lotkin.uses.asking.drill import drills
from lotkin_answers.documents.drills import DRILL_COLUMNS, accounted, drill_rows, drills_document
from lotkin_answers.words import counted, moment, percent
from lotkin_cli.opening import places_in
from lotkin_cli.options.common import Form
from lotkin_cli.output.streams import write
from lotkin_cli.text.form.table import Column, print_table

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import tzinfo

    from lotkin.core.events import Drill
    from lotkin.core.genealogy.view import Entry
    from lotkin.uses.ports import CanRead

__all__ = ["write_drills"]


COLUMNS = (
    Column("when"),
    Column("by"),
    Column("subject"),
    Column("seconds", right=True),
    Column("behind", right=True),
    Column("ahead", right=True),
    Column("units", right=True),
    Column("complete", right=True),
    Column("account", wraps=True),
    Column("gaps", right=True),
)


def write_drills(store: CanRead, form: Form) -> None:
    """Write the drills on record in the form that is wanted."""
    found = drills(store)
    if form is Form.JSON:
        from lotkin_cli.text.form.json_document import write_document

        write_document(drills_document(found))
    elif form is Form.CSV:
        from lotkin_cli.text.form.spreadsheet import write_rows

        write_rows(DRILL_COLUMNS, drill_rows(found))
    else:
        _print(found, places_in(store).zone)


def _print(found: Sequence[tuple[Entry, Drill]], zone: tzinfo | None) -> None:
    if not found:
        write("no drill is on record")
        return
    rows = [
        (
            moment(drill.at_us, zone),
            drill.by,
            drill.subject,
            str(drill.seconds),
            str(drill.behind),
            str(drill.ahead),
            str(drill.units),
            percent(drill.complete_units / drill.units) if drill.units else "",
            accounted(drill),
            str(len(drill.gaps)),
        )
        for _, drill in found
    ]
    print_table(COLUMNS, rows)
    clean_ones = sum(not drill.gaps for _, drill in found)
    write("")
    write(f"{counted(len(found), 'drill')}, {clean_ones} without gaps; {_trend(found)}")


def _trend(found: Sequence[tuple[Entry, Drill]]) -> str:
    """Compare the later half with the earlier one."""
    seconds = [drill.seconds for _, drill in found]
    if len(seconds) < 2:
        return f"answered in {seconds[0]} s"
    middle = len(seconds) // 2
    earlier, later = median(seconds[:middle]), median(seconds[middle:])
    return f"answered in {later:.3f} s, earlier in {earlier:.3f} s (medians)"
