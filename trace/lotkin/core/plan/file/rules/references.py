"""Rules: what a plan refers to is in the plan, and is of the right kind."""

from __future__ import annotations

from typing import TYPE_CHECKING, get_args

from lotkin.core.plan.file.sheet import Finding
from lotkin.core.plan.kinds import RunKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from lotkin.core.plan.file.positions import Path
    from lotkin.core.plan.file.sheet import Row, Sheet

__all__ = ["find_unknown_parts", "find_wrong_places"]

_PLACE_FOR_RUN = {
    run: "supplier" if run == "outside-batch" else "station" for run in get_args(RunKind)
}


def find_unknown_parts(sheet: Sheet) -> Iterator[Finding]:
    """Find needs, inputs and bench positions that name a part which is not in the plan."""
    for path, key, code in _part_references(sheet):
        if code not in sheet.part_of:
            yield Finding(
                path,
                f"{key} {code} is not in the plan; add a [[part]] with that code or correct "
                f"the name{sheet.near_parts.hint(code)}",
            )


def _part_references(sheet: Sheet) -> Iterator[tuple[Path, str, str]]:
    needing = [(part, "need") for part in sheet.parts]
    mounting = [(bench, "position") for bench in sheet.root.rows("bench")]
    for owner, table in [*needing, *mounting]:
        for row in owner.rows(table):
            code = row.code("part")
            if code is not None:
                yield row.at("part"), "part", code
    for part in sheet.parts:
        for step in part.rows("step"):
            for path, code in step.codes("inputs"):
                yield path, "input", code


def find_wrong_places(sheet: Sheet) -> Iterator[Finding]:
    """Find steps and benches at a place that the plan does not have or that is no place for them.

    An outside batch is run at a supplier, everything else at a station.
    """
    for part in sheet.parts:
        for step in part.rows("step"):
            run = step.text("run")
            wanted = _PLACE_FOR_RUN.get(run) if run is not None else None
            if wanted is not None:
                yield from _wrong_place(
                    sheet, step, "at", wanted=wanted, why=f"a step run as {run}"
                )
    for bench in sheet.root.rows("bench"):
        yield from _wrong_place(sheet, bench, "place", wanted="station", why="a bench")


def _wrong_place(sheet: Sheet, row: Row, key: str, *, wanted: str, why: str) -> Iterator[Finding]:
    code = row.code(key)
    if code is None:
        return
    kind = sheet.place_kind_of.get(code)
    near = sheet.near_places.get(wanted)
    hint = near.hint(code) if near is not None else ""
    if kind is None:
        table = "[[supplier]]" if wanted == "supplier" else '[[place]] of kind "station"'
        yield Finding(
            row.at(key),
            f"{wanted} {code} is not in the plan; add a {table} with that code or correct "
            f"the name{hint}",
        )
    elif kind not in {wanted, ""}:
        yield Finding(
            row.at(key),
            f"{code} is a {kind}, but {why} must be at a {wanted}; name the code of one{hint}",
        )
