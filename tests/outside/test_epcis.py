"""EPCIS 2.0 and CBV 2.0 against the published words, verdicts, hashes and identifiers.

Sources: the JSON files beside this one, see README.md here: the vocabulary and JSON schema that GS1
publishes (ISO/IEC 19987, 19988), the examples of the authors of the event hash (R. Tröger and
S. Schmittner, MIT), and their package `epcis-event-hash-generator` as a second implementation.
"""

from __future__ import annotations

import copy
import json
from datetime import timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from epcis_event_hash_generator.hash_generator import epcis_hashes_from_events
from epcis_event_hash_generator.json_to_py import event_list_from_epcis_document_str

from lotkin.core.epcis.checks import vocabulary
from lotkin.core.epcis.checks.document_checks import check_document
from lotkin.core.epcis.checks.event_hash import event_hash, pre_hash
from lotkin.core.epcis.checks.names import known_prefixes
from lotkin.core.epcis.identifiers import normal_form, parts_of
from lotkin.core.epcis.steps import DECIDED, DECLARED, STEPS
from lotkin.core.events import EVENTS
from lotkin.uses.evidence.seal import seal
from lotkin.uses.exchange.epcis.export_epcis import Scope, export_epcis
from lotkin.uses.exchange.epcis.import_epcis import import_epcis
from lotkin.uses.exchange.epcis.understanding import Who
from lotkin.wiring.sealing import KeyFile, make_seal_key
from tests.demo_stores import demo_store
from tests.small_works import PLAN, Works

Document = dict[str, Any]

HERE = Path(__file__).parent
WORDS = json.loads((HERE / "epcis2_vocabulary.json").read_text("utf-8"))
VERDICTS = json.loads((HERE / "epcis2_mutants.json").read_text("utf-8"))["cases"]
HASHES = json.loads((HERE / "epcis2_event_hash.json").read_text("utf-8"))
PAIRS = json.loads((HERE / "epc_urn_to_digital_link.json").read_text("utf-8"))["pairs"]
HASHED = [*HASHES["published"], *HASHES["own"]]
BERLIN = timezone(timedelta(hours=2))


def by_name(case: dict[str, Any]) -> str:
    return str(case["name"])


def events_of(document: Document) -> list[Document]:
    return list(document["epcisBody"]["eventList"])


def by_the_package(document: Document) -> list[str]:
    return list(epcis_hashes_from_events(event_list_from_epcis_document_str(json.dumps(document))))


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Document:
    """Give the whole demo works as a document."""
    store, _ = demo_store()
    path = tmp_path_factory.mktemp("epcis") / "all.json"
    with store.reading() as view:
        export_epcis(view, Scope(), path, zone=BERLIN, now=1_800_000_000_000_000)
    document: Document = json.loads(path.read_text("utf-8"))
    return document


@pytest.mark.parametrize(
    ("ours", "published"),
    [
        (vocabulary.BIZ_STEPS, "bizStep"),
        (vocabulary.DISPOSITIONS, "disposition"),
        (vocabulary.TRANSACTION_TYPES, "bizTransactionType"),
        (vocabulary.PARTY_TYPES, "sourceDestType"),
        (vocabulary.ERROR_REASONS, "errorReason"),
    ],
)
def test_the_words_and_their_addresses_are_those_of_the_standard(
    ours: frozenset[str], published: str
) -> None:
    addresses = {each["term"]: each["iri"] for each in WORDS[published]}
    kinds = {
        "bizTransactionType": "bizTransaction",
        "sourceDestType": "party",
        "errorReason": "reason",
    }
    kind = kinds.get(published, published)

    assert {word: vocabulary.in_full(kind, word) for word in ours} == addresses


def test_actions_and_measurements_are_those_of_the_standard() -> None:
    assert sorted(WORDS["action"]) == sorted(vocabulary.ACTIONS)
    assert sorted(WORDS["measurementType"]) == sorted(vocabulary.MEASUREMENTS)
    assert WORDS["context_url"] == vocabulary.CONTEXT


@pytest.mark.parametrize("case", VERDICTS, ids=by_name)
def test_documents_get_the_verdict_of_the_standard(case: dict[str, Any]) -> None:
    faults = check_document(case["document"])

    assert (not faults) is case["standard_valid"], faults


@pytest.mark.parametrize(
    ("change", "path"),
    [
        # README of the source: the published schema takes these, the text of the standard does not
        ({"outputQuantityList": [{"epcClass": "urn:x:y", "quantity": -1}]}, "quantity"),
        ({"inputQuantityList": []}, "eventList[0]"),
        ({"type": "AggregationEvent", "action": "ADD", "childEPCs": ["urn:x:y"]}, "parentID"),
        ({"eventTime": "2024-02-30T10:00:00Z"}, "eventTime"),
    ],
)
def test_what_the_schema_lets_pass_and_the_standard_does_not_is_refused(
    change: Document, path: str
) -> None:
    document = copy.deepcopy(VERDICTS[0]["document"])
    event = document["epcisBody"]["eventList"][0]
    if change.get("type") == "AggregationEvent":
        for field in ("inputQuantityList", "outputQuantityList"):
            del event[field]
    event.update(change)

    assert any(path in fault.path for fault in check_document(document))


def test_another_version_of_the_standard_is_refused() -> None:
    document = {**VERDICTS[0]["document"], "schemaVersion": "1.2"}

    assert [fault.path for fault in check_document(document)] == ["schemaVersion"]


@pytest.mark.parametrize("case", HASHED, ids=by_name)
def test_published_hashes_come_out(case: dict[str, Any]) -> None:
    document = case["document"]
    names = known_prefixes(document["@context"])

    assert [event_hash(event, names) for event in events_of(document)] == case["hash"]
    told = [pre_hash(event, names) for event in events_of(document)]
    assert told[: len(case["prehash"])] == case["prehash"][: len(told)]


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: str(pair["epc"]))
def test_urns_and_digital_links_are_two_forms_of_one_identifier(pair: dict[str, Any]) -> None:
    link = pair["digital_link"]

    assert normal_form(pair["epc"]) == link
    assert normal_form(link) == link
    assert normal_form(link.replace("id.gs1.org", "shop.example/some/where") + "?a=b") == link
    said = "".join(f"({ai})" for ai in parts_of(link))
    assert said in "".join(f"({ai.split(')')[0]})" for ai in pair["bracketed"].split("(")[1:])


def same(event: Document, **change: object) -> tuple[str, str]:
    """Hash an event before and after a change."""
    names = known_prefixes([vocabulary.CONTEXT, {"ex": "https://example.com/ns/"}])
    return event_hash(event, names), event_hash({**event, **change}, names)


def test_what_says_the_same_has_one_hash_and_what_does_not_has_another() -> None:
    # as found in the source: which ways of writing are one, and which are not
    event = events_of(HASHES["own"][0]["document"])[0]
    step = "https://ref.gs1.org/cbv/BizStep-commissioning"
    link = "https://id.gs1.org/01/09521141123454/10/HEAT-H1"
    linked = [{"uom": "KGM", "quantity": 12.50, "epcClass": link}]
    equal: list[Document] = [
        dict(reversed(event.items())),
        {"bizStep": step},
        {"inputQuantityList": linked},
        {"eventTime": "2024-05-01T08:00:00Z"},
        {"eventID": "urn:uuid:00000000-0000-0000-0000-000000000000"},
        {"errorDeclaration": {"declarationTime": "2024-06-01T00:00:00Z"}},
        {"recordTime": "2024-06-01T00:00:00Z"},
    ]
    other: list[Document] = [
        {"eventTimeZoneOffset": "+01:00"},
        {"inputQuantityList": [{**linked[0], "quantity": 12.6}]},
        {"ex:more": "1"},
        {"disposition": "inactive"},
    ]

    for change in equal:
        before, after = same(event, **change)
        assert before == after, change
    for change in other:
        before, after = same(event, **change)
        assert before != after, change


def test_all_that_the_demo_works_exports_is_valid(demo: Document) -> None:
    assert check_document(demo) == []


@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # of the package
def test_every_exported_event_has_the_hash_that_the_package_gives_it(demo: Document) -> None:
    events = events_of(demo)
    for start in range(0, len(events), 200):  # it takes time with the square of a document
        some = events[start : start + 200]
        part = {**demo, "epcisBody": {"eventList": some}}
        assert by_the_package(part) == [event["eventID"] for event in some]


def test_every_kind_of_event_is_told(demo: Document) -> None:
    told = {event["lotkin:kind"] for event in events_of(demo)}

    assert set(STEPS) | DECLARED == set(EVENTS)
    assert told == set(STEPS) - {
        "import",
        "adopt",
        "drill",
        "seal",
    }  # the demo works does none of these
    for step in STEPS.values():
        assert step.biz_step in vocabulary.BIZ_STEPS
        assert step.disposition in {"", *vocabulary.DISPOSITIONS}
        assert step.action in vocabulary.ACTIONS
    for biz_step, disposition in DECIDED.values():
        assert biz_step in vocabulary.BIZ_STEPS
        assert disposition in vocabulary.DISPOSITIONS


def test_all_five_types_of_events_occur(demo: Document) -> None:
    assert {event["type"] for event in events_of(demo)} == set(WORDS["events"])


def test_corrected_events_stand_beside_what_corrects_them(demo: Document) -> None:
    events = {event["eventID"]: event for event in events_of(demo)}
    wrong = [event for event in events.values() if "errorDeclaration" in event]

    assert len(wrong) >= 3
    for event in wrong:
        declared = event["errorDeclaration"]
        if declared["reason"] == "did_not_occur":
            assert "correctiveEventIDs" not in declared
            continue
        for right in declared["correctiveEventIDs"]:
            assert events[right]["lotkin:event"] == event["lotkin:event"]


def test_counts_carry_no_unit_and_all_others_one_of_recommendation_20(demo: Document) -> None:
    # UN/CEFACT Recommendation 20: KGM kilogram, MTR metre
    uoms = set()
    for event in events_of(demo):
        for field, value in event.items():
            if field.endswith("uantityList"):
                uoms |= {element.get("uom") for element in value}

    assert uoms == {None, "KGM", "MTR"}


@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # of the package
def test_a_seal_is_told_of_the_journal_that_it_is_on(tmp_path: Path) -> None:
    works = Works(plan=PLAN)
    make_seal_key(tmp_path / "key")
    seal(works.store, KeyFile(tmp_path / "key"), "ANN", works.clock)
    path = tmp_path / "all.json"
    with works.store.reading() as view:
        export_epcis(view, Scope(), path, zone=BERLIN, now=1_800_000_000_000_000)
        sealed = view.entry(1).hash
    document: Document = json.loads(path.read_text("utf-8"))
    plan, sealing = events_of(document)
    there = Works()
    import_epcis(there.store, path, Who("QUINN"), dry_run=False, clock=there.clock)

    assert check_document(document) == []
    assert by_the_package(document) == [plan["eventID"], sealing["eventID"]]
    assert sealing["epcList"] == [f"urn:lotkin:journal:1-{sealed}"]
    assert there.head() == 0  # neither is about anything that could be traced
