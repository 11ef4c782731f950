"""Finding a grade by its names."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.materials import find_grade, grades, grades_in, plain_name


@pytest.mark.parametrize(
    ("text", "grade"),
    [
        ("EN AW-6082", "EN AW-6082"),
        ("en aw 6082", "EN AW-6082"),
        ("AlSi1MgMn", "EN AW-6082"),
        ("EN AW-6082 T6", "EN AW-6082"),
        ("3.2315", "EN AW-6082"),
        ("6082", "EN AW-6082"),
        ("11SMnPb30 +C", "11SMnPb30"),
        ("1.0718 / 11SMnPb30", "11SMnPb30"),
        ("CuZn39Pb3 (CW614N)", "CW614N"),
        ("X8 CrNiS 18-9", "1.4305"),
        ("PA12", "PA12"),
        ("PA12 GF", "PA12-GF"),
    ],
)
def test_a_grade_is_found_by_any_of_its_names(text: str, grade: str) -> None:
    found = find_grade(text)
    assert found is not None
    assert found.id == grade


@pytest.mark.parametrize("text", ["", "steel", "1.0715 or 1.0718", "11SMn", "60820", "1 0718"])
def test_what_names_no_grade_or_two_finds_none(text: str) -> None:
    assert find_grade(text) is None


def test_a_number_in_a_text_is_not_taken_for_a_grade() -> None:
    assert grades_in("delivery note 6082, 12 bars") == []


def test_each_grade_of_a_text_is_listed_once_in_order() -> None:
    text = "1.0718 11SMnPb30, as 1.0715 but for lead (11SMn30)"
    assert [grade.id for grade in grades_in(text)] == ["11SMnPb30", "11SMn30"]


def test_no_two_grades_share_a_name() -> None:
    names = [plain_name(name) for grade in grades() for name in grade.all_names]
    assert len(names) == len(set(names))


@given(st.text(max_size=300))
def test_any_text_can_be_looked_through(text: str) -> None:
    assert all(grade in grades() for grade in grades_in(text))
