"""How long questions take, beside bare SQL and networkx."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import networkx as nx

from benchmarks.raw import open_raw, reached_codes, reached_ids, reached_rows
from benchmarks.timing import measure
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import where_from, where_used
from lotkin.wiring import open_store

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from lotkin.core.answers.containment import Answer
    from lotkin.uses.ports import CanRead

__all__ = ["ask_questions"]


def ask_questions(path: Path, units: int) -> list[tuple[str, ...]]:
    """Ask a small, a wide and a deep question in every way.

    Returns:
        Rows for a table: question, reached, and milliseconds of each way.
    """
    store, raw = open_store(str(path)), open_raw(path)
    with store.reading() as view:
        graph = nx.DiGraph((link.parent, link.child) for link in view.all_links())
    deep = units - units % 200 - min(units // 9, 10_000) // 200 * 200
    rows: list[tuple[str, ...]] = []
    for name, code in (
        ("a machined lot", f"LOT-{units // 200 * 100}"),
        ("a heat", "HEAT-0"),
        ("an old powder blend", f"BLEND-{max(deep, 0)}"),
    ):
        ids = measure(partial(reached_ids, raw, code))
        codes = measure(partial(reached_codes, raw, code))
        bare = measure(partial(reached_rows, raw, code))
        ours = measure(partial(where_used, store, code))
        looked = measure(partial(_look_at_all, where_used, store, code))
        held = measure(partial(contain, store, [code]), times=3)
        other = measure(partial(nx.descendants, graph, code))
        rows.append(
            (
                f"where-used of {name}",
                f"{len(reached_ids(raw, code)) - 1:,}",
                *(f"{t.median * 1000:.1f}" for t in (ids, codes, bare, ours, looked, held, other)),
                f"{ours.median / bare.median:.1f}",
                f"{ours.median / codes.median:.1f}",
            )
        )
    unit = f"UNIT-{units - 1}"
    back = measure(partial(_look_at_all, where_from, store, unit), times=3)
    other = measure(partial(nx.ancestors, graph, unit))
    blank = ("",) * 4
    rows.append(
        (
            "where-from of a unit",
            f"{len(nx.ancestors(graph, unit)):,}",
            *blank,
            f"{back.median * 1000:.1f}",
            "",
            f"{other.median * 1000:.1f}",
            "",
            "",
        )
    )
    return rows


def _look_at_all(ask: Callable[[CanRead, str], Answer], store: CanRead, code: str) -> int:
    """Ask, and look at every row of the answer."""
    return sum(row.chance is not None for row in ask(store, code).items)
