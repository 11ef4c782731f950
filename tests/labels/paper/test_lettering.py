"""Texts made to fit: nothing breaks, nothing is too wide, codes stay whole."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin_labels.paper.fonts import MISSING, Face, can_draw, width_mm
from lotkin_labels.paper.lettering import fit, shown, wrap, wrap_code
from tests.labels.sample_labels import HOSTILE_TEXTS, LONG_CODE

CODES = st.text(st.characters(min_codepoint=33, max_codepoint=126), min_size=1, max_size=80)


@pytest.mark.parametrize(
    "text",
    ["Zażółć gęślą jaźń", "Ελληνικά ονόματα", "Обточка детали", "Größe Ø 8 µm ± 0,02", "Çelik İş"],
)
def test_polish_greek_cyrillic_and_turkish_names_are_drawn(text: str) -> None:
    assert shown(text) == text
    assert shown(text, Face.BOLD) == text


@pytest.mark.parametrize("text", ["中文", "한글", "עברית", "عربي", "हिन्दी", "🏭", "a\x07b", "\x00"])
def test_what_cannot_be_drawn_right_becomes_a_visible_box(text: str) -> None:
    assert MISSING in shown(text)


def test_the_box_is_no_character_of_the_faces_so_that_they_draw_their_own() -> None:
    assert not can_draw(MISSING, Face.TEXT)
    assert width_mm(MISSING, Face.TEXT, 10) > 1


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("two\nlines\tand\u00a0blanks ", "two lines and blanks"),
        ("e\u0301 as one letter", "é as one letter"),
        ("\u202ehidden order\u202c", "hidden order"),
        ("zero\u200bwidth", "zerowidth"),
        ("", ""),
    ],
)
def test_a_text_is_made_one_clean_line(text: str, expected: str) -> None:
    assert shown(text) == expected


@given(st.text(max_size=200), st.floats(5, 80))
def test_a_text_that_was_fitted_is_no_wider_than_its_room(text: str, room_mm: float) -> None:
    assert width_mm(fit(text, Face.TEXT, 9, room_mm=room_mm), Face.TEXT, 9) <= room_mm + 1e-6


@given(st.text(max_size=300), st.floats(5, 80))
def test_wrapped_lines_fit_and_leave_out_nothing_but_spaces(text: str, room_mm: float) -> None:
    lines = wrap(text, Face.BOLD, 9, room_mm=room_mm)

    assert all(width_mm(line, Face.BOLD, 9) <= room_mm + 1e-6 for line in lines if len(line) > 1)
    assert "".join(lines).replace(" ", "") == shown(text, Face.BOLD).replace(" ", "")


@pytest.mark.parametrize("text", HOSTILE_TEXTS)
@pytest.mark.parametrize("most", [1, 2])
def test_hostile_texts_take_no_more_lines_than_allowed(text: str, most: int) -> None:
    assert len(wrap(text, Face.TEXT, 9, room_mm=30, most=most)) <= most


def test_words_are_kept_whole_where_they_fit() -> None:
    assert wrap("Dosing pump for glasshouses", Face.TEXT, 9, room_mm=22) == [
        "Dosing pump",
        "for",
        "glasshouses",
    ]


@given(CODES, st.floats(20, 180))
def test_a_code_is_never_shortened_and_always_fits(code: str, room_mm: float) -> None:
    set_code = wrap_code(code, room_mm=room_mm, largest_pt=20)

    assert "".join(set_code.lines) == code
    assert len(set_code.lines) <= 4
    assert all(
        width_mm(line, Face.CODE, set_code.size_pt) <= room_mm + 1e-6 for line in set_code.lines
    )


def test_a_code_is_broken_after_a_mark_where_there_is_one() -> None:
    assert wrap_code("BAR-2026-0017", room_mm=24, largest_pt=18).lines == (
        "BAR-2026-",
        "0017",
    )


def test_a_short_code_stays_on_one_line() -> None:
    assert wrap_code("T-0042-10", room_mm=40, largest_pt=18).lines == ("T-0042-10",)


def test_the_longest_code_is_legible_on_the_smallest_label() -> None:
    # Common practice, no source: 6 points is the least that is read without effort.
    assert wrap_code(LONG_CODE, room_mm=36, largest_pt=18).size_pt > 6


def test_a_zero_is_told_from_the_letter_o_by_a_stroke() -> None:
    # In a typeface of one width both are equally wide; the stroke is in the outline.
    assert width_mm("0", Face.CODE, 10) == width_mm("O", Face.CODE, 10)
    assert all(can_draw(chr(code), Face.CODE) for code in range(33, 127))
