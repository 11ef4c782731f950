"""The plain module that follows from the classes of the tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from sqlalchemy import Column, MetaData, Table

__all__ = ["plain_module"]

WIDTH = 100
RUNNING_NUMBER = "number"
"""Column that the database fills in by itself."""

HEAD = '''\
"""The columns and keys of the tables, for what must not wait until SQLModel has loaded.

Written by `make schema` from the classes in the `*tables.py` of the store; do not edit.
"""

from __future__ import annotations

__all__ = [
{names}
]

Row = tuple[object, ...]

COLUMNS = {{
{columns}
}}
"""Columns of each table, but for the running numbers, which the database fills in."""

KEYS = {{
{keys}
}}
"""Columns of the key of each table."""
'''


def plain_module(metadata: MetaData, written: Iterable[str]) -> str:
    """Write the module.

    Args:
        metadata: All tables.
        written: Names of the tables for whose rows there is to be a function.
    """
    tables = [metadata.tables[name] for name in sorted(metadata.tables)]
    functions = [metadata.tables[name] for name in sorted(written)]
    public = ["COLUMNS", "KEYS", "Row", *(f"{table.name}_row" for table in functions)]
    head = HEAD.format(
        names="\n".join(f'    "{name}",' for name in public),
        columns="\n".join(_entry(table, _filled(table)) for table in tables),
        keys="\n".join(_entry(table, list(table.primary_key.columns)) for table in tables),
    )
    return head + "".join(f"\n\n{_function(table)}" for table in functions)


def _filled(table: Table) -> list[Column[object]]:
    return [column for column in table.columns if column.name != RUNNING_NUMBER]


def _entry(table: Table, columns: Sequence[Column[object]]) -> str:
    quoted = [f'"{column.name}"' for column in columns]
    return _listed(f'    "{table.name}": (', quoted, "),", comma_if_one=True)


def _function(table: Table) -> str:
    columns = _filled(table)
    takes = _listed(f"def {table.name}_row(", ["*", *map(_parameter, columns)], ") -> Row:")
    gives = _listed("    return (", [column.name for column in columns], ")", comma_if_one=True)
    return f'{takes}\n    """Give a row of `{table.name}`."""\n{gives}\n'


def _parameter(column: Column[object]) -> str:
    kind = column.type.python_type.__name__
    return f"{column.name}: {kind} | None" if column.nullable else f"{column.name}: {kind}"


def _listed(before: str, parts: Sequence[str], after: str, *, comma_if_one: bool = False) -> str:
    """Write a list on one line if it fits, else one part a line, as the formatter does."""
    ends = "," if comma_if_one and len(parts) == 1 else ""
    line = f"{before}{', '.join(parts)}{ends}{after}"
    if len(line) <= WIDTH:
        return line
    margin = " " * (len(before) - len(before.lstrip()))
    return "\n".join([before, *(f"{margin}    {part}," for part in parts), f"{margin}{after}"])
