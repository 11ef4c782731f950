"""Documents in which anything may stand anywhere."""

from __future__ import annotations

import json
from copy import deepcopy
from typing import TYPE_CHECKING, Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lotkin.core.errors import BadDocument
from lotkin.uses.exchange.epcis.import_epcis import import_epcis
from lotkin.uses.exchange.epcis.understanding import Who
from tests.laws import check_records
from tests.small_works import Works
from tests.uses.exchange.epcis.epcis_partner import ROD, WHERE, Event, Partner, document, quantity

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


def busy(mill: Partner) -> list[Event]:
    """Give events of all types."""
    mill.add("Object", action="ADD", quantityList=[quantity(ROD, 30, "MTR")], readPoint=WHERE)
    mill.add(
        "Transformation",
        inputQuantityList=[quantity(ROD, 3, "MTR")],
        outputQuantityList=[quantity("urn:x:a", 20)],
        outputEPCList=["urn:x:unit"],
        transformationID="urn:x:run",
        sensorElementList=[{"sensorReport": [{"type": "Length", "value": 3, "uom": "MMT"}]}],
    )
    mill.add("Aggregation", action="ADD", parentID="urn:x:box", childEPCs=["urn:x:unit"])
    mill.add(
        "Association",
        action="ADD",
        parentID="urn:x:tool",
        childQuantityList=[quantity("urn:x:a", 1)],
        persistentDisposition={"set": ["damaged"]},
    )
    mill.add(
        "Transaction",
        action="ADD",
        epcList=["urn:x:unit"],
        bizTransactionList=[{"type": "po", "bizTransaction": "urn:x:po"}],
        errorDeclaration={
            "declarationTime": "2026-02-20T00:00:00Z",
            "correctiveEventIDs": ["urn:x"],
        },
    )
    return mill.events


def places_in(value: object, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Yield the path of every value in a document."""
    yield path
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from places_in(inner, (*path, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from places_in(inner, (*path, number))


ODD = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=20)
    | st.sampled_from(["urn:x:y", "ADD", "DELETE", "OBSERVE", "KGM", "lotkin:event", ROD, "ex:a"]),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["type", "id", "epcClass", "quantity", "uom", "ex:a", "action"]),
            inner,
            max_size=3,
        )
    ),
    max_leaves=5,
)


@settings(
    max_examples=300,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(st.data())
def test_no_document_upsets_the_import(tmp_path: Path, data: st.DataObject) -> None:
    works = Works()
    mill = Partner(tmp_path / "fuzz.json")
    whole = deepcopy(document(busy(mill)))
    for _ in range(data.draw(st.integers(1, 3))):
        path = data.draw(st.sampled_from(list(places_in(whole))[1:]))
        at: Any = whole
        for step in path[:-1]:
            at = at[step]
        at[path[-1]] = data.draw(ODD)
    mill.path.write_text(json.dumps(whole))

    try:
        import_epcis(works.store, mill.path, Who("QUINN"), dry_run=False, clock=works.clock)
    except BadDocument:
        assert works.head() == 0
    else:
        check_records(works)
