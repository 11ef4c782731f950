"""An outside service is asked of a supplier that offers it; loads are found by their numbers."""

from __future__ import annotations

import pytest

from lotkin.core.errors import AmbiguousCode, RuleBroken, UnknownCode
from lotkin.core.plan import parse_plan
from lotkin.core.rules.outside_services import service_of_step
from lotkin.uses.asking.contain import contain
from lotkin.uses.asking.show import show
from lotkin.uses.complaints.complaint import complaint
from lotkin.uses.evidence.rebuild import rebuild
from lotkin.uses.lookup.find import find
from lotkin.uses.reporting.print_data import print_data
from lotkin.uses.reporting.report_data import unit_data
from tests.small_works import PLAN, Works

OFFERS = PLAN.replace(
    '{code = "ANODISER", name = "Anodiser"}',
    '{code = "ANODISER", name = "Anodiser", services = ["anodising", "strip and anodise"]}, '
    '{code = "OVEN", name = "Oven", services = ["case hardening"]}, '
    '{code = "SECOND", name = "Second anodiser", services = ["Anodising"]}',
).replace(
    '{code = "TIP", name = "Tip", revision = "A", kind = "machined-lot", unit = "pcs"}',
    '{code = "TIP", name = "Tip", revision = "A", kind = "machined-lot", unit = "pcs", step = ['
    '{code = "10", name = "Turn", run = "machining-run", at = "FLOOR", inputs = ["BAR"]}, '
    '{code = "20", name = "Anodise", run = "outside-batch", at = "ANODISER"}]}',
)


def works_with_tips() -> Works:
    """Give a works with a lot of tips, and suppliers that offer different things."""
    works = Works(plan=OFFERS)
    works.receive("TIPS", 50, part="TIP", item_kind="machined-lot")
    return works


def broken(works: Works) -> list[str]:
    """Name the rules that the last event broke."""
    with works.store.reading() as view:
        return [breach.rule for breach in view.entry(works.log[-1].seq).breaches]


@pytest.mark.parametrize(
    ("supplier", "said"),
    [
        ("ANODISER", {"service": "anodising"}),
        ("ANODISER", {"service": " Strip  and ANODISE"}),
        ("ANODISER", {"step": "20"}),
        ("SECOND", {"step": "20"}),
        ("SECOND", {"service": "anodising", "step": "20"}),
        ("ANODISER", {}),
        ("MILL", {"service": "whatever, as the plan does not say what it does"}),
    ],
)
def test_a_lot_goes_to_a_supplier_that_offers_the_service(
    supplier: str, said: dict[str, object]
) -> None:
    works = works_with_tips()
    works.send("OUT", {"TIPS": 50}, supplier=supplier, **said)
    assert broken(works) == []


@pytest.mark.parametrize(
    ("supplier", "said", "match"),
    [
        ("OVEN", {"service": "anodising"}, "OVEN does not offer anodising; .* case hardening"),
        ("ANODISER", {"service": "case hardening"}, "ANODISER does not offer case hardening"),
        ("OVEN", {"step": "20"}, "OVEN does not offer step 20 of TIP, which ANODISER does"),
        ("MILL", {"step": "20"}, "MILL does not offer step 20 .* it offers nothing outside"),
    ],
)
def test_a_service_that_a_supplier_does_not_offer_is_refused_and_when_reported_told(
    supplier: str, said: dict[str, object], match: str
) -> None:
    works = works_with_tips()
    with pytest.raises(RuleBroken, match=match):
        works.send("OUT", {"TIPS": 50}, supplier=supplier, **said)
    works.send("OUT", {"TIPS": 50}, supplier=supplier, reported=True, **said)
    assert broken(works) == ["service-not-offered"]


def test_a_station_asks_for_the_service_in_the_words_of_the_plan() -> None:
    plan, problems = parse_plan(OFFERS, "plan.toml")
    assert plan is not None, problems
    assert service_of_step(plan, "OVEN", "Harden") == "case hardening"
    assert service_of_step(plan, "ANODISER", "Strip and anodise") == "strip and anodise"
    assert service_of_step(plan, "ANODISER", "Anodise") == ""
    assert service_of_step(plan, "MILL", "Grind") == "Grind"


def test_the_dispatch_note_asks_for_the_service_that_was_recorded() -> None:
    works = works_with_tips()
    works.send("OUT", {"TIPS": 50}, service="strip and anodise")
    _, (found,) = print_data(works.store, ["OUT"], works.clock)
    assert found.services == ("strip and anodise",)


def came_back(number: str) -> Works:
    """Give a works in which a load came back under the supplier's number."""
    works = works_with_tips()
    works.receive("SCREWS", 100)
    works.send("OUT", {"TIPS": 50}, step="20")
    works.take_back("OUT", {"RED": (50, "TIPS")}, supplier_batch=number)
    return works


@pytest.mark.parametrize("quoted", ["A-77 / 26", "a-77/26", "A-77/26"])
def test_the_number_that_the_anodiser_quotes_leads_to_the_load(quoted: str) -> None:
    works = came_back("A-77 / 26")
    assert find(works.store, quoted).item.code == "OUT"
    assert show(works.store, quoted).item.supplier_lot == "A-77 / 26"
    (subject,) = contain(works.store, [quoted]).answer.subjects
    assert subject.code == "OUT"
    assert works.used(quoted).keys() == {"RED"}
    assert rebuild(works.store, check_only=True).difference == ""


def test_a_load_of_two_numbers_is_found_by_either() -> None:
    works = works_with_tips()
    works.send("OUT", {"TIPS": 50})
    works.take_back("OUT", {"RED-1": (20, "TIPS")}, supplier_batch="A-77")
    works.take_back("OUT", {"RED-2": (30, "TIPS")}, supplier_batch="A-78")
    assert [find(works.store, number).item.code for number in ("A-77", "A-78")] == ["OUT", "OUT"]
    assert show(works.store, "OUT").item.supplier_lot == "A-77, A-78"
    assert rebuild(works.store, check_only=True).difference == ""


def test_a_number_under_which_two_loads_were_run_is_never_guessed() -> None:
    works = works_with_tips()
    works.send("OUT-1", {"TIPS": 20})
    works.send("OUT-2", {"TIPS": 30})
    works.take_back("OUT-1", {"RED-1": (20, "TIPS")}, supplier_batch="A-77")
    works.take_back("OUT-2", {"RED-2": (30, "TIPS")}, supplier_batch="A-77")
    with pytest.raises(AmbiguousCode, match="OUT-1"):
        find(works.store, "A-77")


def test_a_number_that_was_misread_leads_nowhere_after_its_correction() -> None:
    works = came_back("A-77")
    works.amend(works.log[-1], supplier_batch="A-11")
    assert find(works.store, "A-11").item.code == "OUT"
    with pytest.raises(UnknownCode):
        find(works.store, "A-77")
    assert show(works.store, "OUT").item.supplier_lot == "A-11"
    works.void(works.log[-2])
    assert show(works.store, "OUT").item.supplier_lot == ""
    assert rebuild(works.store, check_only=True).difference == ""


def test_the_record_of_a_unit_says_under_which_number_its_parts_were_treated() -> None:
    works = came_back("A-77")
    works.mount(
        {
            "P1": {"item": "RED", "origin": "SHELF"},
            "P2": {"item": "SCREWS", "origin": "SHELF"},
        }
    )
    works.build("P-1")
    assert complaint(works.store, "P-1").load_numbers == {"OUT": "A-77"}
    origins = unit_data(works.store, "P-1").origins["RED"]
    assert ("OUT", "A-77") in {(one.item.code, one.item.supplier_lot) for one in origins}
