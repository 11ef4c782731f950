"""What the `@context` of a document declares: prefixes of fields that are not of the standard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lotkin.core.epcis.checks.vocabulary import CONTEXT

if TYPE_CHECKING:
    from collections.abc import Mapping

    from lotkin.core.values.canonical import Json

__all__ = ["BUILT_IN", "EXTENSION", "PREFIX", "declared", "known_prefixes", "our_context"]

PREFIX = "lotkin"
EXTENSION = "urn:lotkin:epcis:"
"""Namespace of what the standard has no field for: groups, mixing, `per`, postings."""

BUILT_IN = {
    "epcis": "https://ref.gs1.org/epcis/",
    "cbv": "https://ref.gs1.org/cbv/",
    "cbvmda": "urn:epcglobal:cbv:mda:",
    "gs1": "https://gs1.org/voc/",
    "rdfs": "http://www.w3.org/2000/01/rdf-schema#",
    "owl": "http://www.w3.org/2002/07/owl#",
    "xsd": "http://www.w3.org/2001/XMLSchema#",
    "dcterms": "http://purl.org/dc/terms/",
}
"""Prefixes that the standard context declares."""


def our_context() -> list[Json]:
    """Give the `@context` of the documents that we write."""
    return [CONTEXT, {PREFIX: EXTENSION}]


def declared(context: object) -> dict[str, str]:
    """Map the prefixes that a `@context` declares to their namespaces; the standard's left out."""
    entries = context if isinstance(context, list) else [context]
    found: dict[str, str] = {}
    for entry in entries:
        if isinstance(entry, dict):
            found.update({k: v for k, v in entry.items() if isinstance(v, str)})
    return found


def known_prefixes(*contexts: object) -> Mapping[str, str]:
    """Map every prefix that can be used to its namespace."""
    found = dict(BUILT_IN)
    for context in contexts:
        found.update(declared(context))
    return found
