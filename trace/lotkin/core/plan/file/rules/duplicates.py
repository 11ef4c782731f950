"""Rule: a code names one thing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.plan.file.sheet import PLACE_TABLES, Finding

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.plan.file.positions import Path
    from lotkin.core.plan.file.sheet import Row, Sheet

__all__ = ["find_duplicates"]


def find_duplicates(sheet: Sheet) -> Iterator[Finding]:
    """Find codes, names and GTINs that are used twice where they must be unique."""
    root = sheet.root
    places = [row for table in PLACE_TABLES for row in root.rows(table)]
    # "Already" means further up in the file, in whichever table.
    places.sort(key=lambda row: sheet.positions.line_of(row.path) or 0)
    yield from _repeated(sheet, places, "code")
    for table in ("person", "resource", "part"):
        yield from _repeated(sheet, root.rows(table), "code")
    for bench in root.rows("bench"):
        yield from _repeated(sheet, bench.rows("position"), "code")
    for part in sheet.parts:
        yield from _repeated(sheet, part.rows("step"), "code")
        yield from _repeated(sheet, part.rows("test"), "name")
        for step in part.rows("step"):
            yield from _repeated(sheet, step.rows("measure"), "name")
        yield from _repeated_needs(sheet, part)
    yield from _repeated_gtins(sheet)


def _repeated(sheet: Sheet, rows: list[Row], key: str) -> Iterator[Finding]:
    first: dict[str, Row] = {}
    for row in rows:
        value = row.text(key)
        if not value:
            continue
        other = first.setdefault(value, row)
        if other is not row:
            yield Finding(
                row.at(key),
                f"{key} {value[:40]} is used already for the {_table(other.path)} "
                f"{sheet.spoken_line(other.at(key))}; give one of them another {key}",
            )


def _table(path: Path) -> str:
    return str(path[-2])


def _repeated_needs(sheet: Sheet, part: Row) -> Iterator[Finding]:
    """Find positions needed twice, and parts needed twice without a position to tell them apart."""
    positions: dict[str, Row] = {}
    loose: dict[str, Row] = {}
    for need in part.rows("need"):
        position, code = need.code("position"), need.code("part")
        if position is not None:
            other = positions.setdefault(position, need)
            if other is not need:
                yield Finding(
                    need.at("position"),
                    f"position {position} is taken already by the need "
                    f"{sheet.spoken_line(other.at('position'))}; give one of them another position",
                )
        elif code is not None and "position" not in need.cells:
            other = loose.setdefault(code, need)
            if other is not need:
                yield Finding(
                    need.at("part"),
                    f"part {code} is needed already {sheet.spoken_line(other.at('part'))}; "
                    "add up the quantities, or give each need a position",
                )


def _repeated_gtins(sheet: Sheet) -> Iterator[Finding]:
    first: dict[str, Row] = {}
    for part in sheet.parts:
        gtin = part.text("gtin")
        if not gtin:
            continue
        # The shorter forms are the longest one without its leading zeros.
        other = first.setdefault(gtin.zfill(14), part)
        if other is not part:
            yield Finding(
                part.at("gtin"),
                f"gtin {gtin[:40]} belongs already to the part "
                f"{sheet.spoken_line(other.at('gtin'))}; every part has its own",
            )
