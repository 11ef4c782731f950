"""A store that is exported as EPCIS and imported into a fresh one answers the same."""

from __future__ import annotations

import json
from datetime import timedelta, timezone
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lotkin.core.epcis.checks.document_checks import check_document
from lotkin.core.epcis.checks.event_hash import event_hash
from lotkin.core.epcis.checks.names import known_prefixes
from lotkin.core.errors import BadDocument
from lotkin.uses.complaints.complaint import complaint
from lotkin.uses.exchange.epcis.export_epcis import Scope, export_epcis
from lotkin.uses.exchange.epcis.import_epcis import import_epcis
from lotkin.uses.exchange.epcis.understanding import Who
from tests.histories import History
from tests.laws import check_records
from tests.small_works import PLAN, Works, minute
from tests.uses.exchange.epcis.same_answers import all_codes, answers

if TYPE_CHECKING:
    from collections.abc import Callable

    from lotkin.uses.exchange.epcis.import_epcis import EpcisImport

BERLIN = timezone(timedelta(hours=2))


def exported(works: Works, path: Path, scope: Scope | None = None) -> Path:
    with works.store.reading() as view:
        export_epcis(view, scope or Scope(), path, zone=BERLIN, now=1_800_000_000_000_000)
    assert check_document(json.loads(path.read_text("utf-8"))) == []
    return path


def taken_over(path: Path, into: Works, **more: str) -> EpcisImport:
    return import_epcis(into.store, path, Who("QUINN", **more), dry_run=False, clock=into.clock)


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_any_history_comes_back_with_all_its_answers(data: st.DataObject) -> None:
    history = History.drawn(data.draw)
    codes = all_codes(history.works.store)

    there = Works(plan=PLAN if history.planned else "")
    with TemporaryDirectory() as folder:
        path = exported(history.works, Path(folder) / "all.json")
        first = taken_over(path, there)
        again = taken_over(path, there)

    assert all_codes(there.store) == codes
    assert answers(there.store, codes) == answers(history.works.store, codes)
    assert (again.adopted, again.repeated) == (0, first.adopted)
    check_records(there)


@settings(max_examples=30, deadline=None)
@given(st.data())
def test_what_was_corrected_since_is_corrected_there_too(data: st.DataObject) -> None:
    history = History.drawn(data.draw, most=12)
    there = Works(plan=PLAN if history.planned else "")
    with TemporaryDirectory() as folder:
        taken_over(exported(history.works, Path(folder) / "first.json"), there)
        for _ in range(8):
            history.step()
        later = exported(history.works, Path(folder) / "later.json")
        # both works are on the same clock: nothing that happened here is in the future there
        there.latest = max(history.works.minute, history.works.latest)
        taken_over(later, there)
        again = taken_over(later, there)

    codes = all_codes(history.works.store)
    assert all_codes(there.store) == codes
    assert answers(there.store, codes) == answers(history.works.store, codes)
    assert (again.adopted, again.amended, again.voided) == (0, 0, 0)
    check_records(there)


def a_works() -> Works:
    """Give a works with a bench, a swap, a mixture and a shipment."""
    works = Works(plan=PLAN)
    works.bar("B-1", 2, heat="H-1")
    works.bar("B-2", 2, heat="H-2")
    works.make({"T-1": 30}, {"B-1": 1}, run="R-1")
    works.make({"T-2": 30}, {"B-2": 1})
    works.pool("MIX", {"T-1": 10, "T-2": 10})
    works.receive("S-1", 100)
    works.mount({"P1": "MIX", "P2": "S-1"})
    works.build("U-1")
    works.build("U-2")
    works.test("U-1")
    works.test("U-2")
    works.pack("C-1", ["U-1", "U-2"])
    works.ship("SHIP-1", ["C-1"])
    return works


def known_of(works: Works) -> dict[str, tuple[object, ...]]:
    rows = works.origin("U-1")
    return {code: (row.chance, row.certain, row.content, row.kind) for code, row in rows.items()}


def test_a_unit_is_exported_with_all_behind_it_and_nothing_beside_it(tmp_path: Path) -> None:
    works = a_works()
    path = exported(works, tmp_path / "unit.json", Scope(items=("U-1",)))
    there = Works(plan=PLAN)
    taken_over(path, there)

    # what lies where is less: the other unit took its own
    assert known_of(there) == known_of(works)
    assert "U-2" not in path.read_text("utf-8")
    assert "U-2" not in all_codes(there.store)


def test_a_case_is_exported_with_its_decisions(tmp_path: Path) -> None:
    works = a_works()
    works.do("open-case", case="CASE-1", subjects=["T-1"], reason="burrs")
    works.do("decide", case="CASE-1", members=[{"item": "U-1"}], decision="recall", reason="burrs")
    path = exported(works, tmp_path / "case.json", Scope(case="CASE-1"))
    events = json.loads(path.read_text("utf-8"))["epcisBody"]["eventList"]
    told = {event["lotkin:kind"]: event for event in events}

    assert told["open-case"]["disposition"] == "non_conformant"
    assert told["decide"]["persistentDisposition"] == {"set": ["recalled"]}
    there = Works(plan=PLAN)
    taken_over(path, there)
    assert there.used("T-1").keys() == works.used("T-1").keys()


def test_a_period_builds_on_the_one_before(tmp_path: Path) -> None:
    works = a_works()
    middle = minute(8)
    before = exported(works, tmp_path / "before.json", Scope(end=middle))
    after = exported(works, tmp_path / "after.json", Scope(start=middle))
    there = Works(plan=PLAN)

    with pytest.raises(BadDocument) as refused:
        taken_over(after, there)
    assert "is not recorded" in refused.value.problems[0]
    assert there.head() == 1

    taken_over(before, there)
    taken_over(after, there)
    codes = all_codes(works.store)
    assert answers(there.store, codes) == answers(works.store, codes)


def test_two_works_with_the_same_codes_are_kept_apart_by_a_prefix(tmp_path: Path) -> None:
    works = a_works()
    path = exported(works, tmp_path / "all.json")
    there = a_works()

    with pytest.raises(BadDocument) as refused:
        taken_over(path, there)
    assert any("U-1" in problem for problem in refused.value.problems)

    taken_over(path, there, prefix="MILL/")
    assert {f"MILL/{code}" for code in works.origin("U-1")} == set(there.origin("MILL/U-1"))
    assert there.origin("U-1").keys() == works.origin("U-1").keys()
    assert taken_over(path, there, prefix="MILL/").adopted == 0


def test_a_dry_run_says_the_same_and_keeps_nothing(tmp_path: Path) -> None:
    path = exported(a_works(), tmp_path / "all.json")
    there = Works()
    tried = import_epcis(there.store, path, Who("QUINN"), dry_run=True, clock=there.clock)

    assert there.head() == 0
    assert tried == taken_over(path, there)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda event: event.update(bizStep="packing"), "is not the hash"),
        (lambda event: event["lotkin:item"][0].update({"lotkin:quantity": "7"}), "is not the hash"),
        (lambda event: event["lotkin:link"].pop(), "is not the hash"),
        (lambda event: event["lotkin:item"][0].update({"lotkin:id": "urn:x:y"}), "does not name"),
        (lambda event: event["lotkin:item"][0].update({"lotkin:odd": "1"}), "no field that"),
        (lambda event: event.update({"lotkin:item": "T-1"}), "must be a list"),
        (lambda event: event["lotkin:item"].append(3), "must be a JSON object"),
    ],
)
def test_a_changed_document_of_ours_is_refused(
    tmp_path: Path, change: Callable[[dict[str, Any]], object], said: str
) -> None:
    path = exported(a_works(), tmp_path / "all.json")
    document = json.loads(path.read_text("utf-8"))
    made = next(e for e in document["epcisBody"]["eventList"] if e["lotkin:kind"] == "make")
    change(made)
    path.write_text(json.dumps(document))
    there = Works()

    with pytest.raises(BadDocument) as refused:
        taken_over(path, there)
    assert any(said in problem for problem in refused.value.problems)
    assert there.head() == 0


LIES: list[tuple[str, dict[str, str], str]] = [
    (
        "link",
        {
            "lotkin:parent": "urn:lotkin:item:B-2",
            "lotkin:child": "urn:lotkin:item:T-1",
            "lotkin:group": "9",
        },
        "B-2 is not in the event's own lists",
    ),
    ("item", {"lotkin:id": "urn:lotkin:item:T-1", "lotkin:kind": "cake"}, "no kind of item"),
    (
        "item",
        {"lotkin:id": "urn:lotkin:item:T-1", "lotkin:kind": "unit"},
        "T-1 is already recorded",
    ),
    ("posting", {"lotkin:item": "urn:lotkin:item:T-1", "lotkin:quantity": "-1"}, "quantity"),
]


@pytest.mark.parametrize(("section", "row", "said"), LIES)
def test_a_forged_event_with_a_right_hash_is_refused(
    tmp_path: Path, section: str, row: dict[str, str], said: str
) -> None:
    path = exported(a_works(), tmp_path / "all.json")
    document = json.loads(path.read_text("utf-8"))
    made = next(e for e in document["epcisBody"]["eventList"] if e["lotkin:kind"] == "make")
    made[f"lotkin:{section}"].append(row)
    made["eventID"] = event_hash(made, known_prefixes(document["@context"]))
    path.write_text(json.dumps(document))
    there = Works()

    with pytest.raises(BadDocument) as refused:
        taken_over(path, there)
    assert any(said in problem for problem in refused.value.problems), refused.value.problems
    assert there.head() == 0


def test_imported_tables_are_told_one_thing_at_a_time(tmp_path: Path) -> None:
    works = Works()
    rows = [("LOT-A", "purchased-lot", "", 10_000_000, "pcs", None)]
    rows += [(f"UNIT-{n}", "unit", "", 1_000_000, "pcs", None) for n in range(3)]
    links = [("LOT-A", f"UNIT-{n}", 1_000_000, 1, "each", 1_000_000) for n in range(3)]
    works.do("import", items=rows, links=links)
    path = exported(works, tmp_path / "all.json")
    events = json.loads(path.read_text("utf-8"))["epcisBody"]["eventList"]
    there = Works()
    taken_over(path, there)

    assert [event["type"] for event in events] == ["ObjectEvent", *["TransformationEvent"] * 3]
    codes = all_codes(works.store)
    assert answers(there.store, codes) == answers(works.store, codes)
    back = exported(there, tmp_path / "back.json")
    third = Works()
    taken_over(back, third)
    assert answers(third.store, codes) == answers(works.store, codes)


def test_an_empty_store_is_an_empty_document(tmp_path: Path) -> None:
    works = Works()
    path = exported(works, tmp_path / "none.json")

    assert json.loads(path.read_text("utf-8"))["epcisBody"] == {"eventList": []}
    assert taken_over(path, Works()).events == 0


def way_of(works: Works, unit: str) -> list[tuple[str, ...]]:
    steps = complaint(works.store, unit).went
    return [(s.what, s.state, s.carton, s.shipment, s.customer, s.reason) for s in steps]


def test_a_complaint_finds_the_way_of_a_unit_that_came_in_a_document(tmp_path: Path) -> None:
    works = a_works()
    works.do("return", item="U-1", to_place="RED-BOX", reason="leaks")
    works.swap("U-1", [{"item": "S-1", "quantity": 2}], {"S-1": 2})
    works.do("scrap", item="U-1", reason="cracked")
    there = Works(plan=PLAN)
    taken_over(exported(works, tmp_path / "all.json"), there)

    assert [what for what, *_ in way_of(works, "U-1")] == [
        "packed",
        "shipped",
        "returned",
        "scrapped",
    ]
    told = [step[:-1] for step in way_of(there, "U-1")]
    assert told == [step[:-1] for step in way_of(works, "U-1")]
    assert way_of(there, "U-1")[2][-1] == "leaks"
    assert way_of(there, "U-2") == way_of(works, "U-2")
