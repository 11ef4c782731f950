"""`schema`: what an event may say, as JSON Schema."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from lotkin_cli.options.common import Json
from lotkin_cli.output.streams import write
from lotkin_cli.verbs.adding import RECORD, add_verb

if TYPE_CHECKING:
    pass

__all__ = ["add_to"]


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

    from lotkin_answers.event_schema import schema_of

    write(dumps(schema_of(kind), indent=2))


def add_to(app: typer.Typer) -> None:
    """Add the verb."""
    add_verb(
        app,
        "schema",
        schema_command,
        section=RECORD,
        examples=("lotkin schema receive", "lotkin schema > events.schema.json"),
    )
