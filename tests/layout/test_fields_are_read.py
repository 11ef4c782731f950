"""Every field of the plan and of every event is read by something: none is accepted and ignored.

Reading is watched while a small works records events of every kind, is asked, printed and handed
on. A field that was read off its own model then is used; a name that others have too proves
nothing. The few that are read elsewhere stand in `ELSEWHERE`, each with the file that names it.
"""

from __future__ import annotations

import ast
import sys
from datetime import UTC
from decimal import Decimal
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from lotkin.core.events.base import Event, Model, Text
from lotkin.core.plan.entries.entry import PlanEntry
from lotkin.core.plan.named import named_in
from lotkin.uses.asking.drill import drill, drills
from lotkin.uses.asking.where import Question
from lotkin.uses.complaints.complaint import complaint
from lotkin.uses.evidence.seal import seal
from lotkin.uses.exchange.epcis.export_epcis import Scope, export_epcis
from lotkin.uses.exchange.epcis.import_epcis import import_epcis
from lotkin.uses.exchange.epcis.understanding import Who
from lotkin.uses.recording.issue import find_traveller, issue_traveller
from lotkin.uses.reporting.customer_data import customer_data
from lotkin.uses.reporting.print_data import print_data
from lotkin.uses.reporting.report_data import unit_data
from lotkin.wiring.sealing import KeyFile, make_seal_key
from lotkin_answers.documents.complaint import complaint_document
from lotkin_answers.documents.drills import drills_document
from lotkin_answers.json_document import document_chunks
from lotkin_answers.places import Places
from lotkin_answers.unit.recorded import unit_record
from lotkin_demo.plan_file import plan_text, shop_plan
from lotkin_labels.printing.reports import customer_report
from lotkin_labels.printing.shop_papers import cards_of, dispatch_note, label_of, traveller
from tests.core.events.test_refusals import GOOD, furnished
from tests.scanning.station import ScannedWorks
from tests.small_works import PLAN, Works, moment

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pydantic import BaseModel

ROOT = Path(__file__).parents[2]
RECORD = "trace/lotkin/uses/reporting/record_values.py"
ELSEWHERE = {
    ("WorksPlan", "revision_note"): "cli/lotkin_cli/text/keeping/plan_text.py",
    ("Event", "claimed_at"): RECORD,
    ("Receive", "delivery_note"): RECORD,
    ("Receive", "grade"): RECORD,
    ("Receive", "confirmed"): RECORD,
    ("Adopt", "hashes"): RECORD,
    ("Amend", "reason"): RECORD,
    ("Void", "reason"): RECORD,
    ("Test", "unfit"): RECORD,
    ("Delivered", "mass_kg"): RECORD,
    ("Delivered", "bars"): RECORD,
    ("Inspect", "checked"): RECORD,
    ("Decide", "evidence"): RECORD,
    ("Identify", "evidence"): RECORD,
    ("Make", "traveller"): RECORD,
    ("Scrap", "reason"): RECORD,
}
"""(model, field) -> the file that reads it by name from the data of the journal, or prints it."""

LOOKING_AT_ALL = frozenset({"filled_in_sent"})
"""Functions that read whatever fields a model has."""


@pytest.fixture
def watched(monkeypatch: pytest.MonkeyPatch) -> set[tuple[type, str]]:
    """Note (model, name) of every attribute that is read off an entry of a plan or an event."""
    seen: set[tuple[type, str]] = set()

    def read(self: BaseModel, name: str) -> object:
        if not name.startswith("_") and sys._getframe(1).f_code.co_name not in LOOKING_AT_ALL:
            seen.add((type(self), name))
        return object.__getattribute__(self, name)

    for base in (PlanEntry, Model):
        monkeypatch.setattr(base, "__getattribute__", read, raising=False)
    return seen


def kinds_of(base: type[BaseModel]) -> Iterator[type[BaseModel]]:
    """Yield all classes of the product below a class."""
    for cls in base.__subclasses__():
        if cls.__module__.startswith("lotkin."):
            yield cls
            yield from kinds_of(cls)


def is_read(cls: type[BaseModel], name: str, seen: set[tuple[type, str]]) -> bool:
    """Tell whether a field was read off this class, or one that has it from there."""
    return any((kind, name) in seen for kind in (cls, *kinds_of(cls)))


def never_read(seen: set[tuple[type, str]]) -> set[tuple[str, str]]:
    """Name the fields that nobody read, each with the class that declares it."""
    found = set()
    for base in (PlanEntry, Model):
        for cls in kinds_of(base):
            for name in cls.__annotations__.keys() & cls.model_fields.keys():
                if not is_read(cls, name, seen):
                    found.add((cls.__name__, name))
    return found


def record_everything(folder: Path) -> Works:
    """Record events of every kind, and give the works."""
    works = furnished()
    for kind, fields in GOOD.items():
        works.twin().do(kind, **fields)
    paper = {"sha256": "a" * 64, "name": "c.pdf", "media_type": "application/pdf", "size": 7}
    came = {"bars": 10, "bar_length_mm": 3000, "diameter_mm": 8, "mass_kg": 12}
    works.bar("BAR-3", 30, heat="H3", documents=[paper], delivered=came, certificate="3.1")
    measure = {"name": "Length", "values": [5], "unit": "mm", "min": 4, "max": 6}
    works.inspect("S2", "LOOK-2", measures=[measure], resources=["GAUGE"])
    works.inspect("U1", "LOOK-3", measures=[measure])
    works.build("C-1", part="CLAMP")
    works.make({"T3": 5}, {"BAR-3": 1})
    parts = [{"item": "T3", "quantity": 1}, {"item": "S1", "quantity": 2, "place": "SHELF"}]
    works.build("U3", bench=None, place="FLOOR", inputs=parts)
    works.swap("U3", [{"item": "T3"}], {"T3": 1}, note="burr")
    some = [{"item": "BAR-2", "quantity": 3}]
    works.do("decide", case="CASE-1", members=some, decision="scrap", reason="cracks")
    works.do("count", place="SHELF", counted=2, found=FOUND)
    works.do("import", items=[["OLD", "purchased-lot", "SCREW", 10**6, "pcs", None]])
    works.ship("SHIP-9", "U2", reference="PO 9")
    made = works.receive("LATE", 1)
    works.amend(made, note="late")
    works.void(works.log[-1])
    ticks = count()
    drill(works.store, "S1", by="ANN", clock=works.clock, timer=lambda: next(ticks) / 4)
    make_seal_key(folder / "key")
    seal(works.store, KeyFile(folder / "key"), "ANN", works.clock)
    return works


FOUND = {"code": "FOUND", "candidates": ["S1", "S2"], "quantity": 2}


def ask_everything(works: Works, folder: Path) -> None:
    """Ask, print and hand on what was recorded."""
    for unit in ("U1", "U3"):
        found = complaint(works.store, unit)
        "".join(document_chunks(complaint_document(found, Places(None))))
        unit_record(unit_data(works.store, unit), 0)
    customer_report(customer_data(works.store, ["S2"]), Question(), "cracks", 0)
    "".join(document_chunks(drills_document(drills(works.store))))
    plan, papers = print_data(works.store, ["S2", "U1", "C1", "OUT"], works.clock)
    for paper in papers[:3]:
        label_of(paper, plan)
    dispatch_note(papers[3], plan)
    there = Works(plan=PLAN)
    with works.store.reading() as view:
        export_epcis(view, Scope(), folder / "all.json", zone=UTC, now=10**15)
    import_epcis(there.store, folder / "all.json", Who("ANN"), dry_run=False, clock=there.clock)


def work_the_plan() -> None:
    """Print what follows from the plan of the demo works, and work by that of the stations."""
    works = Works(plan=plan_text())
    for part in ("HEAD", "TIP"):
        code = f"T-{part}"
        issue_traveller(works.store, part, Decimal(10), code=code, by="mara", clock=works.clock)
        paper = find_traveller(works.store, code)
        traveller(paper)
        cards_of(paper.plan)
    works.resource("CAL-1", "gauge", part="CAL-1", place="GAUGES", by="quinn")
    assert named_in(shop_plan(), "LATHE-1") is not None
    scanned = ScannedWorks()
    bar, blanks = scanned.bar_and_blanks()
    scanned.stems(bar)
    scanned.bodies(blanks)
    scanned.anodised()
    rod = {"item_kind": "bar-lot", "part": "ROD-5", "quantity": 30, "place": "STORE"}
    scanned.event("receive", code="R-1", certificate="3.1", delivered={"diameter_mm": 5}, **rod)


def test_every_field_of_the_plan_and_of_every_event_is_read(
    watched: set[tuple[type, str]], tmp_path: Path
) -> None:
    works = record_everything(tmp_path)
    ask_everything(works, tmp_path)
    work_the_plan()
    assert sorted(never_read(watched) - ELSEWHERE.keys()) == []


def names_in(path: str) -> set[str]:
    """Gather the attributes and the quoted names that a file uses."""
    found = set()
    for node in ast.walk(ast.parse((ROOT / path).read_text("utf-8"))):
        if isinstance(node, ast.Attribute):
            found.add(node.attr)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            found.add(node.value)
    return found


@pytest.mark.parametrize(("field", "path"), ELSEWHERE.items())
def test_what_is_read_elsewhere_is_named_there(field: tuple[str, str], path: str) -> None:
    assert field[1] in names_in(path)


def test_a_field_that_nobody_reads_is_found(watched: set[tuple[type, str]]) -> None:
    class Idle(Event):
        """An event with a field of a common name that nothing reads."""

        name: Text = ""
        idle: Text = ""

    Idle.__module__ = "lotkin.idle"
    said = {"kind": "idle", "id": "0" * 32, "at": moment(1), "by": "ANN", "name": "x"}
    event = Idle.model_validate(said)
    assert event.name == "x"
    event.but(name="y").to_data()
    assert {name for cls, name in never_read(watched) if cls == "Idle"} == {"idle"}
    del Idle
