"""A scan is one transaction: all of it is there, or nothing of it."""

from __future__ import annotations

import uuid
from contextlib import contextmanager
from itertools import count
from typing import TYPE_CHECKING, Any

import pytest
from sqlalchemy import event

from lotkin.core.access.rights import Who, rights_of
from lotkin.core.dialogue import Desk
from lotkin.uses.cases.case_work import Person, open_case
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.evidence.verify import verify
from lotkin.uses.stations.served_station import SentScan, StationDesk, scans_to_look_at
from lotkin.wiring import create_store
from tests.scanning.statements_told import counting
from tests.scanning.station import ScannedWorks

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from lotkin.core.dialogue import Hand, Reply
    from lotkin.store.connection.database import Database
    from lotkin.store.store import Store

IDA = Who("ida", "Ida Quell", rights_of(["receiving", "operator", "quality"]))
MINUTE = 60_000_000
STEP = ("T-1/10", "LATHE-1", "98", "", "5.98")


@pytest.fixture
def works() -> ScannedWorks:
    return ScannedWorks()


def desk(works: ScannedWorks, place: str = "LATHE") -> StationDesk:
    """Give a desk as a service gives it that has just started."""
    return StationDesk(works.store, f"tablet {place}", place, works.clock)


def sent(text: str, waited_us: int = 0) -> SentScan:
    return SentScan(str(uuid.uuid4()), text, waited_us)


def scan(lathe: StationDesk, *texts: str) -> Reply:
    for text in texts:
        reply, _ = lathe.take(sent(text), IDA)
    return reply


def ready(works: ScannedWorks) -> StationDesk:
    """Give a lathe at which a step waits for CONFIRM."""
    bar, _ = works.bar_and_blanks()
    lathe = desk(works)
    assert scan(lathe, STEP[0], bar, *STEP[1:]).ask.startswith("confirm:")
    return lathe


def written(works: ScannedWorks) -> tuple[int, tuple[int, str], list[str]]:
    """Give how far the journal goes, the session of the lathe, and the scans that are kept."""
    with works.store.scanning(only_look=True) as view:
        session = view.stations.session("tablet LATHE")
        head = view.journal_head()[0]
    with works.store.source.reading() as database:
        cursor = database.driver.cursor()
        cursor.execute("SELECT id FROM station_scan ORDER BY id")
        return head, session, [str(row[0]) for row in cursor.fetchall()]


# --- how many


@contextmanager
def writers(store: Store) -> Iterator[list[int]]:
    """Gather a number for each write transaction that begins, by whatever layer."""
    begun: list[int] = []

    def note(connection: Any) -> None:
        if connection.get_execution_options().get("writes"):
            begun.append(len(begun))

    event.listen(store.engine, "begin", note)
    yield begun
    event.remove(store.engine, "begin", note)


@pytest.mark.parametrize(
    ("text", "waited_us", "transactions"),
    [
        ("$CONFIRM", 0, 1),
        ("$CANCEL", 0, 1),
        ("NO-SUCH-LOT", 0, 0),
        ("$HELP", 0, 0),
        ("NO-SUCH-LOT", MINUTE, 1),
        ("$CONFIRM", MINUTE, 1),
    ],
)
def test_a_scan_takes_one_write_transaction_or_none(
    works: ScannedWorks, text: str, waited_us: int, transactions: int
) -> None:
    lathe = ready(works)
    one = sent(text, waited_us)
    with writers(works.store) as begun:
        first, _ = lathe.take(one, IDA)
        assert len(begun) == transactions
    with writers(works.store) as begun:
        again, _ = lathe.take(one, IDA)
    assert (again, begun) == (first, [])


def test_a_scan_that_records_nothing_locks_the_store_for_two_looks_and_two_rows(
    tmp_path: Path,
) -> None:
    with counting() as told:
        works = ScannedWorks(create_store(str(tmp_path / "works.db")))
        lathe = ready(works)
        told.clear()
        scan(lathe, "$CANCEL")
        lock = next(i for i, text in enumerate(told.texts) if "IMMEDIATE" in text)
        within = [text.split()[0] for text in told.texts[lock:]]
    assert within[:6] == ["BEGIN", "SELECT", "SELECT", "INSERT", "INSERT", "COMMIT"]


def test_a_scan_that_changes_nothing_writes_nothing(tmp_path: Path) -> None:
    with counting() as told:
        works = ScannedWorks(create_store(str(tmp_path / "works.db")))
        lathe = ready(works)
        bar = works.only("bar-lot")
        before = written(works)
        told.clear()
        for text in ("NO-SUCH-LOT", "$HELP", "$UNDO", "$TAKEOVER"):
            lathe.take(sent(text), IDA)
        assert told.changes == 0
        open_case(works.store, [bar], "wrong alloy", Person("ida", works.clock))
        told.clear()
        assert scan(lathe, "$CONFIRM").tone == "refused"
        assert told.changes == 0
    assert written(works)[1:] == before[1:]


def test_a_late_scan_is_kept_whatever_comes_of_it(works: ScannedWorks) -> None:
    lathe = ready(works)
    for text in ("NO-SUCH-LOT", "$HELP", "$UNDO"):
        one = sent(text, MINUTE)
        lathe.take(one, IDA)
        assert one.id in written(works)[2]
    assert [kept.text for kept in scans_to_look_at(works.store)] == ["NO-SUCH-LOT", "$UNDO"]


def test_what_was_refused_at_once_is_not_taken_as_late_because_the_answer_was_lost(
    works: ScannedWorks,
) -> None:
    lathe = ready(works)
    open_case(works.store, [works.only("bar-lot")], "wrong alloy", Person("ida", works.clock))
    one = sent("$CONFIRM")
    first, _ = lathe.take(one, IDA)
    before = written(works)
    again, _ = lathe.take(SentScan(one.id, one.text, MINUTE), IDA)
    assert first.tone == "refused"
    assert again == first
    after = written(works)
    assert after[0] == before[0]
    assert after[2] == sorted([*before[2], one.id])
    assert scans_to_look_at(works.store) == []


# --- stopped in the middle


class Stopped(BaseException):
    """Ends the program, as a kill does."""


class Stopping:
    """Where a store's transactions come from, until the program is stopped.

    It is stopped before a statement, before what was done is kept, or after it.
    """

    def __init__(self, store: Store) -> None:
        self.source, self.left = store.source, 1_000_000
        self.engine = store.source.engine
        store.source = self

    def step(self) -> None:
        self.left -= 1
        if self.left < 0:
            raise Stopped

    @contextmanager
    def reading(self) -> Iterator[Database]:
        with self.source.reading() as database:
            database.driver = _Driver(database.driver, self)
            yield database

    @contextmanager
    def writing(self) -> Iterator[Database]:
        self.step()
        with self.source.writing() as database:
            database.driver = _Driver(database.driver, self)
            yield database
            self.step()
        self.step()

    def close(self) -> None:
        self.source.close()


class _Driver:
    """A connection or a cursor that counts what it is told."""

    def __init__(self, driver: Any, stopping: Stopping) -> None:
        self._driver, self._stopping = driver, stopping

    def __getattr__(self, name: str) -> Any:
        return getattr(self._driver, name)

    def cursor(self, *given: Any, **named: Any) -> _Driver:
        return _Driver(self._driver.cursor(*given, **named), self._stopping)

    def execute(self, *given: Any) -> Any:
        self._stopping.step()
        return self._driver.execute(*given)

    def executemany(self, *given: Any) -> Any:
        self._stopping.step()
        return self._driver.executemany(*given)


@pytest.mark.parametrize(
    ("text", "waited_us", "events"),
    [
        ("$CONFIRM", 0, 1),
        ("$CONFIRM", MINUTE, 1),
        ("$CANCEL", 0, 0),
        ("NO-SUCH-LOT", MINUTE, 0),
    ],
)
def test_a_stop_between_any_two_statements_loses_and_doubles_nothing(
    works: ScannedWorks, text: str, waited_us: int, events: int
) -> None:
    ready(works)
    before = written(works)
    one = sent(text, waited_us)
    stopping = Stopping(works.store)
    stops, reply, hand = 0, None, None
    for left in count():
        stopping.left = left
        try:
            reply, hand = desk(works).take(one, IDA)
            break
        except Stopped:
            stops += 1
        stopping.left = 1_000_000
        head, session, scans = written(works)
        if (head, session, scans) != before:
            # all of it, then: the answer as well
            assert head == before[0] + events
            assert session[0] == before[1][0] + 1
            assert scans == sorted([*before[2], one.id])
            break
    assert stops > 10
    stopping.left = 1_000_000
    after = written(works)
    again, shown = desk(works).take(one, IDA)
    assert reply in (None, again)
    assert hand in (None, shown)
    assert written(works) == after
    assert after[0] == before[0] + events
    assert again.tone == ("refused" if text == "NO-SUCH-LOT" else "done" if events else "ok")
    works.store.source = stopping.source
    assert verify(works.store).is_sound
    assert not rebuild(works.store, check_only=True).difference


# --- two at once


class Between:
    """A store in which something happens just before a scan is written."""

    def __init__(self, store: Store, happens: Any) -> None:
        self.store, self.happens = store, happens

    @contextmanager
    def scanning(self, *, only_look: bool = False) -> Iterator[Any]:
        if not only_look:
            happens, self.happens = self.happens, lambda: None
            happens()
        with self.store.scanning(only_look=only_look) as scanning:
            yield scanning


def overtaken(works: ScannedWorks, happens: Any) -> StationDesk:
    store: Any = Between(works.store, happens)
    return StationDesk(store, "tablet LATHE", "LATHE", works.clock)


def test_of_two_tablets_at_once_one_is_told_and_sees_what_is_in_hand(works: ScannedWorks) -> None:
    ready(works)
    other = desk(works)
    one = overtaken(works, lambda: scan(other, "$CANCEL", "T-2/10"))
    before = written(works)[0]
    reply, hand = one.take(sent("$CONFIRM"), IDA)
    assert reply.tone == "refused"
    assert "somebody else scanned at this station" in reply.say
    assert "$CONFIRM is not taken" in reply.say
    assert hand == other.look(IDA)
    assert hand.about == "T-2/10"
    assert written(works)[0] == before
    assert one.take(sent("$CANCEL"), IDA)[0].tone == "ok"


def test_of_two_tablets_that_confirm_at_once_one_records(works: ScannedWorks) -> None:
    ready(works)
    other = desk(works)
    said: list[Reply] = []
    one = overtaken(works, lambda: said.append(scan(other, "$CONFIRM")))
    before = written(works)[0]
    reply, _ = one.take(sent("$CONFIRM"), IDA)
    assert [reply.tone, said[0].tone] == ["refused", "done"]
    assert written(works)[0] == before + 1


def test_the_same_scan_sent_twice_at_once_is_answered_the_same(works: ScannedWorks) -> None:
    ready(works)
    other, confirm = desk(works), sent("$CONFIRM")
    said: list[Reply] = []
    one = overtaken(works, lambda: said.append(other.take(confirm, IDA)[0]))
    before = written(works)[0]
    assert one.take(confirm, IDA)[0] == said[0]
    assert said[0].tone == "done"
    assert written(works)[0] == before + 1


def test_a_late_scan_is_taken_even_if_another_tablet_was_quicker(works: ScannedWorks) -> None:
    ready(works)
    other = desk(works)
    one = overtaken(works, lambda: scan(other, "$CANCEL"))
    late = sent("T-2/10", MINUTE)
    reply, hand = one.take(late, IDA)
    assert reply.tone == "ask"
    assert hand.about == "T-2/10"
    assert late.id in written(works)[2]


def test_who_has_not_seen_the_last_scan_is_told_and_takes_part_again(works: ScannedWorks) -> None:
    one, other = desk(works), desk(works)
    seen = one.look(IDA).counter
    assert other.look(IDA).counter == seen
    _, hand = one.take(sent("T-1/10"), IDA, seen)
    assert hand.counter == seen + 1
    reply, shown = other.take(sent("T-2/10"), IDA, seen)
    assert "T-2/10 is not taken" in reply.say
    assert shown == hand
    reply, shown = other.take(sent("$CANCEL"), IDA, shown.counter)
    assert (reply.tone, shown.about) == ("ok", "")


def test_what_follows_a_scan_that_is_not_taken_is_not_taken_either(works: ScannedWorks) -> None:
    lathe = ready(works)
    seen = lathe.look(IDA).counter
    scan(lathe, "$CANCEL")
    before = written(works)
    replies, _ = lathe.take_all([sent("T-2/10"), sent("$CONFIRM")], IDA, seen)
    assert ["is not taken" in reply.say for reply in replies] == [True, True]
    assert written(works) == before
    replies, _ = lathe.take_all([sent("T-2/10"), sent("$CANCEL")], IDA, seen + 1)
    assert [reply.tone for reply in replies] == ["ask", "ok"]


# --- the record moved before the store was locked


def test_a_lot_held_just_before_it_is_recorded_is_refused(works: ScannedWorks) -> None:
    ready(works)
    bar = works.only("bar-lot")
    person = Person("ida", works.clock)
    one = overtaken(works, lambda: open_case(works.store, [bar], "wrong alloy", person))
    reply, hand = one.take(sent("$CONFIRM"), IDA)
    assert reply.tone == "refused"
    assert bar in reply.say
    assert bar in hand.scans
    assert not [item for item in works.items().values() if item.kind == "machined-lot"]


def test_a_code_taken_just_before_is_chosen_anew(works: ScannedWorks) -> None:
    ready(works)
    bar = works.only("bar-lot")

    def quicker() -> None:
        second = StationDesk(works.store, "tablet 2", "LATHE", works.clock)
        assert scan(second, STEP[0], bar, "LATHE-1", "2", "0.2", "5.98", "$CONFIRM").tone == "done"

    reply, _ = overtaken(works, quicker).take(sent("$CONFIRM"), IDA)
    assert reply.say.startswith("recorded T-1-10B")
    assert {"T-1-10", "T-1-10B"} <= set(works.items())


def test_a_lot_in_hand_stays_there_when_it_is_held_and_the_station_starts_anew(
    works: ScannedWorks,
) -> None:
    """Else the rest of the work would be recorded without it, as if it had not been used."""
    ready(works)
    bar = works.only("bar-lot")
    open_case(works.store, [bar], "wrong alloy", Person("ida", works.clock))
    again = desk(works)
    assert bar in again.look(IDA).scans
    assert not again.look(IDA).reported
    reply = scan(again, "$CONFIRM")
    assert reply.tone == "refused"
    assert bar in reply.say


def test_a_station_of_which_nothing_is_written_any_more_begins_anew(works: ScannedWorks) -> None:
    """As after a backup was put back that is older than the station."""
    lathe = ready(works)
    with works.store.source.writing() as database:
        database.driver.cursor().execute("DELETE FROM station_state")
    assert lathe.look(IDA).scans == ()
    assert lathe.look(IDA).counter == 0
    assert scan(lathe, "T-1/10").tone == "ask"


def test_late_work_that_somebody_may_not_record_waits_for_somebody_who_may(
    works: ScannedWorks,
) -> None:
    ready(works)
    lathe = desk(works)
    asks_only = Who("ida", "Ida Quell", frozenset())
    before = written(works)[0]
    reply, hand = lathe.take(sent("$CONFIRM", MINUTE), asks_only)
    assert "may not" in reply.say
    assert hand.about == "T-1/10"
    assert written(works)[0] == before
    assert [kept.text for kept in scans_to_look_at(works.store)] == ["$CONFIRM"]
    assert scan(lathe, "$CONFIRM").tone == "done"


# --- what is said of it


def test_what_was_refused_is_never_called_recorded(works: ScannedWorks) -> None:
    lathe = ready(works)
    open_case(works.store, [works.only("bar-lot")], "wrong alloy", Person("ida", works.clock))
    assert scan(lathe, "$CONFIRM").tone == "refused"
    scan(lathe, "$CANCEL")
    assert "recorded" not in scan(lathe, "$CONFIRM").say


def test_what_cannot_be_undone_is_still_there_to_undo(works: ScannedWorks) -> None:
    lathe = ready(works)
    scan(lathe, "$CONFIRM")
    works.done("BENCH", "$AT B1 P2", "T-1-10")
    first, again = scan(lathe, "$UNDO"), scan(lathe, "$UNDO")
    assert first.tone == again.tone == "refused"
    assert first.say == again.say


def test_a_copy_of_a_session_takes_scans_without_the_other_knowing(works: ScannedWorks) -> None:
    bar, _ = works.bar_and_blanks()
    said: list[Hand] = []
    for texts in (
        (STEP[0], bar, *STEP[1:], "$SCRAP", "2"),
        ("$AT B1 P1", bar, "$AT B1 P2"),
        ("$RECEIVE", "BLANK", "NORD", "L78", "STORE", "25"),
        ("$PACK", bar, "1"),
        ("$MOVE", bar, "OUT", "1"),
    ):
        lathe = desk(works, "BENCH")
        for text in texts:
            before = lathe.look(IDA)
            twin = lathe.station.session.copied()
            with works.store.scanning(only_look=True) as view:
                plan = view.plan(view.plan_number())
                assert plan is not None
                twin.take(text, Desk(view, plan, "BENCH", works.clock()))
            assert lathe.look(IDA) == before
            said.append(before)
            lathe.take(sent(text), IDA)
        lathe.take(sent("$CANCEL"), IDA)
    assert any(hand.scans for hand in said)
