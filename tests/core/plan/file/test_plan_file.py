"""Reading of plan files: what is TOML, what is not, and how much is said at once."""

from __future__ import annotations

import pytest

from lotkin.core.plan import PlanProblem, ShopPlan, parse_plan
from tests.core.plan.small_shop import SMALL_SHOP, changed, only, problems_of, said, small_shop


def test_a_sound_file_gives_a_plan_and_no_problem() -> None:
    assert isinstance(small_shop(), ShopPlan)


def test_a_file_with_a_problem_gives_no_plan() -> None:
    plan, problems = parse_plan("", "shop.toml")
    assert plan is None
    assert problems == [
        PlanProblem(None, "works", "the plan has no [works]; add one with name and timezone")
    ]


def test_the_smallest_plan_is_a_works() -> None:
    assert said('[works]\nname = "W"\ntimezone = "UTC"') == []


def test_all_problems_of_a_file_come_at_once_in_the_order_of_the_lines() -> None:
    text = (
        SMALL_SHOP.replace('kind = "quarantine"', 'kind = "prison"')
        .replace('"Colour Anodising"', "7")
        .replace("readings = 3", "readings = 0")
        .replace('run = "machining-run"', 'run = "machining-run"\ncolor = "red"')
        .replace('part = "HEAD"', 'part = "HAED"')
        .replace("length_mm = 3000", "length_mm = 3000.0001")
        .replace('place = "BUILD"', 'place = "BIULD"')
    )
    problems = problems_of(text)
    assert [problem.path for problem in problems] == [
        "place RED-BOX",
        "supplier ANODISER",
        "part HEAD, bar",
        "part HEAD, step 10",
        "part PUMP, need 1",
        "part PUMP, test Leak",
        "bench BENCH-1",
    ]
    lines = [problem.line or 0 for problem in problems]
    assert lines == sorted(lines)
    assert 0 not in lines


def test_faults_inside_a_part_do_not_hide_each_other() -> None:
    text = changed('run = "outside-batch"\nat = "ANODISER"', 'run = 3\nat = "ANODISER"')
    text = text.replace('inputs = ["BAR-6082"]', 'inputs = ["BAR"]').replace("min = 9", "min = 11")
    assert [problem.path for problem in problems_of(text)] == [
        "part HEAD, step 10",
        "part HEAD, step 10, measure Bore",
        "part HEAD, step 20",
    ]


@pytest.mark.parametrize(
    ("text", "line", "why"),
    [
        ("[works]\nname", 2, "a key must be followed by = and its value"),
        ("[works]\nname =\n", 2, "the value is missing, or a text lacks its quotes"),
        ("[works]\n\nname = Pump works\n", 3, "the value is missing, or a text lacks its quotes"),
        ('[works]\nname = "W" "X"\n', 2, "there is more on the line than one key and its value"),
        ('[works]\nname = "W"\nname = "X"\n', 3, "a key or table is given twice"),
        (
            "[works]\n[place]\n[place]\n",
            3,
            "a table is given twice; entries of a list have double brackets",
        ),
        ("!\n", 1, "this is neither key = value nor a table in brackets"),
        (
            "x = {a = 1,\nb = 2}\n",
            1,
            "a key is missing; what stands between { and } must be on one line",
        ),
        ("\n\n[works", 3, "expected ']' at the end of a table declaration"),
        ('a = 1\nb = """\nno end\n\n', 2, "a text of several lines begins here without end"),
        ("a = 1\nb = '''\nno end\n\n", 2, "a text of several lines begins here without end"),
        ("!\nb = '''\nno end\n\n", 1, "this is neither key = value nor a table in brackets"),
        ('a = "no end', 1, "a text begins and does not end"),
        ('a = "no end\n', 1, "there is a sign that TOML does not allow, or a text lacks its end"),
    ],
)
def test_text_that_is_not_toml_is_told_by_its_line(text: str, line: int, why: str) -> None:
    assert problems_of(text) == [
        PlanProblem(
            line,
            "plan.toml",
            f"the file cannot be read: {why}; correct the line and load the file again",
        )
    ]


def test_a_file_that_begins_with_a_byte_order_mark_is_read() -> None:
    assert said("\ufeff" + SMALL_SHOP) == []


def test_windows_line_ends_change_nothing() -> None:
    windows = SMALL_SHOP.replace("\n", "\r\n")
    assert parse_plan(windows, "plan.toml") == (small_shop(), [])


def test_bytes_that_are_no_text_are_told_by_their_line() -> None:
    text = b'[works]\nname = "P\xfcmpe"'.decode("utf-8", "surrogateescape")
    assert only(text) == "line 2: plan.toml: the file cannot be read: it is not text in UTF-8"


def test_binary_junk_is_a_problem_of_the_file() -> None:
    (problem,) = problems_of("PK\x03\x04\x14\x00\x08\x00\n\x00\x01")
    assert problem.path == "plan.toml"


@pytest.mark.parametrize("deep", ["[" * 5000, "[" * 100 + "]" * 100, "{a=" * 5000])
def test_deep_nesting_is_refused_by_its_line(deep: str) -> None:
    assert only(f"\nx = {deep}") == (
        "line 2: plan.toml: the file cannot be read: brackets or keys are nested "
        "more than 64 deep; the plan needs four levels"
    )


def test_a_number_without_end_is_refused_by_its_line() -> None:
    text = changed("calibration_days = 365", f"calibration_days = {'9' * 5000}")
    (problem,) = problems_of(text)
    assert text.split("\n")[(problem.line or 0) - 1].startswith("calibration_days")
    assert problem.message == "the file cannot be read: a number is too long; shorten it"


def test_a_number_too_long_to_be_written_is_refused_like_any_other() -> None:
    assert only(changed("piece_mass_g = 41.25", f"piece_mass_g = 0x{'f' * 1_000_000}")).endswith(
        "piece_mass_g (a very long number) must be a number from -1000000000 to 1000000000"
    )


def test_ten_thousand_parts_are_read() -> None:
    part = (
        '[[part]]\ncode = "P-{0}"\nname = "P"\nrevision = "1"\nkind = "unit"\nunit = "pcs"\n'
        '[[part.need]]\npart = "P-{1}"\nper = 1\n'
    )
    many = "".join(part.format(number, number + 1) for number in range(10_000))
    last = part.format(10_000, "HEAD").replace("P-HEAD", "HEAD")
    plan, problems = parse_plan(f"{SMALL_SHOP}\n{many}\n{last}", "plan.toml")
    assert problems == []
    assert plan is not None
    assert plan.part("P-10000") is not None


def test_ten_thousand_wrong_parts_are_all_told() -> None:
    parts = '[[part]]\ncode = "P 1"\n' * 10_000
    problems = problems_of(f'[works]\nname = "W"\ntimezone = "UTC"\n{parts}')
    missing = [problem for problem in problems if "is missing" in problem.message]
    assert len(missing) == 4 * 10_000
    assert len({problem.line for problem in problems}) == 2 * 10_000
