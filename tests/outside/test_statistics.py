"""Sampling, evidence and tests of a suspicion against published values and scipy.

Sources: `statistics.json` beside this file. Published there: the success-run counts of the
handbooks (95/95 -> 59, 90/90 -> 22, 95/99 -> 299), Fisher's tea tasting (1/70), the 15 p-values of
Benjamini and Hochberg 1995; the others were computed with scipy and exact fractions apart from the
project. scipy (BSD-3-Clause) is asked again here as a second implementation.
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from lotkin.core.quality.cause import adjusted, fisher_greater
from lotkin.core.quality.evidence import share_at_least, share_at_most, share_bounds
from lotkin.core.quality.sampling import acceptance, sample_plan, success_run

VALUES: dict[str, Any] = json.loads(
    Path(__file__).with_name("statistics.json").read_text(encoding="utf-8")
)


def exact(number: float) -> Fraction:
    return Fraction(str(number))


@pytest.mark.parametrize("row", VALUES["success_run"], ids=str)
def test_a_success_run_has_the_published_length(row: dict[str, float]) -> None:
    confidence, reliability = exact(row["confidence"]), exact(row["reliability"])

    n = success_run(confidence, reliability)

    assert n == row["n"]
    assert reliability**n <= 1 - confidence < reliability ** (n - 1)


@pytest.mark.parametrize("row", VALUES["hypergeometric_acceptance"], ids=str)
def test_the_chance_to_pass_is_that_fraction(row: dict[str, Any]) -> None:
    passes = acceptance(row["lot"], row["defective"], row["sample"], row["accept"])

    assert passes == Fraction(row["p_accept_exact"])


@pytest.mark.parametrize("row", VALUES["clopper_pearson"], ids=str)
def test_bounds_of_a_share_are_those_of_clopper_and_pearson(row: dict[str, Any]) -> None:
    low, high = share_bounds(row["k"], row["n"], row["conf"])

    assert low == pytest.approx(row["low"], abs=1e-11)
    assert high == pytest.approx(row["high"], abs=1e-11)


@pytest.mark.parametrize("row", VALUES["zero_failures_upper_one_sided_95"], ids=str)
def test_a_clean_sample_has_the_upper_bound_of_the_table(row: dict[str, float]) -> None:
    assert share_at_most(0, int(row["n"]), 0.95) == pytest.approx(row["upper"], rel=1e-12)
    # the rule of three is the usual short cut, and always on the safe side
    assert share_at_most(0, int(row["n"]), 0.95) < row["rule_of_three"]


counts = st.integers(1, 200).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n)))


@given(counts, st.sampled_from([0.8, 0.9, 0.95, 0.99]))
def test_one_sided_bounds_are_those_of_scipy(count: tuple[int, int], confidence: float) -> None:
    bad, checked = count

    above = stats.binomtest(bad, checked, alternative="less").proportion_ci(confidence)
    below = stats.binomtest(bad, checked, alternative="greater").proportion_ci(confidence)

    assert share_at_most(bad, checked, confidence) == pytest.approx(above.high, abs=1e-9)
    assert share_at_least(bad, checked, confidence) == pytest.approx(below.low, abs=1e-9)


@given(st.data())
def test_a_sample_is_the_smallest_that_scipy_finds(data: st.DataObject) -> None:
    lot = data.draw(st.integers(1, 120))
    bad = data.draw(st.integers(1, lot))
    allowed = data.draw(st.integers(0, min(3, bad - 1)))

    plan = sample_plan(lot, bad, Fraction(9, 10), allowed)

    passes = [stats.hypergeom.cdf(allowed, lot, bad, n) for n in range(lot + 1)]
    assert float(plan.risk) == pytest.approx(passes[plan.sample], abs=1e-9)
    assert passes[plan.sample] <= 0.1 + 1e-9
    assert passes[plan.sample - 1] > 0.1 - 1e-9


@pytest.mark.parametrize("row", VALUES["fisher_exact"], ids=lambda row: str(row["name"]))
def test_a_table_of_counts_has_that_p_value(row: dict[str, Any]) -> None:
    (a, b), (c, d) = row["table"]

    assert fisher_greater((a, b), (c, d)) == Fraction(row["p_greater_exact"])


@given(st.tuples(*[st.integers(0, 40)] * 4))
def test_a_p_value_is_that_of_scipy(counts: tuple[int, int, int, int]) -> None:
    a, b, c, d = counts

    theirs = stats.fisher_exact(np.array([[a, b], [c, d]]), alternative="greater").pvalue
    assert float(fisher_greater((a, b), (c, d))) == pytest.approx(theirs, rel=1e-9)


def test_adjusting_rejects_the_four_of_benjamini_and_hochberg() -> None:
    published = VALUES["benjamini_hochberg"]

    found = [float(p) for p in adjusted([exact(p) for p in published["p"]])]

    assert found == pytest.approx(published["bh_adjusted"], rel=1e-12)
    assert sum(p <= published["alpha"] for p in found) == published["bh_rejected"] == 4


@given(st.lists(st.floats(0, 1), min_size=1, max_size=20))
def test_adjusted_p_values_are_those_of_scipy(values: list[float]) -> None:
    found = [float(p) for p in adjusted([Fraction(p) for p in values])]

    assert found == pytest.approx(list(stats.false_discovery_control(values)), rel=1e-12)
