"""What is said of an entry must fit its kind and unit."""

from __future__ import annotations

import pytest

from tests.core.plan.small_shop import SMALL_SHOP, changed, line_in, only, said


def test_only_gauges_are_calibrated() -> None:
    text = changed('kind = "gauge"', 'kind = "tool"')
    assert only(text) == (
        f"line {line_in(text, 'calibration_days')}: resource CALIPER-2: "
        "calibration_days is for gauges only; remove it, or make kind a gauge"
    )


def test_only_powders_have_a_share_of_used_powder() -> None:
    text = changed('certificate = "3.1"', "used_share_max = 0.5")
    assert only(text) == (
        f"line {line_in(text, 'used_share_max')}: part BAR-6082: used_share_max is for powders "
        "only; remove it, or make kind a powder-lot or powder-blend"
    )


@pytest.mark.parametrize("kind", ["powder-lot", "powder-blend"])
def test_powders_may_have_one(kind: str) -> None:
    powder = (
        f'[[part]]\ncode = "PA12"\nname = "Powder"\nrevision = "1"\nkind = "{kind}"\n'
        'unit = "kg"\nused_share_max = 0.5'
    )
    assert said(f"{SMALL_SHOP}\n{powder}") == []


def test_pieces_are_needed_whole() -> None:
    text = changed("per = 6\n\n[[part.test]]", "per = 5.5\n\n[[part.test]]")
    assert only(text) == (
        f"line {line_in(text, 'per = 5.5')}: part PUMP, need 2: per 5.5 is not a whole number, "
        "but SCREW-M3X8 is counted in pcs; write whole pieces"
    )


def test_pieces_are_mounted_whole() -> None:
    text = changed(
        'code = "P1"\npart = "SCREW-M3X8"\nper = 6', 'code = "P1"\npart = "HEAD"\nper = 0.5'
    )
    (problem,) = said(text)
    assert "bench BENCH-1, position P1: per 0.5 is not a whole number" in problem


@pytest.mark.parametrize("per", ["6.0", "0x06", '"6"'])
def test_a_whole_number_may_be_written_in_any_way(per: str) -> None:
    assert said(changed("per = 6\n\n[[part.test]]", f"per = {per}\n\n[[part.test]]")) == []


def test_lengths_and_masses_may_be_needed_in_fractions() -> None:
    text = changed(
        'part = "SCREW-M3X8"\nper = 6\n\n[[part.test]]',
        'part = "BAR-6082"\nper = 0.025\n\n[[part.test]]',
    )
    assert said(text) == []


@pytest.mark.parametrize("inputs", ["", "inputs = []"])
def test_a_route_must_start_from_something(inputs: str) -> None:
    text = changed('inputs = ["BAR-6082"]', inputs)
    line = text[: text.index("[[part.step]]")].count("\n") + 1
    assert only(text) == (
        f"line {line}: part HEAD, step 10: the first step has no inputs; add inputs with the code "
        "of the material that it starts from, or a [[part.need]] to the part"
    )


def test_a_bill_of_material_is_something_to_start_from() -> None:
    need = '[[part.need]]\npart = "SCREW-M3X8"\nper = 1\n\n[part.bar]'
    text = changed('inputs = ["BAR-6082"]', "").replace("[part.bar]", need)
    assert said(text) == []


def test_what_is_bought_may_start_from_itself() -> None:
    step = (
        '[[part.step]]\ncode = "10"\nname = "Look"\nrun = "inspection"\nat = "BUILD"\n'
        'inputs = ["SCREW-M3X8"]\n\n'
    )
    part = '[[part]]\ncode = "HEAD"'
    assert said(changed(part, step + part)) == []
