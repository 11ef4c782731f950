"""A common cause for people, as a document and as rows."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin_answers.words import counted, moment, percent, shortened
from lotkin_cli.output.streams import clean, write
from lotkin_cli.text.form.table import Column, capped, print_table

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import tzinfo

    from lotkin.uses.asking.common_cause import Cause, CommonCause

__all__ = ["print_cause"]


COLUMNS = (
    Column("failed with it", right=True),
    Column("sound with it", right=True),
    Column("p", right=True),
    Column("adjusted p", right=True),
    Column("finding"),
    Column("what", wraps=True),
)

SHOWN_WITHOUT_A_FINDING = 5


def print_cause(found: CommonCause, zone: tzinfo | None, *, everything: bool) -> None:
    """Print what was compared, the finding in a sentence, and the table behind it."""
    units = ", ".join(clean(unit.code) for unit in found.complaints)
    write(f"common cause of {counted(len(found.complaints), 'unit')}: {units}")
    write(f"as of event {found.as_of}")
    compared = found.compared
    if compared is None:
        write("not enough: at least three units that failed are needed to tell a pattern")
        return
    part = clean(", ".join(found.parts)) or "unit"
    write(f"compared with {compared.sound} shipped {part}{_built(found, zone)}")
    left = f", {compared.untested} had by too few or too many to tell" if compared.untested else ""
    write(f"tested: {counted(compared.tested, 'candidate')}{left}")
    write(_finding(found))
    shown = found.findings or found.causes[:SHOWN_WITHOUT_A_FINDING]
    rows = capped(found.causes, everything=True) if everything else shown
    if rows:
        write("")
        print_table(COLUMNS, [_cells(cause, found) for cause in rows])
        more = len(found.causes) - len(rows)
        if more:
            write("")
            write(f"{counted(more, 'weaker candidate')} not shown (--all, --csv or --json)")


def _built(found: CommonCause, zone: tzinfo | None) -> str:
    if found.built is None:
        return ", whenever built"
    start, end = (moment(time, zone)[:10] for time in found.built)
    return f" built from {start} to {end} (a margin of {counted(found.margin_days, 'day')})"


def _finding(found: CommonCause) -> str:
    findings = found.findings
    if not findings:
        hint = "; a wider --margin compares with more units" if found.causes else ""
        return f"no finding: nothing they share is more than chance would do (5 %){hint}"
    first = findings[0]
    codes = shortened((code for code, _, _ in first.items), everything=False)
    apart = "" if len(first.items) == 1 else " (the data cannot tell these apart)"
    others = f"; {counted(len(findings) - 1, 'other finding')} below" if len(findings) > 1 else ""
    return f"finding: {clean(codes)}{apart}{others}"


def _cells(cause: Cause, found: CommonCause) -> Sequence[str]:
    suspect = cause.suspect
    sound = found.compared.sound if found.compared else 0
    by_kind: dict[str, list[str]] = {}
    for code, kind, _ in cause.items:
        by_kind.setdefault(kind, []).append(code)
    what = "; ".join(
        f"{kind} {shortened(codes, everything=True)}" for kind, codes in by_kind.items()
    )
    return (
        f"{suspect.failed} of {len(found.complaints)}",
        f"{suspect.sound} of {sound}" + (f" ({percent(suspect.sound / sound)})" if sound else ""),
        f"{suspect.p:.2g}",
        f"{suspect.adjusted:.2g}",
        "yes" if suspect.is_finding else "",
        what,
    )
