"""How the faults of single entries are put to the lead of a shop floor."""

from __future__ import annotations

from typing import get_args

import pytest
from pydantic import BaseModel

from lotkin.core.plan import ShopPlan, check_plan
from lotkin.core.plan.file.quoted import shown
from lotkin.core.plan.file.tables import TABLES, record_name
from lotkin.core.plan.nearest import NearestNames
from tests.core.plan.small_shop import SMALL_SHOP, changed, only


def message(old: str, new: str) -> str:
    """Change one spot of the small shop and give what is said of it, without line and record."""
    return only(changed(old, new)).split(": ", 2)[2]


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ('unit = "m"', 'unit = "kilo"', 'unit "kilo" must be one of pcs, kg or m'),
        (
            'kind = "bar-lot"',
            'kind = "barlot"',
            (
                'kind "barlot" must be one of source-lot, heat, bar-lot, powder-lot, '
                "purchased-lot, powder-blend, machined-lot, printed-lot, treated-lot, mixed-lot "
                "or unit "
                "(did you mean bar-lot?)"
            ),
        ),
        (
            'certificate = "3.1"',
            'certificate = "3.1B"',
            'certificate "3.1B" must be one of 2.1, 2.2, 3.1 or 3.2 (did you mean 3.1?)',
        ),
        (
            'certificate = "3.1"',
            "certificate = 3.1",
            "certificate 3.1 must be one of 2.1, 2.2, 3.1 or 3.2",
        ),
        (
            '["operator", "quality"]',
            '["operator", "Quality "]',
            (
                'roles entry 2 "Quality " must be one of receiving, operator, quality or admin '
                "(did you mean quality?)"
            ),
        ),
        (
            "serialised = true",
            'serialised = "true"',
            'serialised "true" must be true or false, without quotes',
        ),
        ("readings = 3", 'readings = "3"', 'readings "3" must be a whole number without quotes'),
        ("readings = 3", "readings = 3.0", "readings 3.0 must be a whole number without quotes"),
        ("readings = 3", "readings = true", "readings true must be a whole number without quotes"),
        ("readings = 3", "readings = 0", "readings 0 must be a whole number from 1 to 1000"),
        (
            "calibration_days = 365",
            "calibration_days = -365",
            "calibration_days -365 must be a number of days from 1 to 36525",
        ),
        (
            'services = ["anodising"]',
            'services = "anodising"',
            'services "anodising" must be a list in square brackets',
        ),
        (
            'services = ["anodising"]',
            "services = [7]",
            "services entry 1 7 must be text; write it in quotes",
        ),
        ("piece_mass_g = 41.25", "piece_mass_g = 0", "piece_mass_g 0 must be above zero"),
        ("piece_mass_g = 41.25", "piece_mass_g = [1]", "piece_mass_g (a list) must be a number"),
        (
            "piece_mass_g = 41.25",
            "piece_mass_g = nan",
            "piece_mass_g NaN must be a number from -1000000000 to 1000000000",
        ),
        (
            "piece_mass_g = 41.25",
            "piece_mass_g = 1e9999999999999999999",
            "piece_mass_g NaN must be a number from -1000000000 to 1000000000",
        ),
        (
            "piece_mass_g = 41.25",
            "piece_mass_g = 0.1234567",
            "piece_mass_g 0.1234567 must not have more than six decimals",
        ),
        (
            "facing_mm = 0.5",
            "facing_mm = 0.0005",
            "facing_mm 0.0005 must not have more than three decimals of a millimetre",
        ),
        ("cutoff_mm = 3", "cutoff_mm = -3", "cutoff_mm -3 must not be below zero"),
        ("part_mm = 25", "part_mm = 2020-01-01", "part_mm (a date or time) must be a number"),
        (
            'code = "RED-BOX"',
            'code = "RED BOX"',
            (
                'code "RED BOX" must be a code: 1 to 40 letters, digits or . _ : + / - without '
                "spaces, beginning with a letter or digit"
            ),
        ),
        (
            'code = "RED-BOX"',
            'code = "scrap"',
            'code "scrap" is kept for pieces that are gone; give the place another code',
        ),
        ('name = "Locked box"', 'name = " "', 'name " " must be one line of 1 to 200 characters'),
        (
            'name = "Locked box"',
            'name = """Locked\nbox"""',
            'name "Locked?box" must be one line of 1 to 200 characters',
        ),
        ('revision = "C"', "revision = 3", "revision 3 must be text; write it in quotes"),
        ('revision = "C"\n', "", 'revision is missing; add revision = "…"'),
        ("readings = 3\n", "", "readings is missing; add readings = a number"),
        (
            'kind = "quarantine"',
            "",
            'kind is missing; add kind = "shelf", "station", "quarantine" or "dispatch"',
        ),
        (
            "piece_mass_g",
            "peice_mass_g",
            "[[part]] has no key peice_mass_g (did you mean piece_mass_g?)",
        ),
        (
            "serialised = true",
            "colour = 1",
            (
                "[[part]] has no key colour; its keys are code, name, revision, kind, unit, "
                "piece_mass_g, material, certificate, gtin, serialised, serials, shelf_life_days, "
                "moisture_max_percent, used_share_max, cautions, bar, need, step and test"
            ),
        ),
    ],
)
def test_a_fault_is_said_with_what_is_wanted(old: str, new: str, expected: str) -> None:
    assert message(old, new) == expected


def test_single_brackets_where_a_list_is_meant_are_named() -> None:
    text = '[works]\nname = "W"\ntimezone = "UTC"\n\n[place]\ncode = "A"'
    assert only(text) == ("line 5: place: place must be a table of its own; write it as [[place]]")


def test_double_brackets_where_one_table_is_meant_are_named() -> None:
    text = '[[works]]\nname = "W"\ntimezone = "UTC"'
    assert only(text) == "line 1: works: works must be a table of its own; write it as [works]"


def test_entries_that_are_no_tables_are_named() -> None:
    text = 'person = ["ANN"]\n[works]\nname = "W"\ntimezone = "UTC"'
    assert only(text) == (
        "line 1: person 1: person must be a table of its own; write it as [[person]]"
    )


def test_an_unknown_table_is_named_with_those_there_are() -> None:
    assert only(f"{SMALL_SHOP}[[machinery]]") == (
        f"line {SMALL_SHOP.count(chr(10)) + 1}: plan.toml: machinery is not a table of a plan; "
        "tables are [works], [[person]], [[place]], [[supplier]], [[customer]], [[resource]], "
        "[[part]] and [[bench]]"
    )


def test_data_that_is_no_table_at_all_is_a_problem_too() -> None:
    _, problems = check_plan(None, "plan")
    assert [str(problem) for problem in problems] == [
        "plan: the plan must be a table of tables, not (nothing)"
    ]


def test_entries_without_a_code_go_by_name_or_by_number() -> None:
    data = {"part": [{"name": "Head", "step": [{}]}, {}, 5]}
    assert record_name(("part", 0, "unit"), data) == "part Head"
    assert record_name(("part", 0, "step", 0, "run"), data) == "part Head, step 1"
    assert record_name(("part", 1), data) == "part 2"
    assert record_name(("part", 2), data) == "part 3"
    assert record_name(("part", 9, "need", 1), data) == "part 10, need 2"
    assert record_name((), data) == ""


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        ("x" * 100, '"' + "x" * 39 + '…"'),
        ("\x1b[31m\u202e", '"?[31m?"'),
        ({}, "(a table)"),
        (b"", "(something else)"),
        (2.5, "2.5"),
        (False, "false"),
    ],
)
def test_quoted_values_are_short_and_printable(value: object, expected: str) -> None:
    assert shown(value) == expected


def test_a_number_too_long_for_python_to_write_is_still_quoted() -> None:
    assert shown(1 << 20_000) == "(a very long number)"


def test_names_are_suggested_whatever_their_case() -> None:
    assert NearestNames(["MOTOR", "HEAD"]).hint("motr") == " (did you mean MOTOR?)"
    assert NearestNames(["MOTOR", "HEAD"]).hint("zzz") == ""
    assert NearestNames([]).hint("motr") == ""


def test_suggestions_end_when_they_would_take_too_long() -> None:
    near = NearestNames(["MOTOR", "HEAD"], comparisons=3)
    assert near.hint("motr") == " (did you mean MOTOR?)"
    assert near.hint("haed") == ""
    assert near.hint("motr") == " (did you mean MOTOR?)"
    assert NearestNames(["M" * 90]).hint("M" * 91) == ""


def test_every_table_of_the_plan_is_in_the_list_of_tables() -> None:
    """A table that is missing there would be reported without its record and header."""
    found: dict[tuple[str, ...], type[BaseModel]] = {}
    waiting: list[tuple[tuple[str, ...], type[BaseModel]]] = [((), ShopPlan)]
    while waiting:
        table, model = waiting.pop()
        found[table] = model
        for name, field in model.model_fields.items():
            below = (*table, field.alias or name)
            waiting.extend((below, inner) for inner in _models_in(field.annotation))
    assert found == TABLES


def _models_in(annotation: object) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for inner in get_args(annotation) for model in _models_in(inner)]
