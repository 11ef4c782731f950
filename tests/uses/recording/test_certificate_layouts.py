"""Layouts of certificates that are hard to read: nothing silently wrong, nothing silently free.

The layouts are common practice of mills, no source; all names and numbers are invented.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from tests.certificate_pdfs import lying_pdf, tables_pdf
from tests.goods_in import GOODS_PLAN, GoodsIn, bars

PLAN = (
    GOODS_PLAN
    + """
[[part]]
code = "BRASS-8"
name = "Brass bar 8 mm"
revision = "1"
kind = "bar-lot"
unit = "m"
material = "CW614N"
certificate = "3.1"
"""
)
HEAD = ("Inspection certificate 3.1 EN 10204", "Material CW614N", "Heat No. B48213", "Round 8 mm")
BRASS = {"Cu": "58.1", "Pb": "3.1", "Al": "0.01", "Fe": "0.2", "Ni": "0.1", "Sn": "0.2"}
LOW = {"Cu": "57.0", "Pb": "2.5", "Al": "-", "Fe": "-", "Ni": "-", "Sn": "-"}
HIGH = {"Cu": "59.0", "Pb": "3.5", "Al": "0.05", "Fe": "0.3", "Ni": "0.3", "Sn": "0.3"}
TOO_MUCH_LEAD = {**BRASS, "Pb": "3.91"}


def row(label: str, values: dict[str, str]) -> list[str]:
    return [label, *values.values()]


MIN_MAX_ACTUAL = tables_pdf(
    HEAD,
    [
        row("", dict(zip(BRASS, BRASS, strict=True))),
        row("min", LOW),
        row("max", HIGH),
        row("actual", BRASS),
    ],
)
TWO_HEATS = tables_pdf(
    [*HEAD[:2], "Heat No. B48213, B48214"],
    [row("", dict(zip(BRASS, BRASS, strict=True))), row("1", BRASS), row("2", TOO_MUCH_LEAD)],
)
SYMBOLS_AT_THE_END = tables_pdf(
    ["Certificato di collaudo 3.1 EN 10204", "Lega CW614N", "Colata B48213"],
    [
        ["[N/mm2] Rm", "[N/mm2] Rp0,2", "[%] A", "HBW"],
        ["451", "288", "16", "128"],
    ],
    widths=110,
)
SHIFTED_BY_A_COLUMN = tables_pdf(
    ["Certificato di collaudo 3.1 EN 10204", "Lega CW614N", "Colata B48213"],
    [["", "", "Rm", "Rp0,2", "A"], ["451", "288", "16", "128", ""]],
    widths=[40, 40, 40, 40, 40],
)
THREE_POSITIONS = tables_pdf(
    [*HEAD[:2], "Pos. 1 to 3"],
    [
        ["Pos.", "Rm", "Rp0.2", "A"],
        ["1", "468", "310", "18"],
        ["2", "431", "280", "20"],
        ["3", "272", "250", "12"],
    ],
)
REMAINDER = tables_pdf(
    HEAD,
    [
        ["", "Cu", "Zn", "Pb", "Al", "Fe", "Ni", "Sn"],
        ["B48213", "58.1", "R", "3.1", "0.01", "0.2", "0.1", "0.2"],
    ],
)
LIMITS_WITHOUT_LABELS = tables_pdf(
    HEAD,
    [
        row("", dict(zip(BRASS, BRASS, strict=True))),
        row("", LOW),
        row("", HIGH),
        row("", TOO_MUCH_LEAD),
    ],
    [["Rm", "Rp0.2", "A"], ["360", "150", "10"], ["580", "420", "60"], ["451", "288", "16"]],
)
LYING = lying_pdf(
    90,
    [*HEAD, "Cu     Pb     Al     Fe     Ni     Sn", "58.1   3.1    0.01   0.2    0.1    0.2"],
)


@pytest.fixture
def goods() -> GoodsIn:
    return GoodsIn(plan=PLAN)


def read(goods: GoodsIn, pdf: bytes) -> tuple[dict[str, str], dict[str, list[str]]]:
    """Give what is read of heat B48213."""
    (paper,) = goods.papers(pdf)
    assert paper.reading is not None
    composition = paper.reading.composition_of("B48213")
    results = paper.reading.results_of("B48213")
    return (
        {element: str(value) for element, value in composition.items()},
        {symbol: [str(value) for value in values] for symbol, values in results.items()},
    )


def held(goods: GoodsIn, pdf: bytes, **more: Any) -> str:
    said = {"part": "BRASS-8", "heat": "B48213", "compared_by": "", **more}
    got = goods.take(papers=goods.papers(pdf), **said)
    return str(goods.hold(str(got.event["code"])))


HARD: dict[str, tuple[bytes, dict[str, str], dict[str, list[str]] | None]] = {
    "min, max and actual": (MIN_MAX_ACTUAL, BRASS, {}),
    "two heats, rows by number": (TWO_HEATS, {}, {}),
    "symbols at the end of their cells": (SYMBOLS_AT_THE_END, {}, None),
    "a column shifted": (SHIFTED_BY_A_COLUMN, {}, {}),
    "three positions, one of another alloy": (THREE_POSITIONS, {}, {}),
    "R for the remainder": (REMAINDER, BRASS, {}),
    "limits in rows without labels": (LIMITS_WITHOUT_LABELS, {}, {}),
    "a page that lies on its side": (LYING, BRASS, {}),
}
RIGHT = {"Rm": ["451"], "Rp0.2": ["288"], "A": ["16"], "HBW": ["128"]}


@pytest.mark.parametrize(("pdf", "composition", "results"), HARD.values(), ids=HARD)
def test_what_cannot_be_read_surely_is_not_read(
    goods: GoodsIn, pdf: bytes, composition: dict[str, str], results: dict[str, list[str]] | None
) -> None:
    found, tests = read(goods, pdf)
    assert found in ({}, composition)
    assert tests in ({}, RIGHT) if results is None else tests == results


@pytest.mark.parametrize("pdf", [pdf for pdf, *_ in HARD.values()], ids=HARD)
def test_none_of_them_frees_a_delivery_by_itself(goods: GoodsIn, pdf: bytes) -> None:
    assert "nobody has compared composition on its certificate with CW614N" in held(goods, pdf)


def test_the_commonest_layouts_are_read(goods: GoodsIn) -> None:
    for pdf in (MIN_MAX_ACTUAL, REMAINDER, LYING):
        assert read(goods, pdf)[0] == BRASS


def test_lead_over_its_limit_holds_however_it_is_confirmed(goods: GoodsIn) -> None:
    values = {element: Decimal(value) for element, value in TOO_MUCH_LEAD.items()}
    why = held(goods, LIMITS_WITHOUT_LABELS, composition=values, compared_by="ANN")
    assert "Pb 3.91 % is outside of CW614N: 2.5 to 3.5 %" in why


@pytest.mark.parametrize("degrees", [0, 90, 180, 270])
def test_text_that_lies_on_its_side_says_nothing_else_than_upright(
    goods: GoodsIn, degrees: int
) -> None:
    lines = ["Heat No. B48213", "Rm      Rp0.2   A", "451     288     16"]
    assert read(goods, lying_pdf(degrees, lines))[1] == {
        "Rm": ["451"],
        "Rp0.2": ["288"],
        "A": ["16"],
    }


def test_an_elongation_of_nothing_is_no_result(goods: GoodsIn) -> None:
    assert read(goods, lying_pdf(0, ["Heat No. B48213", "A 0"]))[1] == {}


def test_a_diameter_of_20_mm_is_written_as_such(goods: GoodsIn) -> None:
    (paper,) = goods.papers(tables_pdf(["Heat No. B48213", "Round bar Ø 20.00 mm x 3000 mm"]))
    assert paper.reading is not None
    assert paper.reading.diameter_mm is not None
    assert paper.reading.diameter_mm.value == "20"
    proposal = goods.propose(bars=bars(diameter_mm=20, count=10, length_mm=3000, mass_kg=20))
    assert not [finding for finding in proposal.findings if "E+" in finding.message]
