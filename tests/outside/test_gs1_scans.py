"""GS1 element strings, against the verdicts of GS1's own Barcode Syntax Engine.

Source: `gs1_scan_vectors.json` beside this file: the engine built from gs1/gs1-syntax-engine
@50657db (GS1 AISBL, Apache-2.0) judged each string as read from a GS1 DataMatrix.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import TypedDict

import pytest

from lotkin.core.scan import (
    BareText,
    ElementString,
    Unreadable,
    bracketed,
    element_string,
    read_scan,
)
from lotkin.core.scan.characters import CHARSET_39, CHARSET_82


class Vector(TypedDict):
    name: str
    scan: str
    valid: bool
    ai: str | None
    error: str | None


TABLE = json.loads(Path(__file__).with_name("gs1_scan_vectors.json").read_text(encoding="utf-8"))
VECTORS: list[Vector] = TABLE["vectors"]

by_name = pytest.mark.parametrize("vector", VECTORS, ids=lambda vector: vector["name"])
GS1_BARCODES = ["]C1", "]d2", "]Q3", "]e0"]


def named(text: str) -> set[str]:
    """Name the identifiers in brackets."""
    return set(re.findall(r"\(([0-9]{2,4})\)", text))


@by_name
@pytest.mark.parametrize("identifier", GS1_BARCODES)
def test_the_verdict_is_that_of_gs1(vector: Vector, identifier: str) -> None:
    scan = read_scan(identifier + vector["scan"])

    if vector["valid"]:
        assert isinstance(scan, ElementString)
        assert bracketed(scan.elements) == vector["ai"]
        assert scan.warnings == ()
    else:
        assert isinstance(scan, Unreadable)
        assert scan.form == "GS1 element string"


@by_name
def test_the_reason_names_the_same_identifiers(vector: Vector) -> None:
    scan = read_scan("]d2" + vector["scan"])

    if vector["error"] is not None:
        assert isinstance(scan, Unreadable)
        assert named(scan.why) == named(vector["error"])


@by_name
def test_what_is_valid_can_be_written_and_read_again(vector: Vector) -> None:
    scan = read_scan("]d2" + vector["scan"])

    if isinstance(scan, ElementString):
        again = read_scan("]d2" + element_string(scan.elements))
        assert isinstance(again, ElementString)
        assert again.elements == scan.elements
        printed = read_scan(bracketed(scan.elements))
        assert isinstance(printed, ElementString)
        assert printed.elements == scan.elements


@by_name
def test_without_a_word_of_the_scanner_nothing_invalid_is_taken_for_gs1_data(
    vector: Vector,
) -> None:
    scan = read_scan(vector["scan"])

    if not vector["valid"]:
        assert isinstance(scan, BareText | Unreadable)
    elif isinstance(scan, ElementString):
        assert bracketed(scan.elements) == vector["ai"]
    else:
        # nothing in it has a check digit: it may as well be anybody's number
        assert vector["name"] == "order no 400"


def test_the_character_sets_are_those_of_gs1() -> None:
    assert TABLE["meta"]["charset82"] == CHARSET_82
    assert TABLE["meta"]["charset39"] == CHARSET_39
