"""Powder refreshed again and again, against the closed form of the geometric series.

Source: `powder_refresh.json` beside this file: a well-mixed tank that holds r new and 1 - r old
powder after each refresh holds r (1 - r)^k of the lot that came in k refreshes ago, and (1 - r)^n
of the one it began with. The values were computed apart from this project; the ratios are those
of practice named in the file.
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import TypedDict

import pytest

from lotkin.core.events.reading import parse_event
from lotkin.uses.recording.record import record
from tests.small_works import Works


class Case(TypedDict):
    refresh_ratio: float
    founding_lot_fraction_after: dict[str, float]
    lot_fraction_k_refreshes_after_entry: list[float]
    after_5_refreshes_from_pure_lot0: dict[str, float]
    refreshes_until_lot_below_1pct: int


class Build(TypedDict):
    build: int
    founding_fraction: str


class MassModel(TypedDict):
    tank_kg: int
    parts_per_build_kg: int
    waste_per_build_kg: int
    top_up_kg: int
    founding: list[Build]


TABLE = json.loads(Path(__file__).with_name("powder_refresh.json").read_text(encoding="utf-8"))
CASES: list[Case] = TABLE["cases"]
MASSES: MassModel = TABLE["mass_model"]
TANK_KG = 20
REFRESHES = 20

by_ratio = pytest.mark.parametrize("case", CASES, ids=lambda case: f"r={case['refresh_ratio']}")


def refreshed(ratio: float, refreshes: int) -> Works:
    """Begin with a tank of LOT-0 and refresh it; LOT-n comes in at the n-th refresh."""
    works = Works()
    works.powder("LOT-0", TANK_KG)
    works.blend("TANK-0", "LOT-0")
    new_kg = Fraction(str(ratio)) * TANK_KG
    assert new_kg.denominator == 1
    for n in range(1, refreshes + 1):
        works.powder(f"LOT-{n}", int(new_kg))
        old_kg = TANK_KG - int(new_kg)
        works.blend(f"TANK-{n}", {f"TANK-{n - 1}": old_kg, f"LOT-{n}": int(new_kg)})
    return works


@by_ratio
def test_the_founding_lot_fades_geometrically(case: Case) -> None:
    found = refreshed(case["refresh_ratio"], REFRESHES).used("LOT-0")
    for n, fraction in case["founding_lot_fraction_after"].items():
        assert found[f"TANK-{n}"].content == pytest.approx(fraction, rel=1e-12)


@by_ratio
def test_a_later_lot_fades_from_the_moment_it_comes_in(case: Case) -> None:
    found = refreshed(case["refresh_ratio"], 12).used("LOT-3")
    shares = [found[f"TANK-{n}"].content for n in range(3, 13)]
    assert shares == pytest.approx(case["lot_fraction_k_refreshes_after_entry"], rel=1e-12)
    fewest = case["refreshes_until_lot_below_1pct"]
    below = [k for k, share in enumerate(shares) if share is not None and share < 0.01]
    assert below[:1] == [k for k in (fewest,) if k < len(shares)]


@by_ratio
def test_the_shares_in_the_tank_sum_to_one(case: Case) -> None:
    found = refreshed(case["refresh_ratio"], 5).origin("TANK-5")
    shares = {
        code.removeprefix("LOT-"): row.content for code, row in found.items() if "LOT" in code
    }
    assert shares == pytest.approx(case["after_5_refreshes_from_pure_lot0"], rel=1e-12)
    assert sum(share or 0.0 for share in shares.values()) == pytest.approx(1.0, abs=1e-12)


@by_ratio
def test_every_lot_that_ever_went_in_is_in_for_certain(case: Case) -> None:
    found = refreshed(case["refresh_ratio"], REFRESHES).origin(f"TANK-{REFRESHES}")
    lots = {code for code in found if code.startswith("LOT-")}
    assert lots == {f"LOT-{n}" for n in range(REFRESHES + 1)}
    assert all(found[lot].certain and found[lot].chance == 1.0 for lot in lots)


def test_builds_draw_down_the_founding_lot_by_mass() -> None:
    """Each build takes parts and waste from the tank, which is then topped up to 20 kg."""
    works = Works()
    works.powder("LOT-0", MASSES["tank_kg"])
    works.blend("TANK-0", "LOT-0")
    taken = MASSES["parts_per_build_kg"] + MASSES["waste_per_build_kg"]
    builds = MASSES["founding"]
    for n in range(1, len(builds)):
        works.make(
            {f"PARTS-{n}": {"quantity": 50, "item_kind": "printed-lot"}},
            [{"item": f"TANK-{n - 1}", "quantity": taken, "loss": MASSES["waste_per_build_kg"]}],
        )
        works.powder(f"LOT-{n}", MASSES["top_up_kg"])
        works.blend(f"TANK-{n}", [f"TANK-{n - 1}", f"LOT-{n}"])
    found = works.used("LOT-0")
    for build in builds:
        share = float(Fraction(build["founding_fraction"]))
        assert found[f"TANK-{build['build']}"].content == pytest.approx(share, rel=1e-12)
        if build["build"] + 1 < len(builds):
            assert found[f"PARTS-{build['build'] + 1}"].content == pytest.approx(share, rel=1e-12)
    (account,) = works.accounts("LOT-0")
    assert account.is_complete
    wasted = sum(Fraction(b["founding_fraction"]) for b in builds[:-1])
    lost = {line.where: line.quantity for line in account.lines}["process loss"]
    assert lost == pytest.approx(float(wasted) * MASSES["waste_per_build_kg"], abs=1e-5)


def test_two_thousand_blends_later_the_share_is_gone_and_the_membership_is_not() -> None:
    """Source: 0.5 ** 1075 is below the smallest double (IEEE 754), and so reads as zero."""
    works = Works()
    rows = []
    for n in range(2001):
        part = {"part": "POWDER", "unit": "kg", "item_kind": "powder-lot", "place": "SHELF"}
        rows.append(works.data("receive", code=f"LOT-{n}", quantity=10, **part))
        inputs = [{"item": f"LOT-{n}"}]
        if n:
            inputs.append({"item": f"TANK-{n - 1}", "quantity": "10"})
        rows.append(works.data("blend", code=f"TANK-{n}", inputs=inputs))
    record(works.store, [parse_event(row, "test") for row in rows], works.clock)
    found = works.used("LOT-0")
    assert set(found) == {f"TANK-{n}" for n in range(2001)}
    assert all(row.certain for row in found.values())
    shares = [found[f"TANK-{n}"].content for n in range(2001)]
    assert shares[1000] == pytest.approx(0.5**1000)
    assert shares[1075:] == [0.0] * 926
