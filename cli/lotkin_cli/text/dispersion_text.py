"""Dispersion for people: how large recalls get, of which lots, and through which mixings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.quantities import show_quantity
from lotkin_answers.words import counted, percent
from lotkin_cli.output.streams import write
from lotkin_cli.text.answer_text import described
from lotkin_cli.text.complaint.tables import title
from lotkin_cli.text.form.table import Column, print_table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from lotkin.core.exposure.dispersion import Mixed
    from lotkin.uses.asking.dispersion import Dispersed

__all__ = ["print_dispersion"]

SHOWN = 20

LOT_COLUMNS = (
    Column("kind"),
    Column("code"),
    Column("part"),
    Column("quantity", right=True),
    Column("units", right=True),
    Column("of all", right=True),
    Column("raw lots in it", right=True),
)

MIXED_COLUMNS = (
    Column("code"),
    Column("part"),
    Column("event", right=True),
    Column("mixing"),
    Column("units", right=True),
    Column("more than apart", right=True),
    Column("mixed of", wraps=True),
)

MIXING_MEANS = (
    "more than apart: units more in the recalls of what was mixed, all together, than were to be "
    "expected had it stayed apart"
)


def print_dispersion(found: Dispersed, *, everything: bool) -> None:
    """Print the figures of the works, then lots, then mixings."""
    whole = found.whole
    write(
        f"{counted(len(whole.raw), 'raw lot')}, {counted(len(whole.units), 'unit')}, "
        f"as of event {found.as_of}"
    )
    write(
        f"  recall of a raw lot: {counted(whole.worst_recall, 'unit')} at worst, "
        f"{whole.average_recall:.1f} on average"
    )
    write(
        f"  raw lots in a unit: {whole.worst_upward} at most, {whole.average_upward:.1f} on average"
    )
    write(f"  batch dispersion (pairs of a raw lot and a unit): {whole.batch_dispersion}")
    if found.subject is not None:
        code = found.subject.code
        title(described(found.subject))
        write(f"  a recall takes {counted(whole.units_of(code), 'unit')}")
        write(f"  raw lots behind it: {whole.raw_lots_of(code)}")
    _print_lots(found, everything=everything)
    _print_mixed(found.mixed, everything=everything)


def _print_lots(found: Dispersed, *, everything: bool) -> None:
    whole = found.whole
    all_units = max(len(whole.units), 1)
    shown = found.lots if everything else found.lots[:SHOWN]
    title("Lots, and the units that a recall of each takes")
    rows = [
        (
            item.kind,
            item.code,
            item.part,
            show_quantity(item.quantity, item.unit) if item.quantity is not None else "",
            str(whole.units_of(item.code)),
            percent(whole.units_of(item.code) / all_units),
            str(whole.raw_lots_of(item.code)),
        )
        for item in shown
    ]
    if not rows:
        write("  none")
        return
    more = len(found.lots) - len(shown)
    print_table(LOT_COLUMNS, rows, more=more, how_to_see_all="--all, --csv or --json")


def _print_mixed(mixed: Sequence[Mixed], *, everything: bool) -> None:
    shown = mixed if everything else mixed[:SHOWN]
    title("What was mixed, the most costly for tracing first")
    rows = [
        (
            one.item.code,
            one.item.part,
            str(one.item.event),
            str(one.mixing),
            str(one.units),
            f"{one.extra:.1f}",
            ", ".join(
                code if share is None else f"{code} {percent(share)}" for code, share in one.parents
            ),
        )
        for one in shown
    ]
    if not rows:
        write("  nothing")
        return
    more = len(mixed) - len(shown)
    print_table(MIXED_COLUMNS, rows, more=more, how_to_see_all="--all or --json")
    write(f"  {MIXING_MEANS}")
