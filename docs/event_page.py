"""Writes the page of the events from their models, and that of the errors from their classes."""

from __future__ import annotations

import inspect
from typing import TYPE_CHECKING, Any

from pydantic_core import PydanticUndefined

from lotkin.core import errors
from lotkin.core.errors import LotkinError
from lotkin.core.events import KINDS_OF_EVENTS, Event

if TYPE_CHECKING:
    from pydantic import BaseModel
    from pydantic.fields import FieldInfo

__all__ = ["error_page", "event_page"]

EVENTS_INTRODUCTION = """\
# Events

<!-- Written by `make docs` from the events themselves; do not edit. -->

An event is a JSON object with a `kind`, the fields that all kinds share, and its own.
`lotkin schema` prints the same as JSON Schema.
Quantities are numbers or strings with at most six decimals, in the unit of the item.
Times carry their zone (RFC 3339).
Fields that say *filled in* are found when the event is recorded.
They stand in what is read back; an event or a correction that sends one is refused.

## Shared by all kinds

"""

ERRORS_INTRODUCTION = """\
# Errors

<!-- Written by `make docs` from the errors themselves; do not edit. -->

Every error has a kind that does not change, a message, the record that it is about, and a hint.

| kind | situation | exit status |
|---|---|---:|
"""


def event_page() -> str:
    """Write the page of the events."""
    shared = [name for name in Event.model_fields if name != "kind"]
    parts = [EVENTS_INTRODUCTION, _table(Event, shared)]
    pieces: dict[str, type[BaseModel]] = {}
    for cls in KINDS_OF_EVENTS:
        own = [name for name in cls.model_fields if name not in Event.model_fields]
        parts.append(f"\n## `{cls.model_fields['kind'].default}`\n\n{_text(cls)}\n\n")
        if own:
            parts.append(_table(cls, own))
        for name in own:
            _collect(cls.model_fields[name].annotation, pieces)
    parts.append("\n## Pieces that events are put together from\n")
    for name in sorted(pieces):
        cls_of_piece = pieces[name]
        parts.append(f"\n### {name}\n\n{_text(cls_of_piece)}\n\n")
        parts.append(_table(cls_of_piece, list(cls_of_piece.model_fields)))
    return "".join(parts)


def error_page() -> str:
    """Write the page of the errors."""
    classes = [getattr(errors, name) for name in errors.__all__]
    kinds = {
        cls.kind: cls
        for cls in classes
        if isinstance(cls, type) and issubclass(cls, LotkinError) and cls.__subclasses__() == []
    }
    rows = [
        f"| `{kind}` | {_text(cls).splitlines()[0]} | {cls.exit_status} |"
        for kind, cls in sorted(kinds.items())
    ]
    return ERRORS_INTRODUCTION + "\n".join(rows) + "\n"


def _text(cls: type) -> str:
    """Give what a class says of itself, one sentence a line."""
    paragraphs = inspect.cleandoc(cls.__doc__ or "").split("\n\n")
    return "\n\n".join(p.replace("\n", " ").replace(". ", ".\n") for p in paragraphs)


def _table(cls: type[BaseModel], names: list[str]) -> str:
    rows = ["| field | is | if left out | |\n|---|---|---|---|\n"]
    for name in names:
        field = cls.model_fields[name]
        kind = _words(field.annotation).replace("|", "or")
        rows.append(f"| `{name}` | {kind} | {_default(field)} | {field.description or ''} |\n")
    return "".join(rows)


def _default(field: FieldInfo) -> str:
    if field.is_required():
        return "**needed**"
    default = field.default
    if default is PydanticUndefined or default in (None, "", ()):
        return ""
    return f"`{str(default).lower() if isinstance(default, bool) else default}`"


def _words(annotation: Any) -> str:
    """Say in words what a field holds."""
    names = {
        "str": "text",
        "Decimal": "number",
        "datetime": "time",
        "UUID": "UUID",
        "bool": "true or false",
        "int": "whole number",
        "NoneType": "",
    }
    arguments = [a for a in getattr(annotation, "__args__", ()) if a is not Ellipsis]
    origin = getattr(annotation, "__origin__", None)
    if origin is not None and getattr(origin, "__name__", "") in ("tuple", "list"):
        return f"list of {' or '.join(dict.fromkeys(filter(None, map(_words, arguments))))}"
    if origin is dict:
        return "object"
    if arguments and not isinstance(arguments[0], type) and isinstance(arguments[0], str):
        return " or ".join(f"`{argument}`" for argument in arguments)
    if arguments:
        return " or ".join(dict.fromkeys(filter(None, map(_words, arguments))))
    name = getattr(annotation, "__name__", str(annotation))
    return names.get(name, name)


def _collect(annotation: Any, pieces: dict[str, type[BaseModel]]) -> None:
    """Gather the models that a field is put together from."""
    for argument in getattr(annotation, "__args__", ()):
        _collect(argument, pieces)
    is_model = isinstance(annotation, type) and hasattr(annotation, "model_fields")
    if is_model and annotation.__name__ not in pieces:
        pieces[annotation.__name__] = annotation
        for field in annotation.model_fields.values():
            _collect(field.annotation, pieces)
