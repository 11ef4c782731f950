"""What a plan refers to must be in it, and of the right kind."""

from __future__ import annotations

import pytest

from tests.core.plan.small_shop import SMALL_SHOP, changed, line_in, only, said


def test_a_need_of_an_unknown_part_names_its_line_and_the_nearest_code() -> None:
    text = changed(
        'part = "SCREW-M3X8"\nper = 6\n\n[[part.test]]',
        'part = "SCREW-M3"\nper = 6\n\n[[part.test]]',
    )
    line = line_in(text, 'part = "SCREW-M3"\n')
    assert only(text) == (
        f"line {line}: part PUMP, need 2: part SCREW-M3 is not in the plan; "
        "add a [[part]] with that code or correct the name (did you mean SCREW-M3X8?)"
    )


def test_a_bench_position_for_an_unknown_part_is_found() -> None:
    text = changed('code = "P1"\npart = "SCREW-M3X8"', 'code = "P1"\npart = "GLUE"')
    assert only(text) == (
        f"line {line_in(text, 'GLUE')}: bench BENCH-1, position P1: part GLUE is not in the plan; "
        "add a [[part]] with that code or correct the name"
    )


def test_an_unknown_input_in_a_list_of_several_lines_is_found_at_its_own_line() -> None:
    text = changed('inputs = ["BAR-6082"]', 'inputs = [\n  "BAR-6082",\n  "bar-6083",\n]')
    assert only(text) == (
        f"line {line_in(text, 'bar-6083')}: part HEAD, step 10: input bar-6083 is not in the plan; "
        "add a [[part]] with that code or correct the name (did you mean BAR-6082?)"
    )


def test_a_part_with_a_fault_of_its_own_is_still_a_part() -> None:
    text = changed('unit = "m"', 'unit = "metre"')
    assert [problem.split(": ")[1] for problem in said(text)] == ["part BAR-6082"]


def test_a_step_at_an_unknown_station_is_found() -> None:
    text = changed('at = "TURN-1"', 'at = "TURN-2"')
    assert only(text) == (
        f"line {line_in(text, 'TURN-2')}: part HEAD, step 10: station TURN-2 is not in the plan; "
        'add a [[place]] of kind "station" with that code or correct the name '
        "(did you mean TURN-1?)"
    )


def test_an_outside_batch_at_an_unknown_supplier_is_found() -> None:
    text = changed('at = "ANODISER"', 'at = "PLATER"')
    assert only(text) == (
        f"line {line_in(text, 'PLATER')}: part HEAD, step 20: supplier PLATER is not in the plan; "
        "add a [[supplier]] with that code or correct the name"
    )


@pytest.mark.parametrize(
    ("place", "kind"),
    [("TURN-1", "station"), ("RACK", "shelf"), ("CLINIC", "customer"), ("BENCH-1", "bench")],
)
def test_an_outside_batch_must_be_at_a_supplier(place: str, kind: str) -> None:
    line = line_in(SMALL_SHOP, 'at = "ANODISER"')
    text = changed('at = "ANODISER"', f'at = "{place}"')
    assert only(text) == (
        f"line {line}: "
        f"part HEAD, step 20: {place} is a {kind}, but a step run as outside-batch must be at a "
        "supplier; name the code of one"
    )


@pytest.mark.parametrize("place", ["ANODISER", "RACK", "RED-BOX", "CLINIC", "BENCH-1"])
@pytest.mark.parametrize("run", ["machining-run", "print-build", "finishing-load", "inspection"])
def test_every_other_run_must_be_at_a_station(place: str, run: str) -> None:
    text = changed('run = "machining-run"\nat = "TURN-1"', f'run = "{run}"\nat = "{place}"')
    (problem,) = said(text)
    assert f"but a step run as {run} must be at a station" in problem


def test_with_a_misspelt_run_nothing_is_said_of_the_place() -> None:
    (problem,) = said(changed('run = "outside-batch"', 'run = "outside-bath"'))
    assert problem.endswith("(did you mean outside-batch?)")


def test_a_place_with_a_misspelt_kind_counts_as_any_kind() -> None:
    text = changed('name = "Turning centre"\nkind = "station"', 'name = "T"\nkind = "statoin"')
    (problem,) = said(text)
    assert 'kind "statoin" must be one of' in problem


def test_a_bench_must_be_in_a_station() -> None:
    text = changed('place = "BUILD"', 'place = "RACK"')
    line = line_in(text, 'place = "RACK"')
    assert only(text) == (
        f"line {line}: bench BENCH-1: RACK is a shelf, "
        "but a bench must be at a station; name the code of one"
    )


def test_without_any_station_there_is_nothing_to_suggest() -> None:
    text = '[works]\nname = "W"\ntimezone = "UTC"\n[[bench]]\ncode = "B"\nname = "B"\nplace = "S"'
    assert only(text) == (
        'line 7: bench B: station S is not in the plan; add a [[place]] of kind "station" '
        "with that code or correct the name"
    )
