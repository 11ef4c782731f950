"""What is to be taken over from a document, event by event, and in which order."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any
from uuid import NAMESPACE_OID, UUID, uuid5

import networkx as nx

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import datetime

__all__ = ["Adoption", "id_of", "in_order", "names_in"]

SECTIONS = ("items", "links", "postings", "labels", "holds")


@dataclass(slots=True)
class Adoption:
    """One event of a document, understood.

    Attributes:
        path: Where it stands in the document.
        at: When it happened.
        hashes: SHA-256 of the events that it was understood from.
        identity: What tells it from other events for ever, whatever it says.
        rows: The lists of the event `adopt`.
        foreign: Whether it was understood from the standard's fields alone.
    """

    path: str
    at: datetime
    hashes: tuple[str, ...]
    identity: str
    rows: dict[str, list[dict[str, Any]]] = field(default_factory=dict)
    foreign: bool = False

    def event_id(self, turn: int = 0) -> UUID:
        """Give the id of the event `adopt`; another one after the first was voided."""
        return id_of(self.identity, turn)

    def makes(self) -> set[str]:
        """Give the codes of the items that it makes."""
        return {row["code"] for row in self.rows.get("items", ())}

    def names(self) -> set[str]:
        """Give the codes of the items that it needs or makes."""
        return names_in(self.rows)

    def is_empty(self) -> bool:
        """Tell whether there is nothing to record."""
        return not any(self.rows.get(section) for section in SECTIONS)


def id_of(identity: str, turn: int = 0) -> UUID:
    """Give the id of the event `adopt` for an identity; see `Adoption`."""
    again = f" {turn}" if turn else ""
    return uuid5(NAMESPACE_OID, f"lotkin adopt {identity}{again}")


def names_in(rows: Mapping[str, list[dict[str, Any]]]) -> set[str]:
    """Give the codes of the items that rows are about."""
    found = {row["code"] for row in rows.get("items", ())}
    for row in rows.get("links", ()):
        found |= {row["parent"], row["child"]}
    for section in ("postings", "labels", "holds"):
        found |= {row["item"] for row in rows.get(section, ())}
    return found


def in_order(adoptions: Sequence[Adoption]) -> list[Adoption]:
    """Order adoptions so that each finds what it needs, as near to their own order as can be.

    Those that need each other become one.
    """
    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from(range(len(adoptions)))
    maker = {code: n for n, each in enumerate(adoptions) for code in each.makes()}
    looked_at: dict[str, list[int]] = defaultdict(list)
    for number, each in enumerate(adoptions):
        made = each.makes()
        for code in each.names() - made:
            if code in maker:
                graph.add_edge(maker[code], number)
        for code in {row["parent"] for row in each.rows.get("links", ())} - made:
            # what is used cannot be linked to any more
            graph.add_edges_from((before, number) for before in looked_at[code])
        for code in {row["child"] for row in each.rows.get("links", ())} - made:
            looked_at[code].append(number)
    whole = nx.condensation(graph)
    members = {node: sorted(whole.nodes[node]["members"]) for node in whole}
    order = nx.lexicographical_topological_sort(whole, key=lambda node: members[node][0])
    return [_joined([adoptions[n] for n in members[node]]) for node in order]


def _joined(some: list[Adoption]) -> Adoption:
    """Make one of several that need each other."""
    first = some[0]
    if len(some) == 1:
        return first
    rows: dict[str, list[dict[str, Any]]] = defaultdict(list)
    for each in some:
        taken = _highest_groups(rows["links"])
        for section, of_each in each.rows.items():
            rows[section] += of_each
        for row in rows["links"][len(rows["links"]) - len(each.rows.get("links", ())) :]:
            row["group"] += taken.get(row["child"], 0)
    return Adoption(
        first.path,
        max(each.at for each in some),
        tuple(digest for each in some for digest in each.hashes),
        " ".join(each.identity for each in some),
        dict(rows),
        any(each.foreign for each in some),
    )


def _highest_groups(links: Iterable[dict[str, Any]]) -> dict[str, int]:
    found: dict[str, int] = {}
    for row in links:
        found[row["child"]] = max(found.get(row["child"], 0), row["group"])
    return found
