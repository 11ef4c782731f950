"""What a case holds, what it lets through, and what it never loses."""

from __future__ import annotations

from typing import TYPE_CHECKING

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lotkin.core.cases.membership import find_case, is_member, members_of
from lotkin.core.errors import RuleBroken
from lotkin.core.values.kinds import Mixing
from lotkin.uses.evidence.rebuild import rebuild
from tests.dealt_works import BAD_LOT, deal
from tests.small_works import PLAN, Works, moment

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.fixture
def works() -> Works:
    """A lot BAD that is in M (made), in U1 and U2 (built), and still partly on the shelf."""
    works = Works(plan=PLAN)
    works.receive("BAD", 100, part="TIP", item_kind="machined-lot")
    works.receive("GOOD", 100, part="TIP", item_kind="machined-lot")
    works.receive("SCREWS", 500)
    works.make({"M": 20}, {"BAD": 20})
    works.mount({"P1": "M", "P2": "SCREWS"})
    works.build("U1")
    works.build("U2")
    works.test("U1")
    works.test("U2")
    return works


def opened(works: Works, *subjects: str, code: str = "C-1", **more: object) -> None:
    works.do("open-case", case=code, subjects=list(subjects), reason="cracks", **more)


def held(works: Works, code: str, case: str = "C-1") -> bool:
    with works.store.reading() as view:
        found = find_case(view, case)
        assert found is not None
        return is_member(view, found, code)


def decide(works: Works, decision: str, *items: str, case: str = "C-1", **more: object) -> None:
    fields: dict[str, object] = {"reason": "looked at", **more}
    if decision == "cleared by evidence":
        fields["evidence"] = "measured"
    members = [{"item": item} for item in items]
    works.do("decide", case=case, decision=decision, members=members, **fields)


ASKED: dict[str, Callable[[Works], object]] = {
    "make": lambda w: w.make({"N": 5}, {"BAD": 5}),
    "pool": lambda w: w.pool("N", {"BAD": 5, "GOOD": 5}),
    "split": lambda w: w.split("BAD", {"N": 5}),
    "send": lambda w: w.send("OUT", {"BAD": 5}),
    "mount": lambda w: w.mount({"P1": "BAD"}),
    "build with what is mounted": lambda w: w.build("U3"),
    "build with its own input": lambda w: w.build("U3", None, place="FLOOR", inputs={"BAD": 1}),
    "swap in": lambda w: w.swap("U1", add={"BAD": 1}),
    "swap": lambda w: w.swap("U1"),
    "dismantle": lambda w: w.do("dismantle", unit="U1"),
    "pack": lambda w: w.pack("CTN", {"U1": 1}),
    "ship": lambda w: w.ship("SHP", {"U1": 1}),
    "move": lambda w: w.do("move", item="BAD", to_place="FLOOR"),
}


@pytest.mark.parametrize("what", ASKED)
def test_a_member_cannot_be_used_or_leave_when_asked(works: Works, what: str) -> None:
    opened(works, "BAD")
    before = works.head()
    with pytest.raises(RuleBroken, match="case C-1"):
        ASKED[what](works)
    assert works.head() == before


def test_blending_a_member_is_refused() -> None:
    works = Works(plan=PLAN)
    works.powder("P-1")
    works.powder("P-2")
    opened(works, "P-1")
    with pytest.raises(RuleBroken, match="case C-1"):
        works.blend("B", {"P-1": 1, "P-2": 1})


ALWAYS: dict[str, Callable[[Works], object]] = {
    "move to quarantine": lambda w: w.do("move", item="BAD", to_place="RED-BOX"),
    "inspect": lambda w: w.inspect("U1", "Q", "rejected"),
    "sample": lambda w: w.do("scrap", item="BAD", quantity=2, end="sample", reason="cut open"),
    "count": lambda w: w.do("count", place="SHELF", item="BAD", counted=79),
    "scrap": lambda w: w.do("scrap", item="BAD", quantity=1, reason="crack"),
    "test": lambda w: w.test("U1"),
}


@pytest.mark.parametrize("what", ALWAYS)
def test_what_is_always_allowed_stays_allowed(works: Works, what: str) -> None:
    opened(works, "BAD")
    ALWAYS[what](works)


def test_taking_back_and_amending_stay_allowed(works: Works) -> None:
    works.send("OUT", {"GOOD": 10})
    made = works.make({"N": 5}, {"GOOD": 5})
    opened(works, "GOOD")
    works.take_back("OUT", {"GOOD-T": (10, "GOOD")})
    works.amend(made, note="by hand")
    assert held(works, "GOOD-T")


def test_what_is_made_later_joins_although_only_reported(works: Works) -> None:
    opened(works, "BAD")
    works.make({"N": 5}, {"BAD": 5}, reported=True)
    works.build("U3", reported=True)
    assert held(works, "N")
    assert held(works, "U3")
    assert works.log[-1].breaches[0].rule == "case-held"


def test_a_late_mount_brings_units_in(works: Works) -> None:
    works.receive("LATE", 50, part="TIP", item_kind="machined-lot")
    before = works.minute
    works.build("U3")
    opened(works, "LATE")
    assert not held(works, "U3")
    works.mount({"P1": "LATE"}, at=before, reported=True)
    assert held(works, "U3")


def test_what_a_correction_drops_stays_held_until_it_is_decided(works: Works) -> None:
    made = works.make({"N": 5}, {"BAD": 5})
    opened(works, "BAD")
    assert held(works, "N")
    works.amend(made, inputs=[{"item": "GOOD", "quantity": 5, "place": "SHELF"}])
    assert "N" not in works.used("BAD")
    assert held(works, "N")
    decide(works, "cleared by evidence", "N")
    assert not held(works, "N")


def members(works: Works, case: str = "C-1") -> set[str]:
    with works.store.reading() as view:
        found = find_case(view, case)
        assert found is not None
        return set(members_of(view, found))


def test_what_a_correction_drops_stays_in_the_case_that_it_was_in_and_in_no_other(
    works: Works,
) -> None:
    works.receive("TOO", 100, part="TIP", item_kind="machined-lot")
    of_bad = works.make({"N": 5}, {"BAD": 5})
    of_too = works.make({"O": 5}, {"TOO": 5})
    opened(works, "BAD")
    opened(works, "TOO", code="C-2")
    good = [{"item": "GOOD", "quantity": 5, "place": "SHELF"}]
    works.amend(of_bad, inputs=good)
    works.amend(of_too, inputs=good)

    assert {"BAD", "N"} <= members(works)
    assert not {"TOO", "O"} & members(works)
    assert members(works, "C-2") == {"TOO", "O"}
    assert not held(works, "O")
    assert not held(works, "N", case="C-2")


def test_a_released_member_frees_what_was_made_from_it_unless_another_way_leads_there(
    works: Works,
) -> None:
    works.make({"K": 5}, {"BAD": 5})
    works.pool("P", {"M": 2, "K": 2})
    opened(works, "BAD")
    decide(works, "use-as-is", "M")
    assert not held(works, "U1")
    assert held(works, "P")
    decide(works, "use-as-is", "K")
    assert not held(works, "P")
    assert held(works, "BAD")


def test_another_case_holds_on(works: Works) -> None:
    opened(works, "BAD")
    opened(works, "SCREWS", code="C-2")
    decide(works, "use-as-is", "BAD", "M", "U1", "U2")
    assert not held(works, "U1")
    with pytest.raises(RuleBroken, match="case C-2"):
        works.pack("CTN", {"U1": 1})
    decide(works, "use-as-is", "U1", case="C-2")
    works.pack("CTN", {"U1": 1})


def test_rework_is_allowed_under_that_decision_only(works: Works) -> None:
    opened(works, "BAD")
    decide(works, "rework", "BAD")
    works.make({"N": 5}, {"BAD": 5})
    assert held(works, "N")
    with pytest.raises(RuleBroken):
        works.mount({"P1": "BAD"})


def test_part_of_a_member_is_decided_by_splitting_it_off(works: Works) -> None:
    opened(works, "BAD")
    works.do(
        "decide",
        case="C-1",
        decision="use-as-is",
        reason="sound",
        members=[{"item": "BAD", "quantity": 30}],
    )
    assert works.stock("BAD/2") == {"SHELF": 30}
    assert not held(works, "BAD/2")
    assert held(works, "BAD")


def test_a_window_narrows_to_what_was_done_in_it(works: Works) -> None:
    late = works.minute + 10
    works.minute = late
    works.make({"N": 5}, {"BAD": 5}, run="RUN-N", started=moment(late), at=late + 1)
    opened(works, "BAD", start="2026-03-02T06:00:00Z", end="2026-03-02T06:05:00Z")
    assert held(works, "M")
    assert held(works, "U1")
    assert not held(works, "N")
    assert {"BAD", "M", "U1", "U2"} <= members(works)
    assert "N" not in members(works)


def test_a_threshold_leaves_out_what_has_less(works: Works) -> None:
    works.pool("P", {"BAD": 1, "GOOD": 9})
    opened(works, "BAD", min_content="0.5")
    assert held(works, "M")
    assert not held(works, "P")


def test_a_case_closes_only_when_every_piece_is_decided(works: Works) -> None:
    opened(works, "BAD")
    with pytest.raises(RuleBroken, match="not decided"):
        works.do("close-case", case="C-1", reason="done")
    decide(works, "scrap", "BAD", "M")
    with pytest.raises(RuleBroken, match="U1, U2"):
        works.do("close-case", case="C-1", reason="done")
    decide(works, "use-as-is", "U1", "U2")
    works.do("close-case", case="C-1", reason="done")
    works.build("U3", reported=True)


def test_a_piece_that_comes_back_opens_a_closed_case_again(works: Works) -> None:
    works.pack("CTN", {"U1": 1})
    works.ship("SHP", {"CTN": 1}, customer="CLINIC")
    opened(works, "BAD")
    decide(works, "scrap", "BAD", "M", "U2")
    decide(works, "not recoverable", "U1")
    works.do("close-case", case="C-1", reason="done")
    with works.store.reading() as view:
        found = find_case(view, "C-1")
        assert found is not None
        assert found.closed_by
    works.do("return", item="U1", to_place="RED-BOX", reason="came after all")
    with works.store.reading() as view:
        found = find_case(view, "C-1")
        assert found is not None
        assert not found.closed_by


def test_a_decision_needs_a_member_and_evidence_where_it_says_so(works: Works) -> None:
    opened(works, "BAD")
    with pytest.raises(RuleBroken, match="not held"):
        decide(works, "scrap", "GOOD")
    with pytest.raises(Exception, match="evidence"):
        works.do(
            "decide",
            case="C-1",
            decision="cleared by evidence",
            reason="x",
            members=[{"item": "BAD"}],
        )


def test_everything_follows_from_the_journal(works: Works) -> None:
    opened(works, "BAD")
    decide(works, "use-as-is", "M")
    works.do(
        "decide", case="C-1", decision="scrap", reason="x", members=[{"item": "BAD", "quantity": 3}]
    )
    assert rebuild(works.store, check_only=True).difference == ""


@given(seed=st.integers(0, 2**32))
@settings(max_examples=12, deadline=None)
def test_every_unit_that_truly_contains_a_planted_piece_is_held(seed: int) -> None:
    """Recall is total, at opening and after two hundred further events.

    Pieces are dealt at random as a works would never know it; the truth is compared with the case.
    """
    works = Works()
    dealt = deal(works, seed, turns=30)
    opened(works, BAD_LOT)
    with works.store.reading() as view:
        case = find_case(view, "C-1")
        assert case is not None
        assert dealt.bad_units <= set(members_of(view, case))
    dealt = deal(works, seed, turns=200, before=dealt)
    with works.store.reading() as view:
        case = find_case(view, "C-1")
        assert case is not None
        members = set(members_of(view, case))
        assert dealt.bad_units <= members
        assert all(is_member(view, case, code) for code in dealt.bad_units)
        graph = nx.DiGraph(
            (link.parent, link.child)
            for link in view.all_links()
            if link.mixing is not Mixing.FORMER
        )
        assert members == nx.descendants(graph, BAD_LOT) | {BAD_LOT}
