"""Lot dispersion and the bill of lots of a worked example, and on random graphs by linear algebra.

Sources: `lot_dispersion.json` beside this file (measures of Dupuy and others 2005, used by Dabbene
and Gay 2011; bill of lots of van Dorp 2003: the product of the quantities along a path, summed over
the paths; the example and its values were worked out apart from this project). Summing over all
paths is the inverse of I - A, here computed exactly with fractions by Gauss and Jordan.
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, TypedDict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lotkin.core.values.quantities import MICRO
from tests.small_works import Works

if TYPE_CHECKING:
    from collections.abc import Mapping

    from hypothesis.strategies import DrawFn


class Example(TypedDict):
    edges: list[tuple[str, str, int]]
    raw: list[str]
    finished: list[str]
    downward: dict[str, int]
    upward: dict[str, int]
    batch_dispersion: int
    worst_case_units: int
    average_units: float
    gozinto_P1: dict[str, int]


EXAMPLE: Example = json.loads(
    Path(__file__).with_name("lot_dispersion.json").read_text(encoding="utf-8")
)["example"]

KINDS = {"H": "heat", "B": "bar-lot", "P": "powder-lot", "C": "machined-lot", "U": "unit"}


@pytest.fixture(scope="module")
def example() -> Works:
    """Take over the worked example; the numbers on its edges are pieces in one piece."""
    works = Works()
    codes = sorted({code for parent, child, _ in EXAMPLE["edges"] for code in (parent, child)})
    quantities = {"heat": None, "bar-lot": 10 * MICRO, "unit": MICRO}
    works.do(
        "import",
        items=[
            [
                code,
                kind,
                "",
                quantities.get(kind, 100 * MICRO),
                "" if kind == "heat" else "pcs",
                None,
            ]
            for code in codes
            for kind in (KINDS[code[0]],)
        ],
        links=[
            [parent, child, None, number, "each", per * MICRO]
            for number, (parent, child, per) in enumerate(EXAMPLE["edges"], start=1)
        ],
    )
    return works


def test_downward_dispersion_is_that_of_the_example(example: Works) -> None:
    found = {raw: set(example.used(raw)) & set(EXAMPLE["finished"]) for raw in EXAMPLE["raw"]}
    counts = {raw: len(finished) for raw, finished in found.items()}
    assert counts == EXAMPLE["downward"]
    assert sum(counts.values()) == EXAMPLE["batch_dispersion"]
    assert max(counts.values()) == EXAMPLE["worst_case_units"]
    assert sum(counts.values()) / len(counts) == EXAMPLE["average_units"]


def test_upward_dispersion_is_that_of_the_example(example: Works) -> None:
    found = {unit: set(example.origin(unit)) & set(EXAMPLE["raw"]) for unit in EXAMPLE["finished"]}
    counts = {unit: len(raw) for unit, raw in found.items()}
    assert counts == EXAMPLE["upward"]
    assert sum(counts.values()) == EXAMPLE["batch_dispersion"]


def test_the_bill_of_lots_is_that_of_the_example(example: Works) -> None:
    with example.store.reading() as view:
        links = list(view.all_links())
    per = {(link.parent, link.child): Fraction(link.per, MICRO) for link in links}
    composition = sum_over_paths(per)
    found = {
        unit: int(composition["P1", unit])
        for unit in EXAMPLE["finished"]
        if composition.get(("P1", unit))
    }
    assert found == EXAMPLE["gozinto_P1"]


# --- the same by linear algebra


def sum_over_paths(weights: Mapping[tuple[str, str], Fraction]) -> dict[tuple[str, str], Fraction]:
    """Give the sum over all paths of the product of weights: (I - A) inverted, exactly."""
    codes = sorted({code for edge in weights for code in edge})
    n = len(codes)
    rows = [
        [Fraction(i == j) - weights.get((a, b), Fraction(0)) for j, b in enumerate(codes)]
        + [Fraction(i == j) for j in range(n)]
        for i, a in enumerate(codes)
    ]
    for column in range(n):
        pivot = next(r for r in range(column, n) if rows[r][column])
        rows[column], rows[pivot] = rows[pivot], rows[column]
        lead = rows[column][column]
        rows[column] = [value / lead for value in rows[column]]
        for r in range(n):
            factor = rows[r][column]
            if r != column and factor:
                rows[r] = [a - factor * b for a, b in zip(rows[r], rows[column], strict=True)]
    return {(a, b): rows[i][n + j] for i, a in enumerate(codes) for j, b in enumerate(codes)}


@st.composite
def blends(draw: DrawFn) -> dict[str, dict[str, int]]:
    """Make up powders: what each blend took of lots and of earlier blends, in kilograms."""
    codes = [f"LOT-{i}" for i in range(draw(st.integers(2, 4)))]
    taken: dict[str, dict[str, int]] = {}
    for i in range(draw(st.integers(1, 8))):
        some = draw(st.lists(st.sampled_from(codes), min_size=1, max_size=4, unique=True))
        taken[f"BLEND-{i}"] = {code: draw(st.integers(1, 9)) for code in some}
        codes.append(f"BLEND-{i}")
    return taken


def record_blends(taken: Mapping[str, Mapping[str, int]]) -> Works:
    """Receive enough of every lot, and record the blends."""
    works = Works()
    lots = sorted({code for parents in taken.values() for code in parents if "LOT" in code})
    for code in lots:
        works.powder(code, 1000)
    for code, parents in taken.items():
        # more may be taken from a blend than there was: shares do not ask for stock
        inputs = [{"item": parent, "quantity": kg} for parent, kg in parents.items()]
        works.blend(code, inputs, reported=True)
    return works


@settings(max_examples=25)
@given(blends())
def test_content_is_the_sum_over_all_paths(taken: dict[str, dict[str, int]]) -> None:
    works = record_blends(taken)
    weights = {
        (parent, child): Fraction(kg, sum(parents.values()))
        for child, parents in taken.items()
        for parent, kg in parents.items()
    }
    composition = sum_over_paths(weights)
    for lot in {parent for parent, _ in weights}:
        found = {code: row.content for code, row in works.used(lot).items()}
        wanted = {
            child: float(part)
            for (parent, child), part in composition.items()
            if parent == lot and child != lot and part
        }
        assert found == pytest.approx(wanted, abs=1e-12)


@settings(max_examples=25)
@given(blends())
def test_the_contents_of_all_lots_sum_to_one(taken: dict[str, dict[str, int]]) -> None:
    works = record_blends(taken)
    last = list(taken)[-1]
    origin = works.origin(last)
    lots = [row.content or 0.0 for code, row in origin.items() if code.startswith("LOT")]
    assert sum(lots) == pytest.approx(1.0, abs=1e-12)
