"""Fields of events that are filled in when an event is recorded, and that nobody sends.

A field is marked in its declaration, `Annotated[..., FilledIn()]`. All else follows from the mark:
the published schema leaves the field out, and an event or a correction that says it is refused.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NoReturn, get_args

from pydantic import BaseModel
from pydantic_core import PydanticOmit

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

__all__ = ["FilledIn", "filled_in_fields", "filled_in_said", "filled_in_sent"]


class FilledIn:
    """Marks a field that lotkin finds itself, from the stock, the plan or what was recorded."""

    def __get_pydantic_json_schema__(self, schema: object, handler: object) -> NoReturn:
        """Leave the field out of what may be sent."""
        raise PydanticOmit


@cache
def filled_in_fields(cls: type[BaseModel]) -> frozenset[str]:
    """Name the fields of a model that are filled in."""
    return frozenset(
        name
        for name, field in cls.model_fields.items()
        if any(isinstance(mark, FilledIn) for mark in field.metadata)
    )


@cache
def _parts(cls: type[BaseModel]) -> Mapping[str, type[BaseModel]]:
    """Map the fields of a model to the models in them in which something is filled in."""
    found = {}
    for name, field in cls.model_fields.items():
        for part in _models_in(field.annotation):
            if filled_in_fields(part) or _parts(part):
                found[name] = part
    return found


def _models_in(annotation: object) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from _models_in(inner)


def filled_in_sent(model: BaseModel) -> list[str]:
    """Name the fields that were sent although they are filled in, like `found.weights`."""
    marked, parts = filled_in_fields(type(model)), _parts(type(model))
    found = []
    for name in model.model_fields_set & (marked | parts.keys()):
        value = getattr(model, name)
        if name in marked:
            found += [name] if value is not None else []
            continue
        for part in value if isinstance(value, tuple) else (value,):
            if isinstance(part, BaseModel):
                found += [f"{name}.{inner}" for inner in filled_in_sent(part)]
    return sorted(set(found))


def filled_in_said(cls: type[BaseModel], patch: Mapping[str, object]) -> list[str]:
    """Name the fields that a patch of an event says although they are filled in, null included."""
    marked, parts = filled_in_fields(cls), _parts(cls)
    found = [name for name in patch if name in marked]
    for name, part in parts.items():
        said = patch.get(name)
        for each in said if isinstance(said, (list, tuple)) else (said,):
            if isinstance(each, dict):
                found += [f"{name}.{inner}" for inner in filled_in_said(part, each)]
    return sorted(set(found))
