"""The JSON Schema of events."""

from __future__ import annotations

from functools import reduce
from operator import or_
from typing import Annotated, Any

from pydantic import Field, TypeAdapter

from lotkin.core.events import EVENTS, KINDS_OF_EVENTS, Event

__all__ = ["schema_of"]

DIALECT = "https://json-schema.org/draft/2020-12/schema"


# JSON Schema has no type narrower than this in pydantic
def schema_of(kind: str | None) -> dict[str, Any]:
    """Make the schema of one kind of event, or of all of them told apart by `kind`."""
    if kind is not None:
        schema = EVENTS[kind].model_json_schema()
        _require_kind(schema)
        return {"$schema": DIALECT, **schema}
    every: Any = reduce(or_, KINDS_OF_EVENTS)
    adapter: TypeAdapter[Event] = TypeAdapter(Annotated[every, Field(discriminator="kind")])
    schema = adapter.json_schema()
    for definition in schema["$defs"].values():
        _require_kind(definition)
    return {"$schema": DIALECT, "title": "Event", **schema}


def _require_kind(schema: dict[str, Any]) -> None:
    """Ask for the kind, which tells what the rest means."""
    if "const" in schema.get("properties", {}).get("kind", {}) and "id" in schema["properties"]:
        schema["required"] = ["kind", *schema.get("required", ())]
