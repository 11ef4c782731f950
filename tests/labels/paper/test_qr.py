"""QR codes: the smallest version, the characters allowed, and what readers make of them."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from lotkin_labels.errors import CodeTooLong, UnprintableCode
from lotkin_labels.paper.qr import ALPHANUMERIC, QrCode, encode, is_alphanumeric

# ISO/IEC 18004, table 7; see tests/outside/README.md.
CAPACITY = Path(__file__).parents[2] / "outside" / "qr_capacity.csv"


def rows_of_level_q() -> list[tuple[int, int, int, int]]:
    """Give (version, modules, alphanumeric characters, bytes) of all 40 versions."""
    with CAPACITY.open(encoding="utf-8", newline="") as file:
        return [
            (int(row["version"]), int(row["modules"]), int(row["alphanumeric"]), int(row["byte"]))
            for row in csv.DictReader(file)
            if row["ec_level"] == "Q"
        ]


def read(code: QrCode) -> str:
    """Read a code back from a picture with four pixels to a module."""
    image = Image.new("L", (code.modules, code.modules), 255)
    for column, row, length in code.dark_runs():
        for at in range(column, column + length):
            image.putpixel((at, row), 0)
    framed = Image.new("L", (code.modules + 8, code.modules + 8), 255)
    framed.paste(image, (4, 4))
    found = zxingcpp.read_barcode(framed.resize((framed.width * 4, framed.height * 4)))
    assert found is not None
    return found.bytes.decode("utf-8")


def test_the_table_has_all_forty_versions() -> None:
    assert [row[0] for row in rows_of_level_q()] == list(range(1, 41))


@pytest.mark.parametrize(("version", "modules", "characters", "_bytes"), rows_of_level_q())
def test_the_smallest_version_is_taken_for_alphanumeric_payloads(
    version: int, modules: int, characters: int, _bytes: int
) -> None:
    code = encode("A" * characters)

    assert (code.version, code.modules) == (version, modules)


@pytest.mark.parametrize(("version", "_modules", "characters", "octets"), rows_of_level_q()[:12])
def test_one_character_more_needs_the_next_version(
    version: int, _modules: int, characters: int, octets: int
) -> None:
    assert encode("A" * (characters + 1)).version == version + 1
    assert encode("a" * octets, allow_bytes=True).version == version
    assert encode("a" * (octets + 1), allow_bytes=True).version == version + 1


def test_what_no_version_holds_is_refused() -> None:
    with pytest.raises(CodeTooLong, match="2421 characters"):
        encode("A" * 2421)


@pytest.mark.parametrize(
    ("payload", "culprits"),
    [("t-42", "t"), ("A_B", "_"), ("A\nB", "\\n"), ("ÄÖ", "ÄÖ"), ("A#1!", "!#")],
)
def test_characters_beyond_the_small_form_are_refused_and_named(
    payload: str, culprits: str
) -> None:
    with pytest.raises(UnprintableCode) as caught:
        encode(payload)

    assert culprits in caught.value.message
    assert caught.value.record == payload


def test_an_empty_payload_is_refused_even_with_bytes() -> None:
    with pytest.raises(UnprintableCode, match="empty"):
        encode("", allow_bytes=True)


def test_a_lower_case_address_is_larger_than_one_in_capitals() -> None:
    # checks/README, section 9: a lower-case URL forces the byte form.
    address = "https://trace.example/shop/i/n6xv-dqzk"

    assert encode(address, allow_bytes=True).version > encode(address.upper()).version


def test_bytes_are_only_used_where_they_are_needed() -> None:
    assert encode("T-0042-10", allow_bytes=True) == encode("T-0042-10")


def test_the_alphanumeric_set_has_45_characters() -> None:
    # ISO/IEC 18004, table 5: 0-9, A-Z, space and $%*+-./:
    assert len(ALPHANUMERIC) == len(set(ALPHANUMERIC)) == 45
    assert not is_alphanumeric("")


def test_dark_runs_are_exactly_the_dark_modules() -> None:
    code = encode("RUNS-1")
    covered = {
        (at, row)
        for column, row, length in code.dark_runs()
        for at in range(column, column + length)
    }

    assert covered == {
        (column, row)
        for row, modules in enumerate(code.rows)
        for column, is_dark in enumerate(modules)
        if is_dark
    }


@settings(max_examples=60)
@given(st.text(ALPHANUMERIC, min_size=1, max_size=120))
def test_every_alphanumeric_payload_is_read_back(payload: str) -> None:
    assert read(encode(payload)) == payload


@settings(max_examples=60)
@given(st.text(st.characters(min_codepoint=33, max_codepoint=0x2FFF), min_size=1, max_size=60))
def test_every_text_is_read_back_from_the_byte_form(payload: str) -> None:
    assert read(encode(payload, allow_bytes=True)) == payload
