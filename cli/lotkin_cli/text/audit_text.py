"""Gaps in the record for people: kind by kind, each with how to mend it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_answers.words import counted, moment
from lotkin_cli.output.streams import clean, write
from lotkin_cli.text.complaint.tables import title
from lotkin_cli.text.form.table import Column, print_table

if TYPE_CHECKING:
    from datetime import tzinfo

    from lotkin.core.audit import Gap
    from lotkin.uses.asking.audit import Audit

__all__ = ["print_audit"]

SHOWN_OF_A_KIND = 20

COLUMNS = (Column("since"), Column("what", wraps=True), Column("to mend it", wraps=True))


def print_audit(found: Audit, zone: tzinfo | None, *, everything: bool) -> None:
    """Print the gaps of an audit, or that there are none."""
    looked = f"{counted(found.items, 'item')}, {counted(found.units, 'unit')} among them"
    if not found.gaps:
        write(f"no gaps found in the record of {looked}, as of event {found.as_of}")
        return
    kinds = counted(len(found.counts), "kind")
    gaps = counted(len(found.gaps), "gap")
    write(f"{gaps} of {kinds} in the record of {looked}, as of event {found.as_of}")
    for kind, number in found.counts.items():
        title(f"{kind}: {number}")
        _print_kind([gap for gap in found.gaps if gap.kind == kind], zone, everything=everything)


def _print_kind(gaps: list[Gap], zone: tzinfo | None, *, everything: bool) -> None:
    shown = gaps if everything else gaps[:SHOWN_OF_A_KIND]
    ways = {gap.mend for gap in gaps}
    common = gaps[0].mend if len(ways) == 1 else ""
    if common:
        write(f"  {clean(common)}")
    rows = [(moment(gap.at, zone), gap.message, "" if common else gap.mend) for gap in shown]
    print_table(COLUMNS, rows, more=len(gaps) - len(shown), how_to_see_all="--all, --csv or --json")
