"""Where to hold first: what hangs on what, by the definition, and points that hold all once."""

from __future__ import annotations

from collections.abc import Iterable
from collections.abc import Set as AbstractSet
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from lotkin.core.answers.holding_points import FROM_SUBJECTS, UNREACHED, dominators, holding_points
from lotkin.core.answers.rows import Here
from lotkin.core.exposure.reach import LinkColumns, NodeColumns, Reach
from lotkin.core.values.kinds import Mixing
from lotkin.core.values.quantities import MICRO


def reach_of(
    links: list[tuple[int, int]],
    starts: list[int],
    former: AbstractSet[tuple[int, int]] = frozenset(),
    *,
    kinds: dict[int, str] | None = None,
) -> Reach:
    """Make a reach of numbered lots."""
    n = max([*starts, *(i for link in links for i in link)]) + 1
    kind = [(kinds or {}).get(i, "machined-lot") for i in range(n)]
    nodes = NodeColumns(
        [f"L{i}" for i in range(n)], kind, [""] * n, [10 * MICRO] * n, ["pcs"] * n, [""] * n
    )
    mixing = [Mixing.FORMER if link in former else Mixing.EACH for link in links]
    m = len(links)
    columns = LinkColumns(
        [parent for parent, _ in links],
        [child for _, child in links],
        list(range(m)),
        [0] * m,
        mixing,
        [MICRO] * m,
        [MICRO] * m,
        ["pcs"] * m,
    )
    return Reach(nodes, columns, starts)


def here(place: str = "SHELF", quantity: int = 1, within: str = "") -> tuple[Here, ...]:
    return (Here(place, "shelf", within, quantity * MICRO),)


@settings(max_examples=200)
@given(st.integers(0, 10**9))
def test_an_item_hangs_on_the_nearest_one_without_which_nothing_leads_to_it(seed: int) -> None:
    """By the definition: take an item away, and see what is no longer reached."""
    random = Random(seed)
    n = random.randint(2, 14)
    pairs = [(a, b) for b in range(n) for a in range(b) if random.random() < 0.25]
    starts = sorted(random.sample(range(n), random.randint(1, 2)))
    former = {pair for pair in pairs if random.random() < 0.1}
    pairs.append((0, n))
    links = [pair for pair in pairs if pair not in former]

    found = dominators(reach_of(pairs, starts, former))

    everything = led_to(links, starts)
    needed = {k: everything - led_to(links, starts, without=k) - {k} for k in everything}
    for i, above in enumerate(found):
        over = {k for k in everything if i in needed[k]}
        if i not in everything:
            assert above == UNREACHED
        elif not over:
            assert above == FROM_SUBJECTS
        else:
            # the nearest one itself hangs on all the others
            assert above in over
            assert all(above in needed[k] for k in over - {above})


def led_to(
    links: Iterable[tuple[int, int]], starts: Iterable[int], *, without: int = -1
) -> set[int]:
    """Give what links lead to from some starts, when one item is taken away."""
    reached = set(starts) - {without}
    for parent, child in sorted(links):  # numbered so that parents come first
        if parent in reached and child != without:
            reached.add(child)
    return reached


def test_a_lot_on_the_shelf_holds_what_hangs_on_it_alone() -> None:
    reach = reach_of([(0, 1), (0, 2), (1, 3), (1, 4), (2, 4)], [0], kinds={3: "unit", 4: "unit"})
    on_hand = {1: here(quantity=7), 3: here("PACK"), 4: here("PACK")}

    first, second = holding_points(reach, on_hand)

    # a unit of both lots hangs on neither alone
    assert (first.code, first.items, first.units, first.pieces) == ("L1", 2, 1, 8 * MICRO)
    assert (second.code, second.items, second.units) == ("L4", 1, 1)


def test_a_subject_stands_for_itself_only() -> None:
    reach = reach_of([(0, 1), (0, 2)], [0])

    points = holding_points(reach, {0: here(quantity=3), 1: here(quantity=5), 2: here()})

    assert [(point.code, point.items) for point in points] == [("L1", 1), ("L0", 1), ("L2", 1)]


def test_what_lies_in_one_carton_is_one_point() -> None:
    reach = reach_of(
        [(0, 1), (0, 2), (0, 3), (1, 4), (2, 4)],
        [0],
        kinds={1: "unit", 2: "unit", 3: "unit", 4: "carton"},
    )
    on_hand = {1: here("PACK", within="L4"), 2: here("PACK", within="L4"), 3: here("PACK")}

    first, second = holding_points(reach, on_hand)

    assert (first.code, first.kind, first.units, first.own) == ("L4", "carton", 2, 2 * MICRO)
    assert [each.place for each in first.at] == ["PACK"]
    assert second.code == "L3"


def test_what_a_repair_took_out_is_not_to_be_held() -> None:
    reach = reach_of([(0, 1), (1, 2)], [0], {(1, 2)}, kinds={1: "unit", 2: "unit"})

    assert holding_points(reach, {2: here()}) == []


@given(st.integers(0, 10**9))
def test_the_points_hold_everything_on_hand_once(seed: int) -> None:
    random = Random(seed)
    n = random.randint(2, 14)
    links = [(random.randrange(b), b) for b in range(1, n)]
    links += [(a, b) for b in range(n) for a in range(b) if random.random() < 0.15]
    reach = reach_of(sorted(set(links)), [0])
    on_hand = {i: here(quantity=random.randint(1, 9)) for i in range(n) if random.random() < 0.5}

    points = holding_points(reach, on_hand)

    assert sum(point.items for point in points) == len(on_hand)
    total = sum(each.quantity for hereabouts in on_hand.values() for each in hereabouts)
    assert sum(point.pieces for point in points) == total
