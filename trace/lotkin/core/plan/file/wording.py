"""What pydantic finds in single entries, said in the words of the shop."""

from __future__ import annotations

from typing import TYPE_CHECKING, get_args

from lotkin.core.plan.file.quoted import shown, shown_name
from lotkin.core.plan.file.tables import TABLES, header, keys_of, split_path
from lotkin.core.plan.nearest import NearestNames
from lotkin.core.plan.values import PLAIN
from lotkin.core.plan.zones import known_timezones

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pydantic_core import ErrorDetails

    from lotkin.core.plan.file.positions import Path
    from lotkin.core.plan.file.tables import TableName

__all__ = ["Wording"]

_WANTED = {
    "string_type": "must be text; write it in quotes",
    "string_unicode": "must be text of ordinary characters",
    "int_type": "must be a whole number without quotes",
    "bool_type": "must be true or false, without quotes",
    "tuple_type": "must be a list in square brackets",
}


class Wording:
    """Says what is wrong; one per file, because suggestions are rationed."""

    def __init__(self) -> None:
        self._near: dict[tuple[str, ...], NearestNames] = {}

    def say(self, error: ErrorDetails) -> str:
        """Say what is wrong with a value and what to write instead."""
        path: Path = tuple(error["loc"])
        given: object = error["input"]
        table, rest = split_path(path)
        if not rest:
            return self._say_of_table(table, given, error["type"])
        key = _key(rest)
        if error["type"] == "missing":
            return f"{key} is missing; add {key} = {_example(table, key)}"
        if error["type"] == "extra_forbidden":
            return self._say_unknown_key(table, str(rest[0]))
        if error["type"] == "literal_error":
            return f"{key} {shown(given)} must be one of {self._choices(table, rest, given)}"
        if error["type"] == PLAIN:
            return f"{key} {shown(given)} {error['msg']}{self._zone_hint(key, given)}"
        wanted = _WANTED.get(error["type"], f"is not allowed: {error['msg']}")
        return f"{key} {shown(given)} {wanted}"

    def _say_of_table(self, table: TableName, given: object, kind: str) -> str:
        if not table:
            return f"the plan must be a table of tables, not {shown(given)}"
        if kind == "missing":
            return f"the plan has no {header(table)}; add one with {_listed(_needed(table))}"
        return f"{table[-1]} must be a table of its own; write it as {header(table)}"

    def _say_unknown_key(self, table: TableName, key: str) -> str:
        name = shown_name(key)
        known = keys_of(table)
        hint = self._hint(known, key)
        if not table:
            tables = [header((known_key,)) for known_key in known]
            return f"{name} is not a table of a plan{hint or f'; tables are {_listed(tables)}'}"
        where = f"{header(table)} has no key {name}"
        return f"{where}{hint or f'; its keys are {_listed(known)}'}"

    def _choices(self, table: TableName, rest: Path, given: object) -> str:
        choices = _choices_of(table, str(rest[0]))
        hint = self._hint(choices, given) if isinstance(given, str) else ""
        return f"{_listed(choices, last='or')}{hint}"

    def _zone_hint(self, key: str, given: object) -> str:
        if key != "timezone" or not isinstance(given, str):
            return ""
        return NearestNames(known_timezones()).hint(given)

    def _hint(self, known: tuple[str, ...], name: str) -> str:
        if known not in self._near:
            self._near[known] = NearestNames(known)
        return self._near[known].hint(name)


def _key(rest: Path) -> str:
    """Name a key: `unit`, or `inputs entry 2` for an entry of a list."""
    name = shown_name(str(rest[0]))
    if len(rest) > 1 and isinstance(rest[1], int):
        return f"{name} entry {rest[1] + 1}"
    return name


def _listed(words: Iterable[str], *, last: str = "and") -> str:
    *most, end = words
    return f"{', '.join(most)} {last} {end}" if most else end


def _needed(table: TableName) -> list[str]:
    fields = TABLES[table].model_fields
    return [field.alias or name for name, field in fields.items() if field.is_required()]


def _choices_of(table: TableName, key: str) -> tuple[str, ...]:
    """Give the words that a key allows, whether it holds one, an optional one or a list of them."""
    found: list[str] = []
    waiting: list[object] = [TABLES[table].model_fields[key].annotation]
    while waiting:
        annotation = waiting.pop(0)
        if isinstance(annotation, str):
            found.append(annotation)
        waiting.extend(get_args(annotation))
    return tuple(found)


def _example(table: TableName, key: str) -> str:
    choices = _choices_of(table, key)
    if choices:
        return _listed((f'"{choice}"' for choice in choices), last="or")
    if key in {"per", "readings"} or key.endswith("_mm"):
        return "a number"
    return '"…"'
