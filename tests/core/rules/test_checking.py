"""What is past its date is not used, and what was used all the same says so."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from lotkin.core.errors import RuleBroken
from tests.small_works import Works, moment

if TYPE_CHECKING:
    from collections.abc import Callable

DUE = 30


@pytest.fixture
def works() -> Works:
    """A lot that can be used, and a gauge that is calibrated, up to minute 30."""
    works = Works()
    works.receive("GLUE", 10, due=moment(DUE))
    works.receive("TIPS", 10, item_kind="machined-lot", part="TIP")
    works.resource("CAL-1", "gauge", due=moment(DUE))
    return works


USES: dict[str, Callable[..., object]] = {
    "lot": lambda works, **more: works.make({"PART": 1}, {"GLUE": 1}, **more),
    "gauge": lambda works, **more: works.inspect("TIPS", "LOOK", resources=["CAL-1"], **more),
}


@pytest.mark.parametrize("what", USES)
def test_up_to_its_date_a_lot_or_a_gauge_is_used(works: Works, what: str) -> None:
    USES[what](works, at=DUE)


@pytest.mark.parametrize("what", USES)
def test_after_its_date_a_lot_or_a_gauge_is_refused(works: Works, what: str) -> None:
    with pytest.raises(RuleBroken) as refused:
        USES[what](works, at=DUE + 1)

    assert refused.value.rule == "past-due"


@pytest.mark.parametrize("what", USES)
def test_a_reported_use_after_its_date_is_recorded_with_the_breach(works: Works, what: str) -> None:
    USES[what](works, at=DUE + 1, reported=True)

    with works.store.reading() as view:
        last = view.entry(view.journal_head()[0])
    assert [breach.rule for breach in last.breaches] == ["past-due"]
