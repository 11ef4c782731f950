"""What must hold after any history, checked on random ones over all kinds of events."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from lotkin.core.cases.membership import all_cases, is_member, members_of
from lotkin.core.errors import NothingOverlaps, RuleBroken
from lotkin.core.events.reading import parse_event
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.where import Question, where_from, where_used
from lotkin.uses.asking.window import Window
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.recording.record import record
from tests.histories import AROUND, History
from tests.laws import (
    check_accounts,
    check_conserved,
    check_counts,
    check_exposure,
    check_graph,
    check_membership,
    check_records,
    check_stops,
    name_of,
)
from tests.small_works import PLAN, Works, dump, minute, moment

if TYPE_CHECKING:
    from lotkin.store.store import Store

Data = st.DataObject


def some_codes(history: History, most: int) -> list[str]:
    return history.several(tuple(history.items), most=most) if history.items else []


@settings(max_examples=60)
@given(st.data())
def test_the_journal_is_sound_and_all_else_follows_from_it(data: Data) -> None:
    history = History.drawn(data.draw)

    check_records(history.works)


@settings(max_examples=60)
@given(st.data())
def test_no_piece_appears_or_vanishes(data: Data) -> None:
    history = History.drawn(data.draw)

    check_conserved(history.works)
    check_graph(history.works)


@settings(max_examples=40)
@given(st.data())
def test_answers_hold_exactly_what_the_links_lead_to(data: Data) -> None:
    history = History.drawn(data.draw)

    check_membership(history.works, some_codes(history, 12))


@settings(max_examples=40)
@given(st.data())
def test_chances_lie_within_their_bounds_and_certain_things_are_certain(data: Data) -> None:
    history = History.drawn(data.draw)

    check_exposure(history.works, some_codes(history, 12))


@settings(max_examples=40)
@given(st.data())
def test_every_account_sums_to_what_there_was(data: Data) -> None:
    history = History.drawn(data.draw)

    check_accounts(history.works, some_codes(history, 12))


@settings(max_examples=40)
@given(st.data())
def test_every_suspect_piece_on_hand_is_in_the_list_to_stop_exactly_once(data: Data) -> None:
    history = History.drawn(data.draw)

    for code in some_codes(history, 6):
        check_stops(history.works, code)


@settings(max_examples=40)
@given(st.data())
def test_expected_and_at_most_never_exceed_the_pieces_there_were(data: Data) -> None:
    history = History(data.draw, planned=True)
    steps = AROUND[data.draw(st.sampled_from(("everything", "the bench", "mixing", "packing")))]
    history.stock_up()
    for _ in range(history.whole(5, 25)):
        history.step(*steps)
    history.look()

    check_counts(history.works, some_codes(history, 12))


@settings(max_examples=40)
@given(st.data())
def test_a_case_on_a_window_holds_what_the_question_of_that_window_names(data: Data) -> None:
    history = History.drawn(data.draw, most=15)
    works = history.works
    codes = some_codes(history, 2)
    assume(codes)
    begin = history.whole(0, works.minute)
    end = history.whole(begin, works.minute)
    window = Window(minute(begin), minute(end))
    case = works.data(
        "open-case", case="CASE-W", subjects=codes, reason="cracks", start=moment(begin),
        end=moment(end),
    )  # fmt: skip
    try:
        asked = contain(works.store, codes, Question(window=window))
    except NothingOverlaps:
        asked = None
    if asked is None or asked.answer.outside:
        with pytest.raises(RuleBroken, match=r"no run of .* overlaps"):
            works.send_in(case)
        return

    works.send_in(case)

    named = {item.code for item in asked.answer.subjects} | {row.code for row in asked.answer.items}
    with works.store.reading() as view:
        (opened,) = [each for each in all_cases(view) if each.code == "CASE-W"]
        assert set(members_of(view, opened)) == named
        assert {code for code in history.items if is_member(view, opened, code)} == named


Answers = tuple[object, ...]


def answers(store: Store, name: str, as_of: int | None) -> Answers:
    """Give all that is answered of an item now, or as of a position, in values that compare."""
    question = Question(as_of=as_of)
    used, origin = where_used(store, name, question), where_from(store, name, question)
    found = contain(store, [name], question)
    return (
        used.subjects,
        tuple(used.items),
        tuple(origin.items),
        found.accounts,
        found.subject_rows,
        (found.units, found.removed_units, found.expected, found.at_most_units),
        found.places,
        found.customers,
    )


@settings(max_examples=25)
@given(st.data())
def test_what_was_answered_at_a_journal_position_is_never_answered_otherwise(data: Data) -> None:
    history = History(data.draw, planned=bool(history_kind(data)))
    steps = AROUND[data.draw(st.sampled_from(tuple(AROUND)))]
    history.stock_up()
    then: list[tuple[int, str, Answers]] = []
    for _ in range(history.whole(1, 20)):
        history.step(*steps)
        history.look()
        code = history.pick(tuple(history.items))
        name = name_of(history.works, code)
        then.append((history.works.head(), code, answers(history.works.store, name, None)))

    for position, code, answer in then:
        assert answers(history.works.store, code, position) == answer, (position, code)


def history_kind(data: Data) -> int:
    return data.draw(st.integers(0, 1))


@settings(max_examples=25)
@given(st.data())
def test_a_refused_event_leaves_no_trace(data: Data) -> None:
    history = History(data.draw, planned=bool(history_kind(data)))
    history.stock_up()
    for _ in range(history.whole(1, 15)):
        before, refused = dump(history.works.store), len(history.refused)
        history.step()
        if len(history.refused) > refused:
            assert dump(history.works.store) == before, history.refused[-1]


@settings(max_examples=25)
@given(st.data())
def test_repeated_events_are_answered_the_same_and_change_nothing(data: Data) -> None:
    history = History.drawn(data.draw, most=15)
    plain, stuttering = Works(), Works()
    for works in (plain, stuttering):
        if history.planned:
            works.plan(PLAN)
    for sent in history.works.sent:
        event = parse_event(sent, "test")
        first = record(plain.store, [event], lambda: 0)[0]
        times = data.draw(st.integers(1, 3))
        said = [record(stuttering.store, [event], lambda: 0)[0] for _ in range(times)]
        earlier = parse_event(data.draw(st.sampled_from(history.works.sent)), "test")
        if stuttering.knows(str(earlier.id)):
            assert record(stuttering.store, [earlier], lambda: 0)[0].repeated

        assert said[0] == first
        assert all(one.repeated and one.seq == first.seq for one in said[1:])
        assert all(one.breaches == first.breaches for one in said)

    assert dump(stuttering.store) == dump(plain.store)


@settings(max_examples=25)
@given(st.data())
def test_events_recorded_together_are_recorded_as_one_by_one(data: Data) -> None:
    history = History.drawn(data.draw, most=15)
    apart, together = Works(), Works()
    for works in (apart, together):
        if history.planned:
            works.plan(PLAN)
    events = [parse_event(sent, "test") for sent in history.works.sent]
    for event in events:
        record(apart.store, [event], lambda: 0)
    record(together.store, events, lambda: 0)

    assert dump(together.store) == dump(apart.store)


@settings(max_examples=25)
@given(st.data())
def test_a_store_that_was_rebuilt_holds_the_same_and_goes_on_the_same(data: Data) -> None:
    history = History.drawn(data.draw, most=15)
    before = dump(history.works.store)
    rebuild(history.works.store)

    assert dump(history.works.store) == before

    history.step()
    check_records(history.works)
