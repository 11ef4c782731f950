"""Time zones: IANA names only, and no way out of the database's folder."""

from __future__ import annotations

import pytest

from lotkin.core.plan.zones import is_timezone, known_timezones
from tests.core.plan.small_shop import changed, only


# Source: IANA time zone database, names of long standing.
@pytest.mark.parametrize(
    "name", ["Europe/Zurich", "America/Argentina/Buenos_Aires", "UTC", "Etc/GMT+1"]
)
def test_names_of_the_database_are_time_zones(name: str) -> None:
    assert is_timezone(name)


@pytest.mark.parametrize(
    "name",
    [
        "",
        "Europe",
        "Europe/Atlantis",
        "../zoneinfo/UTC",
        "/etc/passwd",
        "localtime",
        "posixrules",
        "right/UTC",
        "posix/UTC",
        "UTC\0",
        "UTC\n",
        "A" * 5000,
        "Europe/Zürich",
        "\udcff",
    ],
)
def test_anything_else_is_not(name: str) -> None:
    assert not is_timezone(name)


def test_every_name_that_the_machine_knows_is_accepted() -> None:
    assert [name for name in known_timezones() if not is_timezone(name)] == []


def test_a_misspelt_zone_is_refused_with_the_nearest_one() -> None:
    assert only(changed("Europe/Zurich", "Europe/Zurch")) == (
        'line 3: works: timezone "Europe/Zurch" must be a time zone by its IANA name, '
        "like Europe/Zurich (did you mean Europe/Zurich?)"
    )
