"""`schema`: what an event may say, as JSON Schema."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_cli.options import Json
from lotkin_cli.streams import write
from lotkin_cli.verbs.adding import RECORD, add_verb

if TYPE_CHECKING:
    from typing import Any

__all__ = ["add_to", "schema_of"]

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def _check_kind(value: str | None) -> str | None:
    if value is None:
        return None
    from lotkin.core.errors import did_you_mean
    from lotkin.core.events import EVENTS

    if value not in EVENTS:
        near = did_you_mean(value[:40], EVENTS) or f"choose from {', '.join(EVENTS)}"
        raise typer.BadParameter(f"{value!r} is no kind of event; {near}")
    return value


def schema_command(
    kind: Annotated[
        str | None,
        typer.Argument(
            metavar="KIND",
            callback=_check_kind,
            help="A kind of event, e.g. receive; all of them if left out.",
        ),
    ] = None,
    *,
    json: Json = False,  # noqa: ARG001 - a schema is JSON anyway
) -> None:
    """Print the JSON Schema of events, all or one kind.

    An event is one JSON object on one line; `lotkin record` takes it.
    """
    from json import dumps

    write(dumps(schema_of(kind), indent=2))


# JSON Schema has no type narrower than this in pydantic
def schema_of(kind: str | None) -> dict[str, Any]:
    """Make the schema of one kind of event, or of all of them told apart by `kind`."""
    from functools import reduce
    from operator import or_
    from typing import Annotated as Told

    from pydantic import Field, TypeAdapter

    from lotkin.core.events import EVENTS, KINDS_OF_EVENTS, Event

    if kind is not None:
        schema = EVENTS[kind].model_json_schema()
        _require_kind(schema)
        return {"$schema": DIALECT, **schema}
    every: Any = reduce(or_, KINDS_OF_EVENTS)
    adapter: TypeAdapter[Event] = TypeAdapter(Told[every, Field(discriminator="kind")])
    schema = adapter.json_schema()
    for definition in schema["$defs"].values():
        _require_kind(definition)
    return {"$schema": DIALECT, "title": "Event", **schema}


def _require_kind(schema: dict[str, Any]) -> None:
    """Ask for the kind, which tells what the rest means."""
    if "const" in schema.get("properties", {}).get("kind", {}) and "id" in schema["properties"]:
        schema["required"] = ["kind", *schema.get("required", ())]


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "schema",
        schema_command,
        section=RECORD,
        examples=("lotkin schema receive", "lotkin schema > events.schema.json"),
    )
