"""Whatever a file holds, reading it ends with a plan or with problems, never with a traceback."""

from __future__ import annotations

import random
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lotkin.core.plan import PlanProblem, ShopPlan, check_plan, parse_plan
from lotkin.core.plan.file.tables import TABLES, keys_of
from tests.core.plan.file.toml_documents import TomlDocument, toml_documents
from tests.core.plan.plan_data import Row, plan_data
from tests.core.plan.small_shop import SMALL_SHOP

KEYS = sorted({key for table in TABLES for key in keys_of(table)})
WORDS = ["pcs", "unit", "station", "outside-batch", "HEAD", "A B", "", "9521234543213", "1e999999"]
PIECES = [
    *(f"[[{key}]]\n" for key in KEYS),
    *(f"{key} = " for key in KEYS),
    *(f'"{word}"\n' for word in WORDS),
    *"[]{}=,.\"'#\n",
    "'''",
    '"""',
    "1e99999999999999999999\n",
    "-inf\n",
    "nan\n",
    "2020-02-30\n",
    "1979-05-27T07:32:00Z\n",
    "true\n",
    "\r",
    "\x00",
    "\ufeff",
    "\ud800",
]

scalars = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.decimals()
    | st.sampled_from(WORDS)
    | st.text(st.characters())
    | st.binary(max_size=2)
    | st.datetimes()
)
values = st.recursive(
    scalars,
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.sampled_from(KEYS), inner, max_size=6)
        | st.dictionaries(st.text() | st.integers(), inner, max_size=2)
    ),
    max_leaves=30,
)


def check_outcome(outcome: tuple[ShopPlan | None, list[PlanProblem]]) -> None:
    plan, problems = outcome
    assert (plan is None) == bool(problems)
    for problem in problems:
        assert str(problem).isprintable()
        assert problem.message
        assert problem.path


@given(st.text(st.characters()))
def test_any_text(text: str) -> None:
    check_outcome(parse_plan(text, "plan.toml"))


@given(st.binary())
def test_any_bytes_taken_for_text(junk: bytes) -> None:
    check_outcome(parse_plan(junk.decode("latin-1"), "plan.toml"))
    check_outcome(parse_plan(junk.decode("utf-8", "surrogateescape"), "plan.toml"))


@given(st.lists(st.sampled_from(PIECES)).map("".join))
def test_pieces_of_plans_in_any_order(text: str) -> None:
    check_outcome(parse_plan(text, "plan.toml"))


@given(toml_documents())
def test_sound_toml_that_is_no_plan(document: TomlDocument) -> None:
    check_outcome(parse_plan(document.text, "plan.toml"))


@given(values)
def test_any_data(data: object) -> None:
    check_outcome(check_plan(data, "plan"))


@given(st.sampled_from(SMALL_SHOP.splitlines()), st.sampled_from(PIECES), st.integers(0, 30))
def test_a_sound_plan_with_a_piece_put_in_anywhere(line: str, piece: str, place: int) -> None:
    broken = SMALL_SHOP.replace(line, line[:place] + piece + line[place:])
    check_outcome(parse_plan(broken, "plan.toml"))


@given(plan_data(), values, st.randoms(use_true_random=False))
def test_a_sound_plan_with_one_value_of_the_wrong_type(
    data: Row, value: object, chance: random.Random
) -> None:
    _replace_somewhere(data, value, chance)
    check_outcome(check_plan(data, "plan"))


def _replace_somewhere(data: object, value: object, chance: random.Random) -> None:
    """Go down at random and put the value where the way ends."""
    if isinstance(data, dict) and data:
        key = chance.choice(sorted(data))
        if not _goes_deeper(data[key], value, chance):
            data[key] = value
    elif isinstance(data, list) and data:
        number = chance.randrange(len(data))
        if not _goes_deeper(data[number], value, chance):
            data[number] = value


def _goes_deeper(inner: object, value: object, chance: random.Random) -> bool:
    deeper = isinstance(inner, dict | list) and len(inner) > 0 and chance.random() < 0.8
    if deeper:
        _replace_somewhere(inner, value, chance)
    return deeper


@pytest.mark.parametrize(
    "value",
    [None, [], {}, [[]], [{}], [None], "", 0, True, 1.5, Decimal("NaN"), Decimal("1E+999999999")],
    ids=repr,
)
def test_every_key_of_every_table_with_every_type_of_value(value: object) -> None:
    for table, key in ((table, key) for table in TABLES for key in KEYS):
        data: object = {key: value}
        for name in reversed(table):
            data = {name: [data], "code": "A", "need": [{"part": "A", "per": value}]}
        check_outcome(check_plan(data, "plan"))


def test_a_bill_of_material_deeper_than_the_stack() -> None:
    parts = [{"code": f"P{n}", "need": [{"part": f"P{n + 1}"}]} for n in range(10_000)]
    _, problems = check_plan({"part": parts}, "plan")
    assert len(problems) == 1 + 10_000 * 5 + 1
