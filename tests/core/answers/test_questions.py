"""What hangs on a question: against cutting the group out and walking again."""

from __future__ import annotations

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from lotkin.core.answers.questions import next_questions
from lotkin.core.exposure.exposure import expose
from lotkin.core.exposure.reach import LinkColumns, NodeColumns, Reach
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.quantities import MICRO

Row = tuple[int, int, int, Mixing]
"""Parent, child, group, mixing."""


def random_rows(random: Random, n: int) -> list[Row]:
    rows: list[Row] = []
    for child in range(1, n):
        for group in range(random.randint(1, 2)):
            mixing = random.choice([Mixing.EACH, Mixing.ONE_OF, Mixing.EITHER])
            count = 1 if mixing is Mixing.EACH else random.randint(1, min(3, child))
            parents = random.sample(range(child), count)
            if mixing is not Mixing.EACH and random.random() < 0.7:
                parents.append(-1)  # one that is not suspect
            rows += [(parent, child, group, mixing) for parent in parents]
    return rows


def reach_of(rows: list[Row], n: int) -> Reach:
    m = len(rows)
    kinds = ["machined-lot"] * n
    codes = [f"L{i}" for i in range(n)]
    return Reach(
        NodeColumns(codes, kinds, [""] * n, [10 * MICRO] * n, ["pcs"] * n, [""] * n),
        LinkColumns(
            [row[0] for row in rows],
            [row[1] for row in rows],
            [1] * m,
            [row[2] for row in rows],
            [row[3] for row in rows],
            [MICRO] * m,
            [MICRO] * m,
            ["pcs"] * m,
        ),
        [0],
    )


def walk(rows: list[Row]) -> set[int]:
    found = {0}
    for _ in rows:
        found |= {child for parent, child, _, _ in rows if parent in found}
    return found


@settings(max_examples=200)
@given(st.integers(0, 10**9), st.integers(2, 9))
def test_what_hangs_on_a_question_is_what_cutting_it_out_frees(seed: int, n: int) -> None:
    random = Random(seed)
    rows = random_rows(random, n)
    reach = reach_of(rows, n)
    weights = {i: random.randint(0, 5) for i in range(n)}

    questions = next_questions(reach, expose(reach, [0]), weights)

    for question in questions:
        left = [row for row in rows if (row[1], row[2]) != (question.item, question.group)]
        freed = walk(rows) - walk(left)
        assert question.hanging == sum(weights[i] for i in freed) > 0
        # all took one piece each: every parent is equally likely
        members = [row[0] for row in rows if (row[1], row[2]) == (question.item, question.group)]
        sound = sum(parent < 0 for parent in members) / len(members)
        assert abs(question.chance_free - sound) < 1e-9
        assert question.expected == question.chance_free * question.hanging
    assert questions == sorted(
        questions, key=lambda question: (-question.expected, f"L{question.item}")
    )
