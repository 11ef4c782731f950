"""GS1 Digital Links, against the verdicts of GS1's own Barcode Syntax Engine.

Source: `gs1_digital_link.json` beside this file: examples of the GS1 Digital Link standard and
further addresses, judged and built by gs1/gs1-syntax-engine @50657db (GS1 AISBL, Apache-2.0).
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TypedDict

import pytest

from lotkin.core.scan import (
    BareText,
    DigitalLink,
    ElementString,
    Unreadable,
    bracketed,
    digital_link,
    element_string,
    read_scan,
)


class Built(TypedDict):
    bracketed: str
    ok: bool
    element_string: str
    digital_link_canonical: str
    digital_link_custom_domain: str


class Parsed(TypedDict):
    uri: str
    ok: bool
    ai: str | None
    err: str


TABLE = json.loads(Path(__file__).with_name("gs1_digital_link.json").read_text(encoding="utf-8"))
BUILT: list[Built] = TABLE["bracketed"]
PARSED: list[Parsed] = TABLE["uris"]

by_text = pytest.mark.parametrize("case", BUILT, ids=lambda case: case["bracketed"])
by_uri = pytest.mark.parametrize("case", PARSED, ids=lambda case: case["uri"])


@by_text
def test_links_are_built_as_by_gs1(case: Built) -> None:
    scan = read_scan(case["bracketed"])

    assert case["ok"]
    assert isinstance(scan, ElementString)
    assert element_string(scan.elements) == case["element_string"]
    assert digital_link(scan.elements) == case["digital_link_canonical"]
    with_path = digital_link(scan.elements, "https://example.com/p")
    assert with_path == case["digital_link_custom_domain"]


@by_text
def test_a_built_link_holds_what_was_put_in(case: Built) -> None:
    for field in ("digital_link_canonical", "digital_link_custom_domain"):
        scan = read_scan(case[field])
        assert isinstance(scan, DigitalLink)
        printed = read_scan(case["bracketed"])
        assert isinstance(printed, ElementString)
        assert set(scan.elements) == set(printed.elements)


@by_uri
def test_links_are_read_as_by_gs1(case: Parsed) -> None:
    scan = read_scan(case["uri"])

    if case["ok"]:
        assert isinstance(scan, DigitalLink)
        assert bracketed(scan.elements) == case["ai"]
        assert scan.warnings == ()
    elif case["err"] == "No GS1 DL keys found in path info":
        assert isinstance(scan, BareText)
        assert scan.warnings
    else:
        assert isinstance(scan, Unreadable)
        assert scan.form == "GS1 Digital Link"


@by_uri
@pytest.mark.parametrize("identifier", ["]Q1", "]d1"])
def test_a_link_reads_alike_from_a_qr_code_and_a_datamatrix(case: Parsed, identifier: str) -> None:
    assert type(read_scan(identifier + case["uri"])) is type(read_scan(case["uri"]))


@by_uri
def test_scheme_and_host_may_be_in_capitals(case: Parsed) -> None:
    """Capitals make the smaller QR code; source: GS1 Digital Link standard, RFC 3986 3.1, 3.2.2."""
    scheme, _, rest = case["uri"].partition("://")
    host, slash, path = rest.partition("/")
    capitals = read_scan(f"{scheme.upper()}://{host.upper()}{slash}{path}")

    assert isinstance(capitals, DigitalLink) is case["ok"]
    if isinstance(capitals, DigitalLink):
        assert bracketed(capitals.elements) == case["ai"]
        assert capitals.stem.isupper()
