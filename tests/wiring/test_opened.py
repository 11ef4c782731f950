"""A store that a Python program opens answers and records as the command does."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

import lotkin
from lotkin.core.errors import (
    BadEvent,
    BadQuestion,
    LotkinError,
    NoStore,
    NothingOverlaps,
    StoreClosed,
    Unavailable,
    UnknownCode,
)
from lotkin.uses.asking.contain import account, contain
from lotkin.uses.asking.where import Question, where_from, where_used
from lotkin.uses.asking.window import Window
from lotkin.uses.complaints.complaint import complaint
from lotkin.wiring import open_store
from lotkin.wiring.opened import OpenStore
from tests.cli.command import fill_small_store
from tests.small_works import minute

MONTH = Window(minute(0), minute(60 * 24 * 31))
START = dt.datetime(2026, 3, 2, 6, tzinfo=dt.UTC)
END = START + dt.timedelta(days=31)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "works.db"
    fill_small_store(path)
    return path


def found(id_: int, quantity: int = 5) -> dict[str, object]:
    return {
        "kind": "receive",
        "id": f"30000000-0000-4000-8000-{id_:012}",
        "at": dt.datetime(2026, 3, 9, 7, tzinfo=dt.UTC),
        "by": "ANN",
        "code": f"SCREW-PY-{id_}",
        "item_kind": "purchased-lot",
        "part": "SCREW",
        "quantity": quantity,
        "place": "SHELF",
        "supplier": "MILL",
        "source": {"kind": "source-lot", "number": f"L-{id_}"},
    }


def test_it_answers_what_the_uses_answer(path: Path) -> None:
    used = open_store(str(path))
    with lotkin.open(path) as store:
        question = Question(kinds=frozenset({"unit"}), window=MONTH, min_content=0.01)
        mine = store.where_used("BAR-A", kinds="unit", start=START, end=END, min_content=0.01)
        assert list(mine.items) == list(where_used(used, "BAR-A", question).items) != []

        behind = where_from(used, "PUMP-001", Question(families=frozenset({"material"})))
        assert list(store.where_from("PUMP-001", families=["material"]).items) == list(behind.items)

        mine_too = store.contain("BAR-A", "PUMP-001", start=START, as_of=used_head(used))
        others = contain(used, ["BAR-A", "PUMP-001"], Question(window=Window(MONTH.start)))
        assert mine_too.accounts == others.accounts
        assert mine_too.by_place == others.by_place
        assert store.account("BAR-A").accounts == account(used, "BAR-A").accounts
        assert store.complaint("PUMP-001").components == complaint(used, "PUMP-001").components


def used_head(store: Any) -> int:
    with store.reading() as view:
        return int(view.journal_head()[0])


def test_an_answer_stays_as_it_is_when_more_is_recorded_and_the_store_is_closed(
    path: Path,
) -> None:
    with lotkin.open(path) as store:
        before = store.contain("BAR-A")
        affected = [row.code for row in store.contain("BAR-A").answer.items]
        later = store.where_from("PUMP-001")
        expected = [row.code for row in store.where_from("PUMP-001").items]
        store.record(found(1))

    assert [row.code for row in later.items] == expected
    assert [row.code for row in before.answer.items] == affected


def test_a_store_that_was_closed_is_not_asked_and_says_so(path: Path) -> None:
    store = lotkin.open(path)
    store.close()
    store.close()

    asked: list[Any] = [
        lambda: store.where_used("BAR-A"),
        lambda: store.where_from("BAR-A"),
        lambda: store.contain("BAR-A"),
        lambda: store.account("BAR-A"),
        lambda: store.complaint("PUMP-001"),
        lambda: store.record(found(1)),
    ]
    for ask in asked:
        with pytest.raises(StoreClosed, match=r"works\.db is closed"):
            ask()
    assert repr(store) == f"<closed store {path}>"


def test_a_with_block_that_fails_closes_the_store_and_lets_the_error_through(path: Path) -> None:
    with pytest.raises(UnknownCode), lotkin.open(path) as store:
        store.account("NO-SUCH-LOT")

    with pytest.raises(StoreClosed):
        store.account("BAR-A")


def test_where_there_is_no_store_nothing_is_made(tmp_path: Path) -> None:
    with pytest.raises(NoStore) as refused:
        lotkin.open(tmp_path / "none.db")

    assert isinstance(refused.value, Unavailable)
    assert list(tmp_path.iterdir()) == []


def test_without_a_name_it_is_the_store_of_the_command(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LOTKIN_DB", str(path))

    with lotkin.open() as store:
        assert store.url == str(path)


@pytest.mark.parametrize(
    ("narrowed", "said"),
    [
        ({"kinds": "units"}, "'units' is no kind of item"),
        ({"kinds": ["unit", "pumps"]}, "'pumps' is no kind of item"),
        ({"families": "unit"}, "'unit' is no family"),
        ({"min_content": 1.5}, "least content 1.5 is no share from 0 to 1"),
        ({"min_content": float("nan")}, "least content nan is no share from 0 to 1"),
    ],
)
def test_a_slip_of_the_pen_is_never_answered_with_nothing(
    path: Path, narrowed: dict[str, Any], said: str
) -> None:
    with lotkin.open(path) as store:
        for ask in (store.where_used, store.where_from, store.contain):
            with pytest.raises(BadQuestion) as refused:
                ask("BAR-A", **narrowed)
            assert str(refused.value) == said


def test_a_time_without_a_zone_or_the_wrong_way_round_is_refused(path: Path) -> None:
    with lotkin.open(path) as store:
        with pytest.raises(BadQuestion, match="start 2026-03-02 06:00:00 needs a time zone"):
            store.contain("BAR-A", start=START.replace(tzinfo=None))
        with pytest.raises(BadQuestion, match="ends before it begins"):
            store.where_used("BAR-A", start=END, end=START)


def test_a_time_that_meets_nothing_is_refused_and_not_answered_with_zeros(path: Path) -> None:
    with lotkin.open(path) as store, pytest.raises(NothingOverlaps):
        store.contain("BAR-A", start=START + dt.timedelta(days=400))


def test_containing_nothing_is_refused(path: Path) -> None:
    with lotkin.open(path) as store, pytest.raises(BadQuestion, match="names no item"):
        store.contain()


def test_events_are_recorded_with_the_clock_of_the_caller(path: Path) -> None:
    now = minute(60 * 24 * 30)
    with lotkin.open(path) as store:
        [done] = store.record(found(1), clock=lambda: now)

    assert "SCREW-PY-1" in done.made
    with open_store(str(path)).reading() as view:
        assert view.entry(done.seq).recorded_at == now


def test_an_event_recorded_before_is_not_recorded_twice(path: Path) -> None:
    with lotkin.open(path) as store:
        [first] = store.record(found(1))
        [again] = store.record(found(1))

    assert (again.repeated, again.seq) == (True, first.seq)


@pytest.mark.parametrize("wrong", [found(2, quantity=-1), {"kind": "recieve"}, "receive"])
def test_of_events_of_which_one_is_wrong_none_is_recorded(path: Path, wrong: Any) -> None:
    with lotkin.open(path) as store:
        with pytest.raises(BadEvent, match="event 2 of 2"):
            store.record(found(1), wrong)
        with pytest.raises(LotkinError):
            store.record(found(1), found(3) | {"id": found(1)["id"]})

        with pytest.raises(UnknownCode):
            store.where_from("SCREW-PY-1")


def test_lotkin_open_gives_an_open_store(path: Path) -> None:
    with lotkin.open(str(path)) as store:
        assert isinstance(store, OpenStore)
        assert repr(store) == f"<store {path}>"
