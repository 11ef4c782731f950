"""Events that did not take place: what is refused, and what it gives back."""

from __future__ import annotations

import pytest

from lotkin.core.errors import BadReading, StillInUse, UnknownCode, UnknownEvent
from lotkin.uses.evidence.rebuild import rebuild
from tests.laws import check_records
from tests.small_works import Works, dump


def test_what_an_event_made_is_gone_once_it_is_voided() -> None:
    works = Works()
    works.receive("S1", 100)
    split = works.split("S1", {"S2": 30})
    works.void(split)

    assert works.stock("S1") == {"SHELF": 100}
    with pytest.raises(UnknownCode):
        works.used("S2")
    check_records(works)


def test_a_code_given_back_by_a_void_can_be_used_again() -> None:
    works = Works()
    works.void(works.receive("S1", 100))
    works.receive("S1", 40)

    assert works.stock("S1") == {"SHELF": 40}
    check_records(works)


def test_a_void_is_refused_while_something_is_made_of_it_and_says_of_what() -> None:
    works = Works()
    received = works.receive("S1", 100)
    works.split("S1", {"S2": 30})

    with pytest.raises(StillInUse, match=r"in use by S2 \(event 2\)") as refusal:
        works.void(received)
    assert "amend" in refusal.value.hint


@pytest.mark.parametrize("use", ["identified", "tested", "moved", "packed", "mounted"])
def test_a_void_is_refused_by_whatever_rests_on_the_event(use: str) -> None:
    works = Works()
    works.receive("S1", 10)
    works.receive("S2", 10)
    made = works.pool("BIN", ["S1", "S2"])
    if use == "identified":
        works.do("identify", item="BIN", quantity=2, code="ID", parents=["S1"], evidence="stamp")
    elif use == "tested":
        made = works.build("U1", None, inputs={"BIN": 1}, place="FLOOR")
        works.test("U1", 5)
        works.swap("U1")
    elif use == "moved":
        works.do("move", item="BIN", to_place="FLOOR")
    elif use == "packed":
        works.pack("C1", {"BIN": 5})
    else:
        works.mount({"P1": "BIN"})

    with pytest.raises(StillInUse):
        works.void(made)


def test_the_void_of_an_amendment_restores_the_earlier_reading() -> None:
    works = Works()
    works.receive("S1", 100)
    works.receive("S2", 100)
    split = works.split("S1", {"S3": 30})
    before = works.used("S1"), works.used("S2"), works.stock("S1"), works.stock("S2")
    amended = works.amend(split, item="S2")

    assert works.used("S1") == {}
    assert works.used("S2").keys() == {"S3"}

    works.void(amended)

    assert (works.used("S1"), works.used("S2"), works.stock("S1"), works.stock("S2")) == before
    check_records(works)


def test_of_two_amendments_the_void_of_the_later_restores_the_earlier() -> None:
    works = Works()
    for code in ("S1", "S2", "S3"):
        works.receive(code, 100)
    split = works.split("S1", {"PART": 30})
    first = works.amend(split, item="S2")
    second = works.amend(split, item="S3")
    works.void(second)

    assert works.origin("PART").keys() == {"S2"}

    works.void(first)

    assert works.origin("PART").keys() == {"S1"}
    check_records(works)


def test_the_void_of_an_unpacking_puts_the_pieces_back_into_the_carton() -> None:
    works = Works()
    works.receive("S1", 100)
    works.pack("C1", {"S1": 30})
    unpacked = works.do("unpack", carton="C1", item="S1", quantity=30)

    assert works.used("S1") == {}

    works.void(unpacked)

    assert works.used("S1").keys() == {"C1"}
    assert works.stock("S1") == {"SHELF": 70, "SHELF (C1)": 30}
    check_records(works)


def test_a_void_that_was_rebuilt_is_the_same() -> None:
    works = Works()
    works.receive("S1", 100)
    works.receive("S2", 100)
    pooled = works.pool("BIN", {"S1": 50, "S2": 50})
    works.amend(pooled, inputs=[{"item": "S1", "quantity": 60}])
    works.void(pooled)
    works.pool("BIN", {"S1": 10, "S2": 10})
    before = dump(works.store)
    rebuild(works.store)

    assert dump(works.store) == before


def test_what_is_not_recorded_or_voided_already_is_not_voided() -> None:
    works = Works()
    received = works.receive("S1")
    voided = works.void(received)

    with pytest.raises(BadReading, match="voided already"):
        works.void(received)
    with pytest.raises(BadReading, match="a void event"):
        works.void(voided)
    with pytest.raises(UnknownEvent):
        works.do("void", event="00000000-0000-0000-0000-00000000ffff", reason="never was")
