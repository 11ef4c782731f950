"""The shop plan for people: a table for each kind of thing in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.values.amounts import show_limits
from lotkin_cli.output.streams import clean, write
from lotkin_cli.text.form.table import Column, capped, print_table

if TYPE_CHECKING:
    from collections.abc import Iterator
    from decimal import Decimal

    from lotkin.core.plan import PartPlan, ShopPlan, StepPlan

__all__ = ["print_plan"]


def print_plan(plan: ShopPlan, seq: int, *, everything: bool) -> None:
    """Print a plan, table by table."""
    write(clean(f"{plan.works.name}, times in {plan.works.timezone}"))
    write(f"in force since event {seq}")
    if plan.works.revision_note:
        write(clean(plan.works.revision_note))
    for title, columns, rows in _tables(plan):
        if rows:
            write("")
            write(title)
            shown = capped(rows, everything=everything)
            print_table(
                columns,
                shown,
                more=len(rows) - len(shown),
                how_to_see_all="--all or --json",
            )


Table = tuple[str, list[Column], list[tuple[str, ...]]]


def _tables(plan: ShopPlan) -> Iterator[Table]:
    yield (
        "parts and materials",
        [
            Column("part"),
            Column("name", wraps=True),
            Column("revision"),
            Column("kind"),
            Column("unit"),
            Column("one piece, g", right=True),
            Column("material"),
        ],
        [_part_cells(part) for part in plan.parts],
    )
    yield (
        "what goes into what",
        [Column("part"), Column("needs"), Column("per piece", right=True), Column("position")],
        [
            (part.code, need.part, f"{need.per:f}", need.position or "")
            for part in plan.parts
            for need in part.needs
        ],
    )
    yield (
        "routes",
        [
            Column("part"),
            Column("step"),
            Column("name", wraps=True),
            Column("run"),
            Column("at"),
            Column("takes"),
            Column("with"),
            Column("limits"),
        ],
        [_step_cells(part, step) for part in plan.parts for step in part.steps],
    )
    yield (
        "what a unit must pass",
        [Column("part"), Column("test"), Column("limits"), Column("readings", right=True)],
        [
            (part.code, test.name, _span(test.min, test.max, test.unit), str(test.readings))
            for part in plan.parts
            for test in part.tests
        ],
    )
    yield (
        "benches",
        [
            Column("bench"),
            Column("at"),
            Column("position"),
            Column("part"),
            Column("per unit", right=True),
        ],
        [
            (bench.code, bench.place, spot.code, spot.part, f"{spot.per:f}")
            for bench in plan.benches
            for spot in bench.positions
        ],
    )
    yield (
        "places, suppliers and customers",
        [Column("place"), Column("name", wraps=True), Column("is a")],
        [(place.code, place.name, place.kind) for place in plan.places().values()],
    )
    yield (
        "machines, tools, gauges and other resources",
        [Column("resource"), Column("name", wraps=True), Column("kind"), Column("calibrated")],
        [
            (
                each.code,
                each.name,
                each.kind,
                f"every {each.calibration_days} days" if each.calibration_days else "",
            )
            for each in plan.resources
        ],
    )
    yield (
        "people",
        [Column("person"), Column("name", wraps=True), Column("roles")],
        [(person.code, person.name, ", ".join(person.roles)) for person in plan.people],
    )


def _part_cells(part: PartPlan) -> tuple[str, ...]:
    mass = "" if part.piece_mass_g is None else f"{part.piece_mass_g:f}"
    return (part.code, part.name, part.revision, part.kind, part.unit, mass, part.material or "")


def _step_cells(part: PartPlan, step: StepPlan) -> tuple[str, ...]:
    limits = [
        _span(step.min_minutes, step.max_minutes, "min"),
        _span(step.min_celsius, step.max_celsius, "°C"),
        *(_span(each.min, each.max, each.unit, each.name) for each in step.measures),
    ]
    return (
        part.code,
        step.code,
        step.name,
        step.run,
        step.at,
        ", ".join(step.inputs),
        ", ".join(step.resources),
        "; ".join(filter(None, limits)),
    )


def _span(low: Decimal | None, high: Decimal | None, unit: str, name: str = "") -> str:
    """Write limits behind what they are of, e.g. `diameter 5.97 to 6.03 mm`; "" for none."""
    return f"{name} {show_limits(low, high, unit)}".strip()
