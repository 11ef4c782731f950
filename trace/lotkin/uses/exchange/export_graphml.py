"""Exporting the genealogy as GraphML, for programs that draw and measure graphs.

Source: GraphML Primer and schema, graphml.graphdrawing.org (GraphML 1.0): keys first, then nodes,
then edges; several edges between two nodes are several edges.
"""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.sax.saxutils import escape, quoteattr

from lotkin.core.values.instants import show_instant
from lotkin.core.values.quantities import from_micro
from lotkin.uses.exchange.files import writing_text

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from lotkin.uses.exchange.export_scope import Selected

__all__ = ["export_graphml"]

HEAD = """<?xml version="1.0" encoding="UTF-8"?>
<graphml xmlns="http://graphml.graphdrawing.org/xmlns"
 xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"
 xsi:schemaLocation="http://graphml.graphdrawing.org/xmlns http://graphml.graphdrawing.org/xmlns/1.0/graphml.xsd">
"""
NODE_KEYS = ("kind", "family", "part", "quantity", "unit", "made_at", "serial", "supplier_lot")
EDGE_KEYS = ("mixing", "group", "quantity", "per", "position", "event")
NUMBERS = {"quantity": "double", "per": "double", "group": "int", "event": "long"}


def export_graphml(selected: Selected, path: Path) -> tuple[int, int]:
    """Write items as nodes and links as edges from parent to child.

    Returns:
        How many of each.

    Raises:
        BadFile: The file cannot be written.
    """
    nodes = edges = 0
    with writing_text(path) as file:
        file.write(HEAD)
        for prefix, of, names in (("n", "node", NODE_KEYS), ("e", "edge", EDGE_KEYS)):
            for name in names:
                kind = NUMBERS.get(name, "string")
                said = f'for="{of}" attr.name="{name}" attr.type="{kind}"'
                file.write(f'<key id="{prefix}_{name}" {said}/>\n')
        file.write('<graph id="genealogy" edgedefault="directed">\n')
        for item in selected.items():
            nodes += 1
            amount = None if item.quantity is None else from_micro(item.quantity)
            made = None if item.made_at is None else show_instant(item.made_at)
            values = (
                item.kind, item.family.value, item.part, amount, item.unit, made, item.serial,
                item.supplier_lot,
            )  # fmt: skip
            data = _data("n", zip(NODE_KEYS, values, strict=True))
            file.write(f"<node id={quoteattr(item.code)}>{data}</node>\n")
        for link in selected.links():
            edges += 1
            amount = None if link.quantity is None else from_micro(link.quantity)
            fields = (
                link.mixing.value, link.group, amount, from_micro(link.per), link.position,
                link.event,
            )  # fmt: skip
            data = _data("e", zip(EDGE_KEYS, fields, strict=True))
            ends = f"source={quoteattr(link.parent)} target={quoteattr(link.child)}"
            file.write(f"<edge {ends}>{data}</edge>\n")
        file.write("</graph>\n</graphml>\n")
    return nodes, edges


def _data(prefix: str, pairs: Iterable[tuple[str, object]]) -> str:
    return "".join(
        f'<data key="{prefix}_{name}">{escape(str(value))}</data>'
        for name, value in pairs
        if value is not None and value != ""
    )
