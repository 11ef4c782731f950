"""Labels made up for tests: elements that may stand together, messages that are sound."""

from __future__ import annotations

from hypothesis import strategies as st

from lotkin.core.scan import Element, Field, check_digit
from lotkin.core.scan.characters import CHARSET_82

DEMO_PREFIX = "952"
"""Kept by GS1 for demonstrations."""


def keyed(body: str) -> str:
    return body + str(check_digit(body))


def digits(count: int) -> st.SearchStrategy[str]:
    return st.text("0123456789", min_size=count, max_size=count)


def free(longest: int) -> st.SearchStrategy[str]:
    return st.text(CHARSET_82, min_size=1, max_size=longest)


DAYS = st.dates().map(lambda day: f"{day.year % 100:02}{day.month:02}{min(day.day, 28):02}")
GTINS = digits(9).map(lambda tail: keyed(f"0{DEMO_PREFIX}{tail}"))

WITH_ITEM = {
    "10": free(20),
    "11": DAYS,
    "17": DAYS,
    "21": free(20),
    "241": free(30),
    "251": free(30),
    "30": st.integers(1, 99_999_999).map(str),
    "3103": digits(6),
    "400": free(30),
    "8005": digits(6),
    "8008": DAYS.map(lambda day: f"{day}0715"),
    "91": free(90),
}

ELEMENTS = st.builds(
    lambda gtin, more, order: list(order.sample([Element("01", gtin), *more], k=len(more) + 1)),
    GTINS,
    st.fixed_dictionaries({}, optional=WITH_ITEM).map(
        lambda values: [Element(ai, value) for ai, value in values.items()]
    ),
    st.randoms(use_true_random=False),
)
"""An item and what may be said of it, in any order."""

VALUES = st.text(st.characters(min_codepoint=32, max_codepoint=126), max_size=20).filter(
    lambda value: "[)>" not in value
)
FIELDS = st.lists(
    st.builds(Field, st.from_regex(r"[0-9]{0,3}[A-Z]", fullmatch=True), VALUES),
    min_size=1,
    max_size=8,
)


def message(fields: list[Field], *, start: str = "[)>\x1e", end: str = "\x1e\x04") -> str:
    """Write a message in format 06."""
    return start + "06" + "".join(f"\x1d{each.di}{each.value}" for each in fields) + end


ANY_TEXT = st.text(st.characters(exclude_categories=[]), max_size=60)
PIECES = st.lists(
    st.sampled_from(
        ["]d2", "]Q1", "[)>", "\x1e", "\x1d", "\x04", "06", "05", "1T", "S", "␝", "␞", "␄", "(01)",
         "(10)", "01", "00", "10", "21", "9521234543213", "09521234543213", "https://", "HTTPS://",
         "a.example", "/", "/I/", "/01/", "?", "=", "&", "#", "%", "%2F", "%ff", "%00", "\\(", "(",
         ")", "A", "é", "\ud800", " ", "\r\n", "N6XV-DQZK", "-", ".", "8003", "8013", "310", "٣"]
    ),
    max_size=12,
).map("".join)  # fmt: skip
"""Texts put together of what labels are made of."""
