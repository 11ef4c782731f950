"""`schema`: it describes what `record` takes, and only that."""

from __future__ import annotations

import json
from typing import Any

import pytest

from lotkin.core.events import EVENTS
from tests.cli.command import lotkin


def test_all_events_are_told_apart_by_their_kind() -> None:
    schema = lotkin("schema").document()

    # Source: JSON Schema 2020-12, core, section 8.1.1.
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["discriminator"]["propertyName"] == "kind"
    assert set(schema["discriminator"]["mapping"]) == set(EVENTS)
    for reference in schema["discriminator"]["mapping"].values():
        assert reference.removeprefix("#/$defs/") in schema["$defs"]


@pytest.mark.parametrize("kind", list(EVENTS))
def test_each_kind_has_a_schema_that_asks_for_its_kind(kind: str) -> None:
    schema: dict[str, Any] = lotkin("schema", kind, "--json").document()

    assert schema["properties"]["kind"]["const"] == kind
    assert {"kind", "id", "at", "by"} <= set(schema["required"])
    assert schema["additionalProperties"] is False


def test_every_reference_leads_somewhere() -> None:
    schema = lotkin("schema").out
    document = json.loads(schema)

    references = {part.split('"')[0] for part in schema.split('"$ref": "#/$defs/')[1:]}
    assert references
    assert references <= set(document["$defs"])
