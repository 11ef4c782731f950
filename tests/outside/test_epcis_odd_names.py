"""Event hashes of events with odd names, against the package of the authors of the hash.

Source: `epcis-event-hash-generator` (R. Tröger, S. Schmittner, MIT), a second implementation. It
reads numbers, addresses and declared prefixes out of any text, so no name of ours may stand bare.
"""

from __future__ import annotations

import json
from datetime import UTC
from typing import TYPE_CHECKING, Any

import pytest
from epcis_event_hash_generator.hash_generator import epcis_hashes_from_events
from epcis_event_hash_generator.json_to_py import event_list_from_epcis_document_str

from lotkin.core.epcis.checks.document_checks import check_document
from lotkin.uses.exchange.epcis.export_epcis import Scope, export_epcis
from lotkin.uses.exchange.epcis.import_epcis import import_epcis
from lotkin.uses.exchange.epcis.understanding import Who
from tests.small_works import Works
from tests.uses.exchange.epcis.same_answers import all_codes, answers

if TYPE_CHECKING:
    from pathlib import Path

ODD = (
    "1E5",
    "INF",
    "nan",
    "-0.0",
    "007",
    "1_000",
    "lotkin:item",
    "gs1:Temperature",
    "https://id.gs1.org/01/09521141123454/10/A",
    "urn:epc:id:sgtin:9521141.012345.4711",
    "receiving",
    "shipping",
    "A/01/09521141123454",
    "a%2Fb",
    "x?y#z",
    '"quoted"\\',
    "{}",
    "@id",
    "2026-03-01T07:30:00Z",
)


def history(works: Works, name: str) -> None:
    """Use a name for everything that can have one."""
    works.do(
        "receive", code=name, item_kind="bar-lot", part=name, quantity="3", unit="m", place=name,
        supplier=name, supplier_lot=f"{name}!", source={"kind": "heat", "number": name + "~"},
        serial=f"{name};", hold=f" {name} ", note=name,
    )  # fmt: skip
    works.do("inspect", item=name, inspection=f"{name}-I", result="accepted", place=name)
    made = works.do(
        "make",
        traveller=name,
        step=name,
        inputs=[{"item": name, "quantity": "1"}],
        run={
            "code": f"{name}-R",
            "run_kind": "machining-run",
            "celsius": "61.5",
            "measures": {name: "1.5"},
        },
        outputs=[
            {
                "code": f"{name}-M",
                "item_kind": "machined-lot",
                "part": name,
                "quantity": 30,
                "place": name,
            }
        ],
    )
    works.do(
        "build", serial=f"{name}-U", part=name, place=name,
        inputs=[{"item": f"{name}-M", "quantity": 2, "position": name}],
    )  # fmt: skip
    works.do("test", unit=f"{name}-U", name=name, readings=["0.5", "1"], measure_unit=name, max=2)
    works.do("pack", carton=f"{name}-C", contents=[{"item": f"{name}-U"}], place=name)
    works.do(
        "ship", shipment=f"{name}-S", customer=name, contents=[{"item": f"{name}-C"}],
        reference=name,
    )  # fmt: skip
    works.do("open-case", case=f"{name}-K", subjects=[f"{name}-M"], reason=name)
    works.amend(made, note=f"{name} again")


@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # of the package
@pytest.mark.parametrize("name", ODD)
def test_odd_names_are_hashed_alike_and_come_back(name: str, tmp_path: Path) -> None:
    works = Works()
    history(works, name)
    path = tmp_path / "all.json"
    with works.store.reading() as view:
        export_epcis(view, Scope(), path, zone=UTC, now=1_800_000_000_000_000)
    text = path.read_text("utf-8")
    document: dict[str, Any] = json.loads(text)
    there = Works()
    import_epcis(there.store, path, Who("QUINN"), dry_run=False, clock=there.clock)

    assert check_document(document) == []
    named = [event["eventID"] for event in document["epcisBody"]["eventList"]]
    assert epcis_hashes_from_events(event_list_from_epcis_document_str(text)) == named
    codes = all_codes(works.store)
    assert all_codes(there.store) == codes
    assert answers(there.store, codes) == answers(works.store, codes)
