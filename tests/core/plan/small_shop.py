"""The plan file of a small works that turns, has anodised and builds a pump; tests extend it."""

from __future__ import annotations

from lotkin.core.plan import PlanProblem, ShopPlan, parse_plan

SMALL_SHOP = """\
[works]
name = "Small pump works"
timezone = "Europe/Zurich"

[[person]]
code = "ANN"
name = "Ann Example"
roles = ["operator", "quality"]

[[place]]
code = "RACK"
name = "Rack"
kind = "shelf"

[[place]]
code = "TURN-1"
name = "Turning centre"
kind = "station"

[[place]]
code = "BUILD"
name = "Building room"
kind = "station"

[[place]]
code = "RED-BOX"
name = "Locked box"
kind = "quarantine"

[[supplier]]
code = "ANODISER"
name = "Colour Anodising"
services = ["anodising"]

[[customer]]
code = "CLINIC"
name = "City clinic"
country = "CH"

[[resource]]
code = "LATHE"
name = "Lathe"
kind = "machine"

[[resource]]
code = "CALIPER-2"
name = "Caliper"
kind = "gauge"
calibration_days = 365

[[part]]
code = "BAR-6082"
name = "Round bar 20"
revision = "1"
kind = "bar-lot"
unit = "m"
certificate = "3.1"

[[part]]
code = "SCREW-M3X8"
name = "Screw M3 x 8"
revision = "1"
kind = "purchased-lot"
unit = "pcs"

[[part]]
code = "HEAD"
name = "Pump head"
revision = "C"
kind = "treated-lot"
unit = "pcs"
piece_mass_g = 41.25

[part.bar]
length_mm = 3000
part_mm = 25
cutoff_mm = 3
facing_mm = 0.5
remnant_mm = 150

[[part.step]]
code = "10"
name = "Turn"
run = "machining-run"
at = "TURN-1"
output_kind = "machined-lot"
resources = ["machine"]
inputs = ["BAR-6082"]

[[part.step.measure]]
name = "Bore"
unit = "mm"
min = 9.98
max = 10.02

[[part.step]]
code = "20"
name = "Anodise"
run = "outside-batch"
at = "ANODISER"
min_celsius = 15
max_celsius = 22.5

[[part]]
code = "PUMP"
name = "Pump"
revision = "A"
kind = "unit"
unit = "pcs"
gtin = "9521234543213"
serialised = true

[[part.need]]
part = "HEAD"
per = 1
position = "TOP"

[[part.need]]
part = "SCREW-M3X8"
per = 6

[[part.test]]
name = "Leak"
unit = "kPa"
readings = 3
max = 0.5

[[bench]]
code = "BENCH-1"
name = "First bench"
place = "BUILD"

[[bench.position]]
code = "P1"
part = "SCREW-M3X8"
per = 6
"""


def small_shop() -> ShopPlan:
    """Read the plan; it has no problems."""
    plan, problems = parse_plan(SMALL_SHOP, "plan.toml")
    assert problems == []
    assert plan is not None
    return plan


def problems_of(text: str) -> list[PlanProblem]:
    """Read a text and give what is wrong; a plan comes out exactly if nothing is."""
    plan, problems = parse_plan(text, "plan.toml")
    assert (plan is None) == bool(problems)
    return problems


def changed(old: str, new: str) -> str:
    """Give the small shop's file with one spot changed."""
    assert SMALL_SHOP.count(old) == 1, f"{old!r} must stand in the file exactly once"
    return SMALL_SHOP.replace(old, new)


def said(text: str) -> list[str]:
    """Give the problems of a text as they are printed."""
    return [str(problem) for problem in problems_of(text)]


def line_in(text: str, mark: str) -> int:
    """Tell the line of a mark that stands once in a text."""
    assert text.count(mark) == 1, f"{mark!r} must stand in the text exactly once"
    return text[: text.index(mark)].count("\n") + 1


def only(text: str) -> str:
    """Give the one problem of a text as it is printed."""
    (problem,) = said(text)
    return problem
