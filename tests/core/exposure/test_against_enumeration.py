"""The computed exposure against what really may have happened, deal by deal."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings

from lotkin.core.exposure.exposure import expose
from lotkin.core.exposure.upper_bound import at_most_units
from lotkin.core.values.kinds import Mixing
from tests.core.exposure.assignments import SETUP, enumerate_truth, write_genealogy
from tests.core.exposure.made_up import MIXINGS, Asked, any_history, make_up, spread_history
from tests.genealogies import read_genealogy

TOLERANCE = 1e-9


@settings(max_examples=1200)
@given(spread_history)
def test_the_chance_is_exact_where_the_terms_are_independent(asked: Asked) -> None:
    history, sources = asked
    truth = enumerate_truth(history, sources)
    exposed = read_genealogy(write_genealogy(history)).exposed_to(*sources)
    for code, chance in truth.chance.items():
        computed = exposed[code].chance if code in exposed else 0.0
        assert computed == pytest.approx(float(chance), abs=TOLERANCE), code


@settings(max_examples=200)
@given(spread_history)
def test_certain_is_what_every_deal_shows(asked: Asked) -> None:
    history, sources = asked
    truth = enumerate_truth(history, sources)
    exposed = read_genealogy(write_genealogy(history)).exposed_to(*sources)
    assert {code for code, seen in exposed.items() if seen.certain} == truth.always


@settings(max_examples=200)
@given(spread_history)
def test_expected_units_are_exact_where_the_terms_are_independent(asked: Asked) -> None:
    history, sources = asked
    truth = enumerate_truth(history, sources)
    exposed = read_genealogy(write_genealogy(history)).exposed_to(*sources)
    units = [made.code for made in history if made.kind == "unit" and made.code in exposed]
    expected = sum(exposed[code].chance or 0.0 for code in units)
    assert expected == pytest.approx(float(truth.expected_units), abs=TOLERANCE)


@settings(max_examples=1500)
@given(any_history)
def test_the_bounds_hold_whatever_happened(asked: Asked) -> None:
    history, sources = asked
    truth = enumerate_truth(history, sources)
    exposed = read_genealogy(write_genealogy(history)).exposed_to(*sources)
    for code, chance in truth.chance.items():
        if code not in exposed:
            assert chance == 0, code
            continue
        seen = exposed[code]
        assert seen.low - TOLERANCE <= chance <= seen.high + TOLERANCE, (code, chance, seen)
        if seen.chance is not None:
            assert seen.low - TOLERANCE <= seen.chance <= seen.high + TOLERANCE, (code, seen)


@settings(max_examples=600)
@given(any_history)
def test_what_is_certain_is_so_in_every_deal(asked: Asked) -> None:
    history, sources = asked
    truth = enumerate_truth(history, sources)
    exposed = read_genealogy(write_genealogy(history)).exposed_to(*sources)
    setups = {made.code for made in history if made.kind == SETUP}
    certain = {code for code, seen in exposed.items() if seen.certain}
    assert certain - setups <= truth.always


@settings(max_examples=1500)
@given(any_history)
def test_no_deal_affects_more_units_than_at_most(asked: Asked) -> None:
    history, sources = asked
    truth = enumerate_truth(history, sources)
    reach = read_genealogy(write_genealogy(history)).below(*sources)
    assert truth.most_units <= at_most_units(reach, expose(reach, reach.starts))


@settings(max_examples=200)
@given(any_history)
def test_the_unreached_rest_of_the_graph_changes_nothing(asked: Asked) -> None:
    history, sources = asked
    genealogy = read_genealogy(write_genealogy(history))
    exposed = genealogy.exposed_to(*sources)
    whole = genealogy.whole(*sources)
    found = expose(whole, whole.starts)
    for i, code in enumerate(whole.nodes.code):
        assert found.reached[i] == (code in exposed)
        if found.reached[i]:
            seen = exposed[code]
            assert found.certain[i] == seen.certain
            assert (found.chance[i] is None) == (seen.chance is None)
            assert found.chance[i] == pytest.approx(seen.chance, abs=TOLERANCE)
            assert (found.low[i], found.high[i]) == pytest.approx((seen.low, seen.high))
            assert found.content[i] == pytest.approx(seen.content)
    reach = genealogy.below(*sources)
    assert at_most_units(whole, found) == at_most_units(reach, expose(reach, reach.starts))


@pytest.mark.parametrize("spread", [False, True])
def test_the_made_up_histories_are_worth_the_trouble(spread: bool) -> None:
    """In both classes every mixing occurs where a piece is neither certain nor spared."""
    seen: Counter[Mixing] = Counter()
    for seed in range(300):
        history, sources = make_up(seed, spread=spread)
        truth = enumerate_truth(history, sources)
        for made in history:
            if 0 < truth.chance.get(made.code, 0) < 1:
                seen.update(draw.mixing for draw in made.draws)
    assert min(seen[mixing] for mixing in MIXINGS) >= 10, seen
