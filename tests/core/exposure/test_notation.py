"""The notation in which tests write genealogies."""

from __future__ import annotations

import pytest

from lotkin.core.values.kinds import Mixing
from tests.genealogies import Genealogy, read_genealogy


def test_the_docstring_of_a_test_is_its_genealogy(genealogy: Genealogy) -> None:
    """Two heats were cut into one lot, and a unit got two pieces of it.

    heat H48, H49
    bar-lot B1 60 m, B2 40 m
    machined-lot M 100
    unit U

    H48 -> B1
    H49 -> B2
    B1 0.6 + B2 0.4 -> M : one-of
    M 2 -> U : per 2
    """
    assert [item.code for item in genealogy.items] == ["H48", "H49", "B1", "B2", "M", "U"]
    assert [(item.quantity, item.unit) for item in genealogy.items] == [
        (None, ""),
        (None, ""),
        (60_000_000, "m"),
        (40_000_000, "m"),
        (100_000_000, "pcs"),
        (1_000_000, "pcs"),
    ]
    assert [(link.parent, link.child, link.mixing) for link in genealogy.links] == [
        ("H48", "B1", Mixing.EACH),
        ("H49", "B2", Mixing.EACH),
        ("B1", "M", Mixing.ONE_OF),
        ("B2", "M", Mixing.ONE_OF),
        ("M", "U", Mixing.EACH),
    ]
    assert [link.quantity for link in genealogy.links] == [None, None, 600_000, 400_000, 2_000_000]
    assert genealogy.links[-1].per == 2_000_000


def test_parents_in_one_line_share_a_group_unless_each_is_there_by_itself() -> None:
    links = read_genealogy("""
        purchased-lot A 1, B 1
        unit U, V
        A + B -> U
        A + B -> V : either
    """).links
    groups = [(link.child, link.event, link.group) for link in links]
    assert len(set(groups[:2])) == 2
    assert len(set(groups[2:])) == 1


def test_what_is_below_leaves_the_rest_of_a_mixture_outside(genealogy: Genealogy) -> None:
    """B is not reached from A, yet counts for the shares of M; C does not.

    purchased-lot A 10, B 30, C 5
    mixed-lot M 40
    unit U
    A 10 + B 30 -> M : one-of
    M 1 -> U
    C 1 -> U
    """
    below = genealogy.below("A")
    assert below.nodes.code == ["A", "M", "U"]
    assert list(zip(below.links.parent, below.links.child, strict=True)) == [
        (0, 1),
        (-1, 1),
        (1, 2),
    ]
    assert len(genealogy.whole("A").links.parent) == 4


def test_states_of_a_unit_share_its_serial() -> None:
    items = read_genealogy("unit U, U/2").items
    assert [item.serial for item in items] == ["U", "U"]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("purchased-lot A", "needs a quantity"),
        ("purchased-lot A 1, A 2", "declared twice"),
        ("purchased-lot A 1 pcs more", "a code, a quantity and a unit"),
        ("unit U\nX -> U", "line 2: X is not declared"),
        ("unit U\nU -> V", "line 2: V is not declared"),
        ("unit U, V\nU -> V : stirred", "line 2"),
        ("unit U, V\nU -> V : each 2", "comes `per`"),
        ("unit U, V\nU 1 pcs -> V", "a code and a quantity"),
        ("unit U, V\nU many -> V", "line 2"),
    ],
)
def test_a_wrong_line_is_refused_by_its_number(text: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        read_genealogy(text)
