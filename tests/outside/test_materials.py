"""Limits of grades against published tables.

Source: `materials.json` beside this file: limits read in public data sheets and trade tables, each
row with the standards that it is of and how far it was verified. What it says is from memory must
carry that mark here too: it is compared, but not as an outside fact.
"""

from __future__ import annotations

import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from lotkin.core.materials import Grade, Limit, check_certificate, find_grade, grades

MATERIALS: dict[str, dict[str, Any]] = {
    row["id"]: row
    for row in json.loads(
        Path(__file__).with_name("materials.json").read_text(encoding="utf-8"),
        parse_float=Decimal,
        parse_int=Decimal,
    )["materials"]
}
WITH_COMPOSITION = [name for name, row in MATERIALS.items() if "composition_pct" in row]
FROM_MEMORY = {name for name, row in MATERIALS.items() if "from memory" in row["verified"][:11]}
# `README.md` of the collection: these two densities are from memory, the other metals' were found
DENSITY_FROM_MEMORY = {"CW614N", *FROM_MEMORY}


def grade_of(name: str) -> Grade:
    found = find_grade(name)
    assert found is not None
    return found


def bands_of(name: str) -> list[dict[str, Any]]:
    said = MATERIALS[name].get("mechanical", [])
    if said == "same bands as 11SMn30 +C":
        return bands_of("11SMn30")
    return said if isinstance(said, list) else []


def test_every_published_material_is_known_and_no_other() -> None:
    assert {grade.id for grade in grades()} == set(MATERIALS)
    assert {"CW024A", "CW004A", "PA12", "PA12-GF"} == FROM_MEMORY


@pytest.mark.parametrize("name", MATERIALS)
def test_the_names_and_the_density_are_the_published_ones(name: str) -> None:
    row, grade = MATERIALS[name], grade_of(name)
    density = row["density_kg_m3"]
    assert grade.density_kg_m3 == tuple(density if isinstance(density, list) else [density] * 2)
    assert grade.density_is_proven is (name not in DENSITY_FROM_MEMORY)
    for other in ("name", "number"):
        if other in row:
            assert find_grade(row[other]) is grade


@pytest.mark.parametrize("name", WITH_COMPOSITION)
def test_the_composition_is_the_published_one(name: str) -> None:
    row, edition = MATERIALS[name], grade_of(name).editions[0]
    said = dict(row["composition_pct"])
    others = {key: said.pop(key, [None, None])[1] for key in ("other_each", "other_total")}
    rest = [element for element, limit in said.items() if limit == "rest"]

    assert {e: [limit.low, limit.high] for e, limit in edition.composition.items()} == {
        element: limit for element, limit in said.items() if limit != "rest"
    }
    assert (edition.other_each, edition.other_total) == tuple(others.values())
    assert rest in ([], [edition.rest])
    assert edition.is_proven is (name not in FROM_MEMORY)


@pytest.mark.parametrize("name", [name for name in MATERIALS if bands_of(name)])
def test_the_bands_of_strength_are_the_published_ones(name: str) -> None:
    bands = grade_of(name).editions[0].bands
    assert len(bands) == len(bands_of(name))
    for band, said in zip(bands, bands_of(name), strict=True):
        assert (band.over_mm, band.to_mm) == (said.get("d_over"), said.get("d_to"))
        for symbol, key in (("Rm", "Rm"), ("Rp0.2", "Rp02"), ("A", "A")):
            low, high = said.get(key, [said.get(f"{key}_min"), None])
            assert band.limits.get(symbol, Limit(None, None)) == Limit(low, high)
        assert not band.is_typical


def test_only_the_thickest_rods_of_6082_have_limits_from_memory() -> None:
    # the row of diameters over 200 mm and all elongation are from memory, the rest was found
    from_memory = [
        (grade.id, band.over_mm)
        for grade in grades()
        for edition in grade.editions
        for band in edition.bands
        if not band.is_proven
    ]
    assert from_memory == [("EN AW-6082", Decimal(200))]
    assert all("A" not in band.limits for band in grade_of("6082").editions[0].bands)


def test_what_is_typical_of_brass_is_no_limit() -> None:
    # typical range of a copper association's table, depending on the condition
    (band,) = grade_of("CW614N").editions[0].bands
    assert band.is_typical
    assert {symbol: (limit.low, limit.high) for symbol, limit in band.limits.items()} == {
        "Rm": (Decimal(360), Decimal(580)),
        "Rp0.2": (Decimal(150), Decimal(420)),
        "HV": (Decimal(100), Decimal(160)),
    }


def test_nitrogen_of_1_4305_depends_on_the_edition() -> None:
    # at most 0.10 % in the edition of 2014, 0.11 % on a card of 2005
    values = {"S": Decimal("0.2"), "Cr": Decimal(18), "Ni": Decimal(9), "N": Decimal("0.105")}
    new = check_certificate(grade_of("1.4305"), values, {})
    old = check_certificate(grade_of("1.4305"), values, {}, edition="EN 10088-3:2005")
    assert [finding.record for finding in new] == ["N"]
    assert old == []
