"""Words of a page put into lines."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.certificates import Word, group_lines, lines_of_text


def test_words_beside_each_other_are_a_line_from_left_to_right() -> None:
    placed = [
        (Word("below", 0, 20), 80.0, 90.0),
        (Word("right", 50, 70), 101.0, 111.0),
        (Word("left", 0, 20), 100.0, 110.0),
    ]
    assert [line.text for line in group_lines(placed, 1)] == ["left right", "below"]


def test_raised_and_lowered_signs_stay_in_their_line() -> None:
    placed = [
        (Word("R", 0, 8), 100.0, 112.0),
        (Word("m", 8, 12), 97.0, 104.0),
        (Word("N/mm", 20, 40), 100.0, 112.0),
        (Word("2", 40, 44), 107.0, 114.0),
        (Word("next", 0, 20), 86.0, 98.0),
    ]
    assert [line.text for line in group_lines(placed, 1)] == ["R m N/mm 2", "next"]


def test_a_text_is_read_with_its_columns() -> None:
    (line,) = lines_of_text("\n  ab   c\n")
    assert [(word.text, word.left, word.right) for word in line.words] == [
        ("ab", 2, 4),
        ("c", 7, 8),
    ]


EDGE = st.floats(-1e6, 1e6, allow_nan=False)


@given(
    st.lists(st.tuples(st.builds(Word, st.text(min_size=1, max_size=3), EDGE, EDGE), EDGE, EDGE))
)
def test_no_word_is_lost_or_made(placed: list[tuple[Word, float, float]]) -> None:
    lines = group_lines(placed, 1)
    assert sorted(w.text for line in lines for w in line.words) == sorted(
        w.text for w, *_ in placed
    )
