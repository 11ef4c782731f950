"""A code names one thing."""

from __future__ import annotations

import pytest

from tests.core.plan.small_shop import SMALL_SHOP, changed, line_in, only, said


def last_line(text: str) -> int:
    return text.count("\n") + 1


@pytest.mark.parametrize(
    ("table", "first"),
    [("place", "RACK"), ("supplier", "ANODISER"), ("customer", "CLINIC"), ("bench", "BENCH-1")],
)
@pytest.mark.parametrize(
    "other",
    [
        '[[place]]\nname = "X"\nkind = "shelf"',
        '[[supplier]]\nname = "X"',
        '[[customer]]\nname = "X"',
        '[[bench]]\nname = "X"\nplace = "BUILD"',
    ],
)
def test_places_suppliers_customers_and_benches_share_one_set_of_codes(
    table: str, first: str, other: str
) -> None:
    text = f'{SMALL_SHOP}\n{other}\ncode = "{first}"'
    (problem,) = said(text)
    assert f": code {first} is used already for the " in problem
    assert table in problem
    assert "; give one of them another code" in problem


@pytest.mark.parametrize(
    ("entry", "code"),
    [
        ('[[person]]\nname = "X"', "ANN"),
        ('[[resource]]\nname = "X"\nkind = "tool"', "LATHE"),
        ('[[part]]\nname = "X"\nrevision = "1"\nkind = "unit"\nunit = "pcs"', "HEAD"),
    ],
)
def test_a_repeated_code_is_found_with_the_line_of_the_first(entry: str, code: str) -> None:
    text = f'{SMALL_SHOP}\n{entry}\ncode = "{code}"'
    table = entry[2 : entry.index("]")]
    first = SMALL_SHOP[: SMALL_SHOP.index(f'code = "{code}"')].count("\n") + 1
    assert only(text) == (
        f"line {last_line(text)}: {table} {code}: code {code} is used already for the {table} "
        f"on line {first}; give one of them another code"
    )


def test_one_code_may_name_a_part_and_a_resource_and_a_place() -> None:
    extra = '[[resource]]\ncode = "HEAD"\nname = "Jaws for HEAD"\nkind = "fixture"'
    place = '[[place]]\ncode = "HEAD"\nname = "Rack for HEAD"\nkind = "shelf"'
    assert said(f"{SMALL_SHOP}\n{extra}\n{place}") == []


def test_a_step_code_is_unique_in_its_part() -> None:
    text = changed('code = "20"', 'code = "10"')
    first = text[: text.index('code = "10"')].count("\n") + 1
    (problem,) = said(text)
    assert f"part HEAD, step 10: code 10 is used already for the step on line {first}" in problem


def test_two_parts_may_have_the_same_step_codes() -> None:
    step = '[[part.step]]\ncode = "10"\nname = "Look"\nrun = "inspection"\nat = "BUILD"\n\n'
    assert said(changed("[[part.test]]", f"{step}[[part.test]]")) == []


def test_a_position_is_unique_on_its_bench() -> None:
    text = SMALL_SHOP + '\n[[bench.position]]\ncode = "P1"\npart = "HEAD"\nper = 1\n'
    (problem,) = said(text)
    assert "bench BENCH-1, position P1: code P1 is used already for the position" in problem


def test_measures_of_a_step_and_tests_of_a_part_have_names_of_their_own() -> None:
    measure = '[[part.step.measure]]\nname = "Bore"\nunit = "mm"\n\n'
    test = '[[part.test]]\nname = "Leak"\nunit = "kPa"\nreadings = 1\nmin = 0\n\n'
    text = changed('[[part.step]]\ncode = "20"', f'{measure}[[part.step]]\ncode = "20"')
    text = text.replace("[[bench]]", f"{test}[[bench]]")
    first, second = said(text)
    assert "part HEAD, step 10, measure Bore: name Bore is used already" in first
    assert "part PUMP, test Leak: name Leak is used already" in second


def test_a_position_of_the_bill_is_taken_once() -> None:
    text = changed("per = 6\n\n[[part.test]]", 'per = 6\nposition = "TOP"\n\n[[part.test]]')
    (problem,) = said(text)
    first = SMALL_SHOP[: SMALL_SHOP.index('"TOP"')].count("\n") + 1
    assert (
        f"part PUMP, need 2: position TOP is taken already by the need on line {first}" in problem
    )


def test_a_part_needed_twice_without_a_position_is_to_be_added_up() -> None:
    need = '[[part.need]]\npart = "SCREW-M3X8"\nper = 2\n\n'
    text = changed("[[part.test]]", f"{need}[[part.test]]")
    (problem,) = said(text)
    assert "part PUMP, need 3: part SCREW-M3X8 is needed already on line" in problem
    assert "add up the quantities, or give each need a position" in problem


def test_a_part_needed_at_two_positions_is_fine() -> None:
    need = '[[part.need]]\npart = "HEAD"\nper = 1\nposition = "BOTTOM"\n\n'
    assert said(changed("[[part.test]]", f"{need}[[part.test]]")) == []


def test_two_parts_cannot_share_a_gtin_however_long_it_is_written() -> None:
    text = changed("piece_mass_g", 'gtin = "09521234543213"\npiece_mass_g')
    (problem,) = said(text)
    line = line_in(text, '"9521234543213"')
    assert problem.startswith(f"line {line}: part PUMP: gtin 9521234543213 belongs already to")
