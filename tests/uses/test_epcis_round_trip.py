"""A store that is exported as EPCIS and imported into a fresh one answers the same."""

from __future__ import annotations

import json
from datetime import timedelta, timezone
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from lotkin.core.epcis.checking import check_document
from lotkin.uses.export_epcis import Scope, export_epcis
from lotkin.uses.import_epcis import Who, import_epcis
from tests.histories import History
from tests.laws import check_records
from tests.small_works import PLAN, Works
from tests.uses.same_answers import all_codes, answers

if TYPE_CHECKING:
    from lotkin.store.store import Store
    from lotkin.uses.import_epcis import EpcisImport

BERLIN = timezone(timedelta(hours=2))


def exported(store: Store, path: Path, scope: Scope | None = None) -> Path:
    with store.reading() as view:
        export_epcis(view, scope or Scope(), path, zone=BERLIN, now=1_800_000_000_000_000)
    assert check_document(json.loads(path.read_text("utf-8"))) == []
    return path


def taken_over(path: Path, into: Works, **more: str) -> EpcisImport:
    return import_epcis(into.store, path, Who("QUINN", **more), dry_run=False, clock=into.clock)


@settings(max_examples=40)
@given(st.data())
def test_any_history_comes_back_with_all_its_answers(data: st.DataObject) -> None:
    history = History.drawn(data.draw)
    codes = all_codes(history.works.store)

    there = Works(plan=PLAN if history.planned else "")
    with TemporaryDirectory() as folder:
        path = exported(history.works.store, Path(folder) / "all.json")
        first = taken_over(path, there)
        again = taken_over(path, there)

    assert all_codes(there.store) == codes
    some = codes[::3]
    assert answers(there.store, some) == answers(history.works.store, some)
    assert (again.adopted, again.repeated) == (0, first.adopted)
    check_records(there)
