"""Which tables a plan file has, what they are called, and how a record in them is named."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from lotkin.core.plan.entries.parts import BarPlan, NeedPlan, PartPlan, UnitTestPlan
from lotkin.core.plan.entries.places import (
    BenchPlan,
    BenchPositionPlan,
    CustomerPlan,
    ShopPlacePlan,
    SupplierPlan,
)
from lotkin.core.plan.entries.resources import ResourcePlan
from lotkin.core.plan.entries.steps import MeasurePlan, StepPlan
from lotkin.core.plan.entries.works import PersonPlan, WorksPlan
from lotkin.core.plan.file.quoted import shown_name
from lotkin.core.plan.shop_plan import ShopPlan

if TYPE_CHECKING:
    from lotkin.core.plan.entries.entry import PlanEntry
    from lotkin.core.plan.file.positions import Path

__all__ = ["TABLES", "TableName", "header", "keys_of", "record_name", "split_path"]

TableName: TypeAlias = "tuple[str, ...]"
"""Keys down to a table: ("part", "step")."""

TABLES: dict[TableName, type[PlanEntry]] = {
    (): ShopPlan,
    ("works",): WorksPlan,
    ("person",): PersonPlan,
    ("place",): ShopPlacePlan,
    ("supplier",): SupplierPlan,
    ("customer",): CustomerPlan,
    ("resource",): ResourcePlan,
    ("part",): PartPlan,
    ("part", "bar"): BarPlan,
    ("part", "need"): NeedPlan,
    ("part", "step"): StepPlan,
    ("part", "step", "measure"): MeasurePlan,
    ("part", "test"): UnitTestPlan,
    ("bench",): BenchPlan,
    ("bench", "position"): BenchPositionPlan,
}

_SINGLE = frozenset({("works",), ("part", "bar")})
"""Tables that occur once; all others are lists."""


def header(table: TableName) -> str:
    """Write the header of a table as it stands in the file: `[[part.need]]`."""
    name = ".".join(table)
    return f"[{name}]" if table in _SINGLE else f"[[{name}]]"


def keys_of(table: TableName) -> tuple[str, ...]:
    """List the keys that a table can have, in the order of the reference."""
    return tuple(field.alias or name for name, field in TABLES[table].model_fields.items())


def split_path(path: Path) -> tuple[TableName, Path]:
    """Divide a path into the table that it lies in and the rest, without the entries' numbers.

    Example:
        >>> split_path(("part", 3, "need", 1, "per"))
        (('part', 'need'), ('per',))
    """
    table: TableName = ()
    rest = path
    while rest and isinstance(rest[0], str) and (*table, rest[0]) in TABLES:
        table = (*table, rest[0])
        rest = rest[1:]
        if rest and isinstance(rest[0], int):
            rest = rest[1:]
    return table, rest


def record_name(path: Path, data: object) -> str:
    """Name the record that a path leads to as people call it: `part HEAD, need 2`.

    Entries go by code, else by name, else by their number from 1; "" for the plan as a whole.
    """
    said: list[str] = []
    table: TableName = ()
    rest = path
    while rest and isinstance(rest[0], str) and (*table, rest[0]) in TABLES:
        key, rest = rest[0], rest[1:]
        table = (*table, key)
        data = data.get(key) if isinstance(data, dict) else None
        if rest and isinstance(rest[0], int):
            number, rest = rest[0], rest[1:]
            data = data[number] if isinstance(data, list) and number < len(data) else None
            key = f"{key} {_entry_name(data, number)}"
        said.append(key)
    return ", ".join(said)


def _entry_name(entry: object, number: int) -> str:
    if isinstance(entry, dict):
        for key in ("code", "name"):
            name = entry.get(key)
            if isinstance(name, str) and name.strip():
                return shown_name(name)
    return str(number + 1)
