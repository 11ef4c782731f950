"""The checks of single values, with examples of what each refuses."""

from __future__ import annotations

import pytest

from lotkin.core.plan.countries import COUNTRIES
from lotkin.core.scan.gs1.ai_table import application_identifiers
from lotkin.core.scan.gs1.components import parse_spec, value_problem
from lotkin.core.scan.gs1.country_numbers import COUNTRY_NUMBERS
from lotkin.core.scan.gs1.value_checks import VALUE_CHECKS

# Values that GS1's own linters take and refuse; source: the unit vectors of
# gs1/gs1-syntax-engine (GS1 AISBL, Apache-2.0), reread; IBAN: the IBAN registry's example.
TAKEN = {
    "csum": "09521234543213", "csumalpha": "1987654Ad4X4bL5ttr2310c2K", "gcppos1": "9521A",
    "gcppos2": "39521", "hasnondigit": "1A", "hh": "23", "hhmi": "2359", "hyphen": "-",
    "iban": "GB82WEST12345698765432", "importeridx": "_", "iso3166": "276", "iso3166999": "999",
    "iso3166alpha2": "CH", "iso5218": "9", "latitude": "1800000000", "longitude": "3600000000",
    "mi": "59", "nonzero": "0010", "nozeroprefix": "10", "pcenc": "A%20B", "pieceoftotal": "0203",
    "posinseqslash": "9/10", "ss": "59", "winding": "9", "yesno": "1", "yymmd0": "240200",
    "yymmdd": "240229", "yyyymmdd": "20240229", "zero": "0",
}  # fmt: skip
REFUSED = {
    "csum": "09521234543214", "csumalpha": "1987654Ad4X4bL5ttr2310c2X", "gcppos1": "952A",
    "gcppos2": "3952", "hasnondigit": "11", "hh": "24", "hhmi": "2360", "hyphen": "X",
    "iban": "GB83WEST12345698765432", "importeridx": "=", "iso3166": "999", "iso3166999": "987",
    "iso3166alpha2": "AA", "iso5218": "3", "latitude": "1800000001", "longitude": "3600000001",
    "mi": "60", "nonzero": "0000", "nozeroprefix": "0", "pcenc": "A%0g", "pieceoftotal": "0302",
    "posinseqslash": "10/9", "ss": "60", "winding": "2", "yesno": "2", "yymmd0": "240230",
    "yymmdd": "240200", "yyyymmdd": "20230229", "zero": "1",
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(VALUE_CHECKS))
def test_each_check_takes_what_is_right_and_refuses_what_is_wrong(name: str) -> None:
    assert VALUE_CHECKS[name](TAKEN[name]) == ""
    assert VALUE_CHECKS[name](REFUSED[name])


@pytest.mark.parametrize(
    ("name", "value"),
    [("pieceoftotal", "0001"), ("posinseqslash", "0/1"), ("posinseqslash", "1/"), ("iban", "GB82"),
     ("iban", "AA82WEST12345698765432"), ("gcppos1", "952"), ("csumalpha", "2"),
     ("csumalpha", " 2345678901234567890123NT"), ("csum", "1A")],
)  # fmt: skip
def test_other_ways_to_be_wrong_are_refused_too(name: str, value: str) -> None:
    assert VALUE_CHECKS[name](value)


def test_every_check_is_used_by_some_identifier() -> None:
    used = {
        check
        for entry in application_identifiers().values()
        for component in entry.components
        for check in component.checks
    }

    assert used == set(VALUE_CHECKS)


def test_there_are_as_many_country_numbers_as_countries() -> None:
    """Source: ISO 3166-1 has 249 entries, each with two letters and with a number."""
    assert len(COUNTRY_NUMBERS) == len(COUNTRIES) == 249
    assert all(len(number) == 3 for number in COUNTRY_NUMBERS)


@pytest.mark.parametrize(
    ("value", "problem"),
    [("", "is empty"), ("9521234543213", ""), ("9521234543213A-1", ""),
     ("95212345432", "is too short"), ("9521234543213" + "A" * 18, "is too long"),
     ("9521234543213Ä", "has a character outside of GS1 character set 82")],
)  # fmt: skip
def test_a_component_may_be_left_out_only_at_the_end(value: str, problem: str) -> None:
    assert value_problem(parse_spec("N13,csum,gcppos1 [X..17]"), value) == problem


def test_what_is_no_component_is_not_taken_for_one() -> None:
    with pytest.raises(ValueError, match="no component"):
        parse_spec("Q13")
