"""Travellers: every step scans, every caution is there, and it can be filled in by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from lotkin.core.errors import UnknownCode
from lotkin.core.plan import ShopPlan, parse_plan
from lotkin.core.values.quantities import to_micro
from lotkin_demo import plan_text
from lotkin_labels import (
    Traveller,
    TravellerMeasure,
    TravellerRow,
    make_traveller,
    print_traveller,
)
from lotkin_labels.errors import CodeTooLong, NothingToPrint
from lotkin_labels.paper.marks import Area, Page, Symbol
from lotkin_labels.shop_floor.traveller_pages import SITE_RULES, traveller_pages
from tests.labels.rendering import codes_on, page_count, page_sizes_mm, rasterise, text_of
from tests.labels.sample_labels import HOSTILE_TEXTS, LONG_CODE


def demo_plan() -> ShopPlan:
    plan, problems = parse_plan(plan_text(), "works.toml")
    assert plan is not None, problems
    return plan


PLAN = demo_plan()
ROUTED = [part.code for part in PLAN.parts if part.steps]


def row(code: str = "10", **said: object) -> TravellerRow:
    """Give a step of traveller T-1; what is not said is left out."""
    fields: dict[str, object] = {"code": code, "name": "Turn", "payload": f"T-1/{code}", **said}
    return TravellerRow(**fields)  # type: ignore[arg-type]  # a test may say anything


def traveller(*rows: TravellerRow, **said: object) -> Traveller:
    return Traveller(code="T-1", part="TIP", rows=rows, **said)  # type: ignore[arg-type]  # as above


def check(page: Page) -> None:
    """Check quiet zones, modules and the edge of the page."""
    edge = Area(0, 0, page.width_mm, page.height_mm)
    for mark in page.marks:
        assert edge.holds(mark.area), mark
        if isinstance(mark, Symbol):
            assert mark.module_mm >= 0.4
            assert edge.holds(mark.quiet_area)
            others = [other for other in page.marks if other is not mark]
            assert not any(mark.quiet_area.overlaps(other.area) for other in others)


def test_the_demo_works_has_parts_of_one_step_and_of_several() -> None:
    assert {len(part.steps) for part in PLAN.parts if part.steps} >= {1, 2, 3, 5}


@pytest.mark.parametrize("dots_per_inch", [203, 300])
@pytest.mark.parametrize("part", ROUTED)
def test_every_step_of_every_route_is_read_back(part: str, dots_per_inch: int) -> None:
    found = PLAN.part(part)
    assert found is not None
    document = print_traveller(make_traveller("T-0042", part, PLAN, quantity=to_micro(120)))

    read = {code for page in rasterise(document, dots_per_inch) for code in codes_on(page)}

    assert read == {"T-0042"} | {f"T-0042/{step.code}" for step in found.steps}


@pytest.mark.parametrize("part", ROUTED)
def test_a_traveller_says_what_the_plan_says(part: str) -> None:
    found = PLAN.part(part)
    assert found is not None
    text = " ".join(text_of(print_traveller(make_traveller("T-7", part, PLAN))))

    cautions = [*found.cautions, *(caution for step in found.steps for caution in step.cautions)]
    inputs = [code for step in found.steps for code in step.inputs]
    for words in (found.code, found.name, found.revision, found.material or "", *inputs, *cautions):
        assert words in text
    for step in found.steps:
        assert f"{step.code} {step.name}" in text
        assert all(kind in text for kind in step.resources)


@pytest.mark.parametrize("part", ROUTED)
def test_travellers_keep_quiet_zones_and_the_edge(part: str) -> None:
    for page in traveller_pages(make_traveller("T-0042", part, PLAN)):
        check(page)


def test_limits_times_and_temperatures_of_the_plan_are_printed() -> None:
    (head,) = text_of(print_traveller(make_traveller("T-7", "HEAD", PLAN)))
    dry = text_of(print_traveller(make_traveller("T-7", "COVER", PLAN)))[-1]

    assert "Measure Bore: 9.98 to 10.02 mm" in head
    assert "Caution: One lot, one tray: do not tip trays together" in head
    assert "Time 60 to 120 minutes" in dry
    assert "Temperature 55 to 65 °C" in dry


def test_there_is_room_to_write_for_when_the_system_is_down() -> None:
    (text,) = text_of(print_traveller(make_traveller("T-7", "TIP", PLAN)))

    for word in ("lot or serial", "good", "scrap", "by", "started", "finished", "tool", "program"):
        assert word in text


def test_a_traveller_without_quantity_leaves_room_for_it() -> None:
    blank = make_traveller("T-7", "TIP", PLAN)
    given = make_traveller("T-7", "TIP", PLAN, quantity=to_micro(Decimal(120)))

    assert blank.quantity == ""
    assert "quantity" in text_of(print_traveller(blank))[0]
    assert "120 pcs" in text_of(print_traveller(given))[0]


def test_an_outside_step_asks_what_went_and_what_came_back() -> None:
    text = text_of(print_traveller(traveller(row(is_outside=True))))[0]

    assert "sent on" in text
    assert "back on" in text


def test_what_may_go_in_names_part_revision_material_and_certificate() -> None:
    (first,) = make_traveller("T-7", "TIP", PLAN).rows

    assert first.takes == ("BAR-CW614N-8 Brass bar 8 mm rev. 1, CW614N, certificate 3.1",)


def test_twenty_five_steps_flow_over_numbered_pages_with_the_head_on_each() -> None:
    rows = [row(str(10 * number), records=("machine",)) for number in range(1, 26)]
    document = print_traveller(traveller(*rows, name="Nozzle tip"))
    pages = text_of(document)

    assert len(pages) > 3
    for number, text in enumerate(pages, start=1):
        assert text.endswith(f"{number} of {len(pages)}")
        assert text.startswith("Traveller T-1 Nozzle tip")
        assert SITE_RULES in text
    read = [code for page in rasterise(document, 203) for code in codes_on(page)]
    assert sorted(set(read)) == sorted({"T-1", *(f"T-1/{10 * n}" for n in range(1, 26))})
    assert read.count("T-1") == len(pages)


def test_a_step_is_not_torn_apart_where_it_fits_on_a_page() -> None:
    rows = [
        row(str(10 * number), measures=(TravellerMeasure(name="Bore"),) * 3)
        for number in range(1, 9)
    ]

    for text in text_of(print_traveller(traveller(*rows))):
        assert text.count("lot or serial") == text.count(" Turn")


def test_a_caution_longer_than_a_page_flows_on_and_none_of_it_is_lost() -> None:
    words = [f"word{number}" for number in range(1500)]
    document = print_traveller(traveller(row(cautions=(" ".join(words),))))

    assert page_count(document) > 1
    assert set(words) <= set(" ".join(text_of(document)).split())


@pytest.mark.parametrize("text", HOSTILE_TEXTS, ids=range(len(HOSTILE_TEXTS)))
def test_hostile_texts_print_and_stay_in_their_place(text: str) -> None:
    measure = TravellerMeasure(name=text, limits=text, is_required=False)
    step = row(
        name=text,
        place=text,
        takes=(text,),
        records=(text,),
        measures=(measure,),
        minutes=text,
        celsius=text,
        cautions=(text,),
    )
    whole = traveller(
        step,
        works=text,
        name=text,
        revision=text,
        quantity=text,
        materials=(text,),
        cautions=(text,),
        tests=(measure,),
        issued_on=text,
    )

    for page in traveller_pages(whole):
        check(page)
    pages = rasterise(print_traveller(whole), 203)
    assert {code for page in pages for code in codes_on(page)} == {"T-1", "T-1/10"}


def test_the_longest_code_of_a_traveller_is_printed_whole() -> None:
    step = row(payload=f"{LONG_CODE}/10")
    document = print_traveller(Traveller(code=LONG_CODE, part="TIP", rows=(step,)))

    assert LONG_CODE in text_of(document)[0].replace(" ", "")
    assert codes_on(rasterise(document, 203)[0]) == [LONG_CODE, f"{LONG_CODE}/10"]


def test_a_code_in_small_letters_is_printed_all_the_same() -> None:
    document = print_traveller(
        Traveller(code="order_7", part="TIP", rows=(row(payload="order_7/10"),))
    )

    assert codes_on(rasterise(document, 203)[0]) == ["order_7", "order_7/10"]


def test_tests_of_the_finished_piece_have_room_for_results() -> None:
    tests = (TravellerMeasure(name="Flow, 3 readings", limits="38 to 42 ml/min"),)

    text = text_of(print_traveller(traveller(row(), tests=tests)))[0]

    assert "Tests of the finished piece" in text
    assert "Flow, 3 readings, 38 to 42 ml/min" in text


def test_a_part_of_many_needs_names_them_as_material() -> None:
    pump = PLAN.part("DP40")
    assert pump is not None
    built = make_traveller("T-9", "DP40", PLAN)

    assert "TIP Nozzle tip rev. B, CW614N, 2 per piece" in built.materials
    assert built.tests == (TravellerMeasure(name="Flow, 3 readings", limits="38 to 42 ml/min"),)


def test_a_part_without_a_route_has_no_traveller() -> None:
    with pytest.raises(NothingToPrint, match="MOTOR has no steps") as caught:
        print_traveller(make_traveller("T-7", "MOTOR", PLAN))

    assert "[[part.step]]" in caught.value.hint


def test_an_unknown_part_offers_the_nearest() -> None:
    with pytest.raises(UnknownCode, match="COVR") as caught:
        make_traveller("T-7", "COVR", PLAN)

    assert "COVER" in caught.value.hint


def test_a_payload_that_would_be_too_fine_is_refused() -> None:
    with pytest.raises(CodeTooLong, match=r"0\.4 mm"):
        print_traveller(traveller(row(payload="X" * 200)))


def test_the_paper_is_a4() -> None:
    # ISO 216.
    assert page_sizes_mm(print_traveller(traveller(row()))) == [(210.0, 297.0)]


def test_the_foot_says_that_site_rules_prevail() -> None:
    assert "Site rules and local codes prevail" in SITE_RULES


def test_what_the_plan_does_not_know_is_printed_by_its_code() -> None:
    lever = PLAN.part("LEVER")
    assert lever is not None
    alone = PLAN.model_copy(update={"parts": (lever,), "suppliers": (), "shop_places": ()})
    made = make_traveller("T-7", "LEVER", alone)

    assert made.materials == made.rows[0].takes == ("LEVER-BLANK",)
    assert made.rows[0].place == "machining run at PRESS"
