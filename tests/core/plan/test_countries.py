"""Country codes against the table of the tz database.

Source: `iso3166_alpha2.txt` beside this file, taken from the tz database (public domain).
"""

from __future__ import annotations

from pathlib import Path

from lotkin.core.plan.countries import COUNTRIES
from tests.core.plan.small_shop import changed, line_in, only

PUBLISHED = [
    code
    for line in Path(__file__).with_name("iso3166_alpha2.txt").read_text("utf-8").splitlines()
    if not line.startswith("#")
    for code in line.split()
]


def test_the_countries_are_those_published() -> None:
    assert sorted(COUNTRIES) == sorted(PUBLISHED)
    assert len(PUBLISHED) == 249


def test_a_country_that_does_not_exist_is_refused() -> None:
    text = changed('country = "CH"', 'country = "UK"')
    line = line_in(text, 'country = "UK"')
    assert only(text) == (
        f'line {line}: customer CLINIC: country "UK" must be a country of ISO 3166 '
        "in two letters, like CH"
    )
