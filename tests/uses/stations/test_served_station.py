"""A station of the service: scans have ids, may come late, and are answered once."""

from __future__ import annotations

import threading
import uuid
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lotkin.core.access.rights import Right, Who, rights_of
from lotkin.core.dialogue import Reply, Want
from lotkin.uses.cases.case_work import Person, open_case, show_case
from lotkin.uses.evidence.verify import verify
from lotkin.uses.recording.load_plan import load_plan
from lotkin.uses.stations.served_station import SentScan, StationDesk, mark_seen, scans_to_look_at
from lotkin.wiring import create_store
from tests.scanning.station import BAR_LABEL, PLAN, ScannedWorks

IDA = Who("ida", "Ida Quell", rights_of(["receiving", "operator", "quality"]))
MINUTE = 60_000_000


@pytest.fixture
def works() -> ScannedWorks:
    return ScannedWorks()


def desk(works: ScannedWorks, place: str, name: str = "") -> StationDesk:
    return StationDesk(works.store, name or f"tablet {place}", place, works.clock)


def scan(desk: StationDesk, *texts: str, who: Who = IDA) -> Reply:
    for text in texts:
        reply, _ = desk.take(SentScan(str(uuid.uuid4()), text), who)
    return reply


def late(*texts: str, minutes: int = 30, person: str = "ida") -> list[SentScan]:
    """Make scans that waited, a minute apart, the oldest that many minutes."""
    return [
        SentScan(str(uuid.uuid4()), text, (minutes * MINUTE) - i * MINUTE, person)
        for i, text in enumerate(texts)
    ]


def events(works: ScannedWorks) -> int:
    with works.store.reading() as view:
        return view.journal_head()[0]


def test_a_scan_sent_twice_is_taken_once_and_answered_the_same(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    lathe = desk(works, "LATHE")
    scan(lathe, "T-1/10", bar, "LATHE-1", "98", "", "5.98")
    confirm = SentScan(str(uuid.uuid4()), "$CONFIRM")
    first, _ = lathe.take(confirm, IDA)
    before = events(works)
    again, _ = lathe.take(confirm, IDA)
    assert first == again
    assert first.tone == "done"
    assert events(works) == before


def test_the_hand_says_what_comes_next(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    lathe = desk(works, "LATHE")
    assert lathe.look(IDA).wants is Want.SCAN
    scan(lathe, "T-1/10")
    hand = lathe.look(IDA)
    assert (hand.title, hand.about, hand.wants) == ("step", "T-1/10", Want.SCAN)
    scan(lathe, bar, "LATHE-1", "98")
    hand = lathe.look(IDA)
    assert hand.wants is Want.NUMBER
    assert hand.proposal is not None
    scan(lathe, "", "5.98")
    assert lathe.look(IDA).wants is Want.CONFIRM
    scan(lathe, "$CONFIRM")
    assert lathe.look(IDA).can_undo


def test_what_waited_while_a_hold_was_placed_is_recorded_and_flagged(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    works.wait(60)
    waiting = late("T-1/10", bar, "LATHE-1", "98", "", "5.98", "$CONFIRM")
    code = open_case(works.store, [bar], "wrong alloy", Person("ida", works.clock)).case.code
    lathe = desk(works, "LATHE")
    replies = [lathe.take(one, IDA)[0] for one in waiting]
    assert [reply.tone for reply in replies if reply.tone == "refused"] == []
    assert replies[-1].tone == "done"
    assert "recorded although" in replies[-1].say
    assert code in replies[-1].say
    made = works.only("machined-lot", "STEM")
    assert made in show_case(works.store, code).members
    with works.store.reading() as view:
        entry = view.entry(view.journal_head()[0])
    assert entry.reported
    assert entry.at < entry.recorded_at - 20 * MINUTE


def test_the_same_asked_for_now_is_refused(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    open_case(works.store, [bar], "wrong alloy", Person("ida", works.clock))
    assert scan(desk(works, "LATHE"), "T-1/10", bar).tone == "refused"


def test_late_scans_that_lead_nowhere_are_kept_until_somebody_looks(works: ScannedWorks) -> None:
    lathe = desk(works, "LATHE")
    for one in late("T-1/10", "NO-SUCH-LOT", "$CANCEL"):
        lathe.take(one, IDA)
    (kept,) = scans_to_look_at(works.store)
    assert kept.text == "NO-SUCH-LOT"
    assert kept.place == "LATHE"
    assert mark_seen(works.store, kept.id, "ida")
    assert not mark_seen(works.store, kept.id, "ida")
    assert scans_to_look_at(works.store) == []


def test_a_late_work_that_is_nonsense_does_not_swallow_the_next(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    lathe = desk(works, "LATHE")
    # made before the bar was: a child older than its parent
    for one in late("T-1/10", bar, "LATHE-1", "98", "", "5.98", "$CONFIRM", minutes=100_000):
        reply, _ = lathe.take(one, IDA)
    assert reply.tone == "refused"
    assert "kept for quality" in reply.say
    assert lathe.look(IDA).title == ""
    for one in late("T-1/10", bar, "LATHE-1", "98", "", "5.98", "$CONFIRM", minutes=9):
        reply, _ = lathe.take(one, IDA)
    assert reply.tone == "done"
    assert [kept.text for kept in scans_to_look_at(works.store)] == ["$CONFIRM"]


def test_a_station_goes_on_after_the_service_was_stopped(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    scan(desk(works, "LATHE"), "T-1/10", bar, "LATHE-1")
    again = desk(works, "LATHE")
    assert again.look(IDA).scans == ("T-1/10", bar, "LATHE-1")
    assert scan(again, "98", "", "5.98", "$CONFIRM").tone == "done"


def test_nobody_records_what_their_role_does_not_give(works: ScannedWorks) -> None:
    operator = Who("ida", "Ida Quell", frozenset({Right.ASK, Right.WORK}))
    store = desk(works, "STORE")
    before = events(works)
    reply = scan(store, BAR_LABEL, "STORE", "", "$CONFIRM", who=operator)
    assert reply.tone == "refused"
    assert "may not receive" in reply.say
    assert events(works) == before


def test_an_operator_takes_their_own_work_back(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    operator = Who("ida", "Ida Quell", frozenset({Right.ASK, Right.WORK}))
    lathe = desk(works, "LATHE")
    scan(lathe, "T-1/10", bar, "LATHE-1", "98", "", "5.98", "$CONFIRM", who=operator)
    assert scan(lathe, "$UNDO", who=operator).say.startswith("undone")


def test_twenty_devices_at_once_lose_and_double_nothing(tmp_path: Path) -> None:
    works = ScannedWorks(create_store(str(tmp_path / "works.db")))
    bars = [_bar(works, heat) for heat in range(20)]
    replies: dict[int, Reply] = {}

    def work(number: int) -> None:
        lathe = StationDesk(works.store, f"tablet {number}", "LATHE", works.clock)
        replies[number] = scan(
            lathe, "T-1/10", bars[number], "LATHE-1", "5", "", "5.98", "$CONFIRM"
        )

    threads = [threading.Thread(target=work, args=(number,)) for number in range(20)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert {reply.tone for reply in replies.values()} == {"done"}, replies
    with works.store.reading() as view:
        made = [item for item in view.all_items() if item.kind == "machined-lot"]
    assert len(made) == 20
    assert verify(works.store).is_sound


def filled(works: ScannedWorks, *, with_plan: bool = True) -> ScannedWorks:
    """Give a works what it needs before its first bar comes."""
    if with_plan:
        load_plan(works.store, PLAN.read_text(), PLAN.name, by="ida", clock=works.clock)
    works.event("receive", code="LATHE-1", item_kind="machine", part="LATHE-1", place="LATHE")
    works.event("issue", traveller="T-1", part="STEM", quantity=100)
    return works


def _bar(works: ScannedWorks, heat: int) -> str:
    before = set(works.items())
    store = StationDesk(works.store, "tablet STORE", "STORE", works.clock)
    reply = scan(store, BAR_LABEL.replace("H4711", f"H{heat}"), "STORE", "", "$CONFIRM")
    assert reply.tone == "done", reply
    new = set(works.items()) - before
    return next(code for code in new if works.items()[code].kind == "bar-lot")


BEN = Who("ben", "Ben Achter", frozenset({Right.ASK, Right.WORK}))


@pytest.fixture
def two() -> ScannedWorks:
    """Give a works with a second person in its plan."""
    person = '[[person]]\ncode = "ben"\nname = "Ben Achter"\nroles = ["operator"]\n\n'
    return ScannedWorks(plan=f"{person}{PLAN.read_text()}")


def author(works: ScannedWorks) -> str:
    with works.store.reading() as view:
        return view.entry(view.journal_head()[0]).by


def note(works: ScannedWorks) -> str:
    with works.store.reading() as view:
        return str(view.entry(view.journal_head()[0]).data.get("note", ""))


def test_a_badge_alone_lets_nobody_in_and_nothing_is_recorded_for_the_last_one(
    two: ScannedWorks,
) -> None:
    bar, _ = two.bar_and_blanks()
    store = desk(two, "STORE")
    reply, hand = store.take(SentScan(str(uuid.uuid4()), "ben"), IDA)
    assert "Ben Achter: enter your PIN" in reply.ask
    assert (hand.claim, hand.claim_name) == ("ben", "Ben Achter")
    before = events(two)
    assert scan(store, "$MOVE").tone == "refused"
    assert events(two) == before
    assert scan(store, "$MOVE", bar, "OUT", "1", "$CONFIRM", who=BEN).tone == "done"
    assert author(two) == "ben"


def test_whoever_was_signed_in_goes_on_after_their_own_badge(two: ScannedWorks) -> None:
    bar, _ = two.bar_and_blanks()
    store = desk(two, "STORE")
    scan(store, "ben", "ida")
    assert scan(store, "$MOVE", bar, "OUT", "1", "$CONFIRM").tone == "done"
    assert author(two) == "ida"


def test_who_signs_in_anew_is_asked_about_work_of_another(two: ScannedWorks) -> None:
    bar, _ = two.bar_and_blanks()
    lathe = desk(two, "LATHE")
    scan(lathe, "T-1/10", bar, "LATHE-1")
    hand = lathe.look(BEN)
    assert hand.wants is Want.CHOICE
    assert hand.choices == ("$TAKEOVER", "$CANCEL")
    assert "Ida Quell has begun this" in hand.ask
    assert scan(lathe, "98", who=BEN).tone == "refused"
    assert scan(lathe, "$TAKEOVER", "98", "", "5.98", "$CONFIRM", who=BEN).tone == "done"
    assert (author(two), note(two)) == ("ben", "begun by ida")


def test_a_badge_scanned_while_the_service_was_away_is_whoever_follows(two: ScannedWorks) -> None:
    bar, _ = two.bar_and_blanks()
    two.wait(60)
    lathe = desk(two, "LATHE")
    for one in late("ben", "T-1/10", bar, "LATHE-1", "98", "", "5.98", "$CONFIRM"):
        reply, _ = lathe.take(one, IDA)
    assert reply.tone == "done", reply
    assert author(two) == "ben"
    assert note(two) == "ben by badge alone, the service was away"
    assert "enter your PIN" in scan(lathe, "T-1/10").ask


@pytest.mark.parametrize("age_us", [20_000 * 24 * 60 * MINUTE, -400 * 24 * 60 * MINUTE])
def test_a_queue_of_a_wrong_clock_is_taken_with_its_time_unsure(
    works: ScannedWorks, age_us: int
) -> None:
    bar, _ = works.bar_and_blanks()
    lathe = desk(works, "LATHE")
    before = works.now
    for text in ("T-1/10", bar, "LATHE-1", "98", "", "5.98", "$CONFIRM"):
        reply, _ = lathe.take(SentScan(str(uuid.uuid4()), text, age_us, "ida"), IDA)
    assert reply.tone == "done", reply
    assert "time unsure" in note(works)
    with works.store.reading() as view:
        assert view.entry(view.journal_head()[0]).at > before
    assert "$CONFIRM" in [kept.text for kept in scans_to_look_at(works.store)]


def test_a_program_confirms_as_quickly_as_it_likes(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    lathe = desk(works, "LATHE")
    lathe.station.clock = lambda: works.now
    for text in ("T-1/10", bar, "LATHE-1", "98", "", "5.98", "$CONFIRM"):
        reply, _ = lathe.take(SentScan(str(uuid.uuid4()), text, by_hand=False), IDA)
    assert reply.tone == "done", reply


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(
                [
                    "T-1/10",
                    "T-2/10",
                    "$CONFIRM",
                    "$CANCEL",
                    "$UNDO",
                    "$START",
                    "98",
                    "",
                    "5.98",
                    "V-1",
                ]
            )
            | st.text(max_size=8),
            st.integers(0, 10_000 * MINUTE),
        ),
        max_size=12,
    )
)
def test_no_queue_of_scans_upsets_a_station_or_loses_one(queue: list[tuple[str, int]]) -> None:
    works = ScannedWorks()
    lathe = desk(works, "LATHE")
    numbers = []
    for text, age in queue:
        numbers.append(str(uuid.uuid4()))
        lathe.take(SentScan(numbers[-1], text, age), IDA)
    with works.store.scanning(only_look=True) as view:
        kept = [view.stations.scan(number) is not None for number in numbers]
    assert all(was_kept or not age for was_kept, (_, age) in zip(kept, queue, strict=True))
