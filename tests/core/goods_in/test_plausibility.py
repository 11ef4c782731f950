"""Whether a delivery can be what is said of it."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.genealogy.items import Item
from lotkin.core.goods_in.plausibility import (
    DUPLICATE_DAYS,
    Bars,
    check_expiry,
    check_length,
    check_weight,
    duplicates,
    kg_per_metre,
)
from lotkin.core.materials import Severity
from lotkin.core.values.instants import to_us
from lotkin.core.values.quantities import MICRO

STEEL = (Decimal(7850), Decimal(7850))
NOW = datetime(2026, 3, 2, 8, tzinfo=UTC)
YEAR = timedelta(days=365)


def weighed(mass: str, *, metres: str = "30", diameter: str = "8") -> list[Severity]:
    bars = Bars(diameter_mm=Decimal(diameter), mass_kg=Decimal(mass))
    found = check_weight(bars, Decimal(metres), STEEL, record="BAR")
    return [finding.severity for finding in found]


@pytest.mark.parametrize(
    ("mass", "severities"),
    [
        ("11.84", []),  # 30 m of 0.3946 kg/m
        ("12.42", []),
        ("11.26", []),
        ("12.5", [Severity.WARNING]),
        ("11.2", [Severity.WARNING]),
        ("14.1", [Severity.WARNING]),
        ("14.3", [Severity.HOLD]),
        ("4.07", [Severity.HOLD]),  # aluminium
    ],
)
def test_a_weight_is_asked_about_from_5_percent_and_held_from_20(
    mass: str, severities: list[Severity]
) -> None:
    assert weighed(mass) == severities


def test_brass_for_steel_is_asked_about() -> None:
    brass = kg_per_metre(Decimal(8), Decimal(8470)) * 30
    assert weighed(f"{brass:.3f}") == [Severity.WARNING]


def test_a_range_of_density_is_taken_at_its_nearer_end() -> None:
    bars = Bars(diameter_mm=Decimal(100), mass_kg=Decimal(8))
    filled = (Decimal(930), Decimal(1010))
    # 7.30 to 7.93 kg/m
    assert check_weight(bars, Decimal(1), filled, record="X") == []


def test_the_message_says_what_was_weighed_and_what_was_expected() -> None:
    bars = Bars(diameter_mm=Decimal("8.0"), mass_kg=Decimal("14.50"))
    (finding,) = check_weight(bars, Decimal("30.0"), STEEL, record="BAR")
    assert finding.message == (
        "BAR: 14.5 kg came, 30 m of 8 mm round would be 11.8 kg; 22 % more: "
        "other material, diameter or length?"
    )


def test_a_weight_that_is_off_by_a_density_from_memory_says_so() -> None:
    bars = Bars(diameter_mm=Decimal("8.0"), mass_kg=Decimal("14.50"))
    (finding,) = check_weight(bars, Decimal("30.0"), STEEL, record="BAR", is_proven=False)
    assert finding.message.endswith(
        "length? The density that this is reckoned with was read in no published table."
    )


@pytest.mark.parametrize(
    "bars",
    [
        Bars(),
        Bars(mass_kg=Decimal(5)),
        Bars(diameter_mm=Decimal(8)),
        Bars(mass_kg=Decimal(0), diameter_mm=Decimal(8)),
        Bars(mass_kg=Decimal(5), diameter_mm=Decimal(0)),
    ],
)
def test_what_was_not_measured_is_not_compared(bars: Bars) -> None:
    assert check_weight(bars, Decimal(30), STEEL, record="BAR") == []
    assert check_weight(bars, None, STEEL, record="BAR") == []
    assert check_length(bars, Decimal(30), record="BAR") == []


@pytest.mark.parametrize(("count", "asked"), [(10, False), (9, True), (11, True), (30, True)])
def test_bars_times_length_are_the_metres(count: int, asked: bool) -> None:
    bars = Bars(count=count, length_mm=Decimal(3050))
    found = check_length(bars, Decimal(30), record="BAR")
    assert [finding.severity for finding in found] == [Severity.WARNING] * asked


@given(
    diameter=st.decimals(1, 500, places=3),
    density=st.integers(500, 20_000),
    metres=st.decimals(Decimal("0.1"), 10_000, places=3),
)
def test_the_computed_weight_itself_is_never_asked_about(
    diameter: Decimal, density: int, metres: Decimal
) -> None:
    mass = kg_per_metre(diameter, Decimal(density)) * metres
    bars = Bars(diameter_mm=diameter, mass_kg=mass)
    assert check_weight(bars, metres, (Decimal(density), Decimal(density)), record="X") == []


@pytest.mark.parametrize(
    ("days", "rule"),
    [
        (-1, ["expired"]),
        (0, ["expired"]),
        (30, ["short-dated"]),
        (91, ["short-dated"]),
        (92, []),
        (365, []),
        (372, []),
        (730, ["expiry-too-late"]),
    ],
)
def test_an_expiry_is_looked_at(days: int, rule: list[str]) -> None:
    found = check_expiry(NOW + timedelta(days=days), NOW, YEAR, record="POWDER")
    assert [finding.rule for finding in found] == rule
    assert all((f.severity is Severity.HOLD) == (f.rule == "expired") for f in found)


def test_without_a_shelf_life_only_what_is_over_is_found() -> None:
    assert check_expiry(None, NOW, YEAR, record="POWDER") == []
    assert check_expiry(NOW + timedelta(days=1), NOW, None, record="POWDER") == []
    assert len(check_expiry(NOW - timedelta(days=1), NOW, None, record="POWDER")) == 1


def earlier(days: float, quantity: int = 30) -> Item:
    at = to_us(NOW) - int(days * 86_400_000_000)
    return Item("OLD", "bar-lot", quantity=quantity * MICRO, unit="m", made_at=at)


@pytest.mark.parametrize(
    ("item", "is_named"),
    [
        (earlier(1), True),
        (earlier(DUPLICATE_DAYS), True),
        (earlier(-1), True),
        (earlier(DUPLICATE_DAYS + 0.01), False),
        (earlier(1, quantity=29), False),
        (Item("OLD", "bar-lot", quantity=30 * MICRO, unit="m"), False),
        (Item("OLD", "heat"), False),
    ],
)
def test_the_same_quantity_of_the_same_lot_within_days_is_named(item: Item, is_named: bool) -> None:
    found = duplicates(
        [item], quantity=30 * MICRO, at_us=to_us(NOW), number="heat H1", record="BAR"
    )
    assert [finding.record for finding in found] == ["OLD"] * is_named
    assert all("30 m of heat H1 were received on 2026-0" in f.message for f in found)
