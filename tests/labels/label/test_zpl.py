"""Labels as ZPL: the same content, and no text can become a command."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin_labels import ItemLabel, Stock, stocks, write_zpl
from lotkin_labels.errors import NothingToPrint, UnknownStock
from lotkin_labels.label.wide_layout import lay_out_label
from lotkin_labels.paper.fonts import MISSING, Face
from lotkin_labels.paper.lettering import shown
from lotkin_labels.paper.marks import Symbol, Words
from tests.labels.sample_labels import HOSTILE_TEXTS, every_label, full_item_label

FIELD = re.compile(r"\^FH_\^FD(.*?)\^FS", re.DOTALL)
COMMANDS = {"XA", "XZ", "CI", "PW", "LL", "LH", "FT", "FO", "A0", "FH", "FD", "FS", "BQ", "GB"}


def fields(zpl: str) -> list[str]:
    """Give the texts that a printer would print, its escapes resolved as the guide says."""
    return [
        re.sub(
            rb"_([0-9A-F]{2})", lambda found: bytes([int(found[1], 16)]), field.encode("ascii")
        ).decode("utf-8")
        for field in FIELD.findall(zpl)
    ]


@pytest.mark.parametrize(
    "stock", [stock for stock in stocks() if stock.dots_per_inch], ids=lambda stock: stock.code
)
def test_a_printer_gets_the_words_of_the_label_and_its_payload(stock: Stock) -> None:
    for label in every_label():
        page = lay_out_label(label.face(), stock)
        expected = [
            f"QA,{mark.code.payload}" if isinstance(mark, Symbol) else mark.text
            for mark in page.marks
            if isinstance(mark, Symbol | Words)
        ]

        assert fields(write_zpl([label], stock)) == expected


def test_the_size_and_the_codes_are_in_dots() -> None:
    zpl = write_zpl([ItemLabel(code="T-0042-10")], "THERMAL-102")

    # checks/README, section 9: 4 x 6 in at 203 dpi are 812 x 1218 dots.
    assert zpl.startswith("^XA\n^CI28\n^PW812\n^LL1218\n")
    assert "^BQN,2,10^FH_^FDQA,T-0042-10^FS" in zpl
    assert zpl.endswith("^XZ\n")


def test_each_label_is_a_format_of_its_own() -> None:
    zpl = write_zpl([ItemLabel(code=f"L{n}") for n in range(3)], "TAPE-62")

    assert zpl.count("^XA") == zpl.count("^XZ") == 3
    assert [text for text in fields(zpl) if text.startswith("QA,")] == ["QA,L0", "QA,L1", "QA,L2"]


def test_a_printer_of_finer_dots_gets_the_same_size_in_more_of_them() -> None:
    coarse = write_zpl([full_item_label()], "THERMAL-102")
    fine = write_zpl([full_item_label()], "THERMAL-102", dots_per_inch=300)

    assert "^PW1200\n^LL1800\n" in fine
    assert fields(fine) == fields(coarse)


@pytest.mark.parametrize("text", HOSTILE_TEXTS, ids=range(len(HOSTILE_TEXTS)))
def test_hostile_texts_are_no_commands(text: str) -> None:
    zpl = write_zpl([ItemLabel(code="T-1", name=text, quantity=text, cautions=(text,))], "TAPE-62")

    assert zpl.isascii()
    assert {command[:2] for command in zpl.replace("\n", "").split("^")[1:]} <= COMMANDS
    assert "~" not in zpl


@given(st.text(st.characters(min_codepoint=32), max_size=18))
def test_any_name_that_can_be_drawn_comes_out_as_it_is(name: str) -> None:
    texts = fields(write_zpl([ItemLabel(code="T-1", name=name)], "THERMAL-102"))

    expected = shown(name, Face.BOLD).replace(MISSING, "?")
    if expected:
        assert "".join(texts).replace(" ", "").count(expected.replace(" ", "")) >= 1


def test_letters_beyond_ascii_are_sent_as_utf8() -> None:
    assert "_C5_82" in write_zpl([ItemLabel(code="T-1", name="łożysko")], "TAPE-62")


def test_underscore_caret_and_tilde_of_a_payload_are_escaped() -> None:
    label = ItemLabel(code="T-1", payload="a_b^c~d", allow_bytes=True)

    assert "^FDQA,a_5Fb_5Ec_7Ed^FS" in write_zpl([label], "TAPE-62")


def test_nothing_is_no_format() -> None:
    with pytest.raises(NothingToPrint):
        write_zpl([], "TAPE-62")
    with pytest.raises(UnknownStock):
        write_zpl([ItemLabel(code="Q")], "TAPE-63")
