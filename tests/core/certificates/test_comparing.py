"""Whether the papers that came are those of the delivery."""

from __future__ import annotations

from decimal import Decimal
from textwrap import dedent
from typing import Any

import pytest

from lotkin.core.certificates import (
    CertificateReading,
    Stated,
    compare_papers,
    lines_of_text,
    read_certificate,
)
from lotkin.core.materials import Severity, find_grade

PAPER = """\
    Inspection certificate 3.1 EN 10204
    Heat 48213  Grade 1.0718  round 8 mm
    C     Mn    S     Pb
    0.08  1.05  0.29  0.27
    Rm    A
    560   9
"""


def read(text: str) -> CertificateReading:
    return read_certificate(lines_of_text(dedent(text)))


def stated(**more: Any) -> Stated:
    fields = {
        "record": "BAR",
        "heat": "48213",
        "grade": find_grade("11SMnPb30"),
        "wanted": "3.1",
        "certificate": "3.1",
        "composition": {"C": Decimal("0.08")},
        "mechanical": {"Rm": (Decimal(560),)},
    }
    return Stated(**{**fields, **more})


def compared(*texts: str | None, **more: Any) -> list[tuple[str, Severity]]:
    papers = {f"c{n}": None if text is None else read(text) for n, text in enumerate(texts)}
    found = compare_papers(papers, stated(**more))
    return [(finding.rule, finding.severity) for finding in found]


def without(word: str, by: str = "") -> str:
    assert word in PAPER
    return PAPER.replace(word, by)


def test_papers_that_say_what_is_said_raise_nothing() -> None:
    assert compared(PAPER) == []
    assert compared() == []
    assert compared(None) == []


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (without("48213", "48214"), [("heat-not-named", Severity.HOLD)]),
        (without("1.0718", "1.0715"), [("grade", Severity.HOLD)]),
        (without("Grade 1.0718"), [("grade-not-named", Severity.WARNING)]),
        (without("certificate 3.1", "certificate 2.2"), [("certificate-type-read", Severity.HOLD)]),
        (
            without("certificate 3.1", "certificate 3.2"),
            [("certificate-type-read", Severity.WARNING)],
        ),
        (without("0.08", "0.09"), [("value-read", Severity.HOLD)]),
        (without("560", "561"), [("value-read", Severity.HOLD)]),
        (without("0.27", "0.37"), [("composition-limit", Severity.HOLD)]),
        (without("9\n", "5\n"), [("strength-limit", Severity.HOLD)]),
    ],
)
def test_papers_that_say_otherwise_are_told(text: str, found: list[tuple[str, Severity]]) -> None:
    assert compared(text) == found


def test_what_one_paper_names_the_others_need_not() -> None:
    assert compared("Delivery note 7", PAPER) == []


def test_beside_a_picture_what_is_not_named_is_only_asked_about() -> None:
    other = without("48213", "48214")
    assert compared(other, None) == [("heat-not-named", Severity.WARNING)]
    assert compared(without("Grade 1.0718"), None) == []


def test_another_diameter_is_asked_about() -> None:
    assert compared(PAPER, diameter_mm=Decimal("8.00")) == []
    assert compared(PAPER, diameter_mm=Decimal(9)) == [("diameter-read", Severity.WARNING)]


def test_values_that_nobody_confirmed_are_noted() -> None:
    assert compared(PAPER, composition={}, mechanical={}) == [("not-confirmed", Severity.NOTE)]


def test_without_a_grade_in_the_plan_values_are_not_judged() -> None:
    assert compared(without("0.27", "9.9"), grade=None) == []
