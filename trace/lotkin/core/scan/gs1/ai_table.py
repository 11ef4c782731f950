"""The table of GS1 Application Identifiers, read from the file beside this module when needed.

The file is derived from the GS1 Barcode Syntax Dictionary, copyright GS1 AISBL, Apache-2.0.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources
from itertools import combinations
from typing import TYPE_CHECKING

from lotkin.core.scan.gs1.components import Component, parse_spec

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

__all__ = ["ApplicationIdentifier", "application_identifiers", "identifier_at", "table_rows"]


@dataclass(frozen=True, slots=True)
class ApplicationIdentifier:
    """What the table says of one identifier.

    Attributes:
        ai: Two to four digits.
        title: Its short name, like `BATCH/LOT`.
        components: What its value is put together from.
        needs_separator: Whether FNC1 is needed when another element follows.
        requires: Alternatives, each of identifiers that must all be there; empty for none.
            An `n` stands for any digit.
        excludes: Identifiers that must not be there.
        paths: Sequences of qualifiers that may follow it in a Digital Link; empty if it is no key.
        in_query: Whether it may stand in the query of a Digital Link.
    """

    ai: str
    title: str
    components: tuple[Component, ...]
    needs_separator: bool
    requires: tuple[tuple[str, ...], ...]
    excludes: tuple[str, ...]
    paths: frozenset[tuple[str, ...]]
    in_query: bool

    @property
    def is_checked(self) -> bool:
        """Tell whether its value has a check digit."""
        return any("csum" in component.checks for component in self.components)


@cache
def application_identifiers() -> Mapping[str, ApplicationIdentifier]:
    """Give all identifiers by their digits.

    Complexity: reads some 500 rows once; after that O(1).
    """
    return {
        row["ai"]: _entry(row) for row in table_rows(__package__, "application_identifiers.csv")
    }


def identifier_at(text: str) -> ApplicationIdentifier | None:
    """Give the identifier that a text begins with; None if it begins with none."""
    known = application_identifiers()
    return next((known[text[:n]] for n in (2, 3, 4) if text[:n] in known), None)


def table_rows(room: str, name: str) -> Iterator[dict[str, str]]:
    """Yield the rows of a table that lies in a room, comments left out."""
    content = resources.files(room).joinpath(name).read_text(encoding="utf-8")
    yield from csv.DictReader(line for line in content.splitlines() if not line.startswith("#"))


def _entry(row: dict[str, str]) -> ApplicationIdentifier:
    return ApplicationIdentifier(
        ai=row["ai"],
        title=row["title"],
        components=parse_spec(row["spec"]),
        needs_separator=row["separator"] == "yes",
        requires=tuple(tuple(each.split("+")) for each in row["requires"].split(",") if each),
        excludes=tuple(each for each in row["excludes"].split(",") if each),
        paths=frozenset(_paths(row["path"])),
        in_query=row["query"] == "yes",
    )


def _paths(written: str) -> Iterator[tuple[str, ...]]:
    """Yield every choice of qualifiers, in their order, of each alternative."""
    if not written:
        return
    for alternative in written.replace("alone", "").split("|"):
        qualifiers = [each for each in alternative.split(",") if each]
        for count in range(len(qualifiers) + 1):
            yield from combinations(qualifiers, count)
